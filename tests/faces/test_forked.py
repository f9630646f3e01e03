"""A command forked for the tests answers as the installed script does, and ends as it does."""

from pathlib import Path

import pytest

from tests.faces.installed import Bench, bench

DAY = "2026-11-25"


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Bench:
    """Give one invented car with a coolant nobody knows of."""
    run = bench(tmp_path_factory.mktemp("forked"))
    assert run(DAY, "add", "tollgate", "--year", "1970").code == 0
    assert run(DAY, "fit", "tollgate", "coolant", "--on", "-").code == 0
    return run


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (("due", "tollgate"), 0),
        (("due", "tollgate", "--check"), 1),
        (("due", "nobody"), 2),
        (("export", "/dev/full/out.zip"), 3),
    ],
    ids=str,
)
def test_it_answers_and_ends_as_the_script_does(
    built: Bench, words: tuple[str, ...], code: int
) -> None:
    forked = built(DAY, *words)

    assert forked.code == code
    assert forked == built.script(DAY, *words)


def test_it_runs_where_it_is_called_and_reads_what_is_typed(
    built: Bench, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)

    written = built(DAY, "sheet", "tollgate", "--out", "here.txt")
    read = built(DAY, "intake", "tollgate", "--from", "-", given="engine oil - unknown\n")

    assert (written.code, read.code) == (0, 0)
    assert (tmp_path / "here.txt").is_file()

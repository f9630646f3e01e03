"""Bad input at the bench, through the installed command: one clear sentence, and nothing is lost.

A place the car does not have, parts that exclude each other, a stay that ends before it began, a
finding mended twice, a figure with the wrong unit, room measured for a set that is no longer on, an
event before the car was made. The car is invented.
"""

from collections.abc import Sequence

import pytest

from tests.faces.installed import Bench, bench

CAR = "tansley"
W = "2026-11-25"
NARROW, WIDE = (("tire", "LF", f"size={size}R14") for size in ("165/80", "185/70"))


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Bench:
    """Build one invented car of 1976, in work, a seam mended, a tire changed in November."""
    run = bench(tmp_path_factory.mktemp("bad"))
    for words in (
        ("add", CAR, "--description", "Harrowell Tansley 1976", "--year", "1976"),
        ("reading", CAR, "61600", "--on", "2026-11-24"),
        ("fit", CAR, *NARROW, "--on", "2026-06-01", "--at", "59000"),
        ("fit", CAR, *WIDE, "--on", "2026-11-10", "--at", "61500"),
        ("fit", CAR, "brake", "shoe", "front", "--on", "2026-06-01", "--at", "59000"),
        ("found", CAR, "sill seam", "--where", "L", "--kind", "rust", "--mend"),
        ("mended", CAR, "sill seam", "--how", "weld"),
        ("stay", CAR, "--from", "2026-11-20"),
    ):
        answer = run(W, *words)
        assert answer.code == 0, answer.err
    return run


CASES: Sequence[tuple[Sequence[str], str]] = (
    (
        ("found", CAR, "crack", "--where", "LRO", "--mend"),
        (
            "place: the car has no LRO: its rear wheels are single;"
            " give LR or RR, or correct the vehicle: dual=yes"
        ),
    ),
    (
        ("stay", CAR, "--over", "--on", "2026-11-19", "--yes"),
        "on: 2026-11-19 is before it began, 2026-11-20; give a day from 2026-11-20 on",
    ),
    (
        ("figures", CAR, "valve", "clearance", "0.3", "Nm"),
        "unit: valve clearance cannot be in Nm; give it in in, mm or 1/32 in",
    ),
    (
        ("room", CAR, "LF", "--inner", "12", "--outer", "9", "--on", "2026-11-01"),
        (
            "place: another set stood at LF on 2026-11-01 than is on now;"
            " measure the set that is on now"
        ),
    ),
    (
        ("happened", CAR, "curb", "--on", "1974-12-31"),
        (
            "on: 1974-12-31 is before the car was made, 1976;"
            " give a later day, or correct the vehicle's year"
        ),
    ),
    (
        (
            *("fit", CAR, "bushing", "RF inner,RF outer", "material@RF inner=rubber"),
            "material@RF outer=polyurethane",
        ),
        "parts: rubber and polyurethane bushings exclude each other at RF; fit one of them",
    ),
)


@pytest.mark.parametrize(("words", "sentence"), CASES)
def test_it_is_one_sentence_and_nothing_is_kept(
    built: Bench, words: Sequence[str], sentence: str
) -> None:
    before = (built.garage / "vehicles" / f"{CAR}.json").read_bytes()

    answer = built(W, *words)

    assert (answer.code, answer.out, answer.err) == (2, "", f"castlenut: {sentence}\n")
    assert (built.garage / "vehicles" / f"{CAR}.json").read_bytes() == before


def test_a_finding_is_not_mended_twice_and_a_part_not_fitted_before_the_one_there(
    built: Bench,
) -> None:
    """Both sentences name the record that stands, by the end of its id."""
    before = (built.garage / "vehicles" / f"{CAR}.json").read_bytes()

    twice = built(W, "mended", CAR, "sill seam", "--how", "patch")
    early = built(W, "fit", CAR, "brake", "pad", "LF", "--on", "2026-05-01", "--at", "58000")
    both = built(W, "intake", CAR, "--from", "-", given="rotor front unknown\n")

    assert (twice.code, early.code, both.code) == (2, 2, 2)
    assert twice.err.startswith("castlenut: finding: sill seam (")
    assert ") is mended already; name another;" in twice.err
    assert early.err.startswith(
        "castlenut: on: 2026-05-01 is before the brake shoe LF there was fitted, 2026-06-01; give a"
    )
    assert both.err.startswith(
        "castlenut: line 1, kind: rotor LF and brake shoe LF exclude each other; answer the one"
    )
    assert (built.garage / "vehicles" / f"{CAR}.json").read_bytes() == before

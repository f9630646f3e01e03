"""The cautions, and the line below them."""

from castlenut.words import cautions
from tests.builders import book


def test_the_deferring_line_is_as_agreed() -> None:
    assert cautions.DEFERRING_LINE == (
        "The vehicle's own service manual, local codes and licensed practice come first; this"
        " program plans, it does not certify."
    )


def test_every_caution_that_a_rule_names_has_its_sentence() -> None:
    named = {key for rule in book().rules.values() for key in rule.cautions}

    assert named <= set(cautions.CAUTIONS)


def test_cautions_are_told_once_and_the_deadliest_first() -> None:
    told = cautions.sentences(("dust", "spring", "lift", "lift"))

    assert [sentence.split(",")[0].split(":")[0] for sentence in told] == [
        "Firm level ground",
        "A loaded spring or torsion bar can kill",
        "Old friction material may hold asbestos",
    ]

"""Rules in words and as answers."""

from castlenut.domain.ids import RuleId
from castlenut.domain.rules.rule import Rule
from castlenut.words import rules
from castlenut.words.cautions import DEFERRING_LINE
from castlenut.words.rule_answers import rule_answer
from tests.builders import book, only


def rule(name: str) -> Rule:
    return book().rules[RuleId(name)]


def test_how_often_is_said_in_a_few_words() -> None:
    assert rules.interval(rule("hub-repack")) == "24,000 mi or 24 months"
    assert rules.interval(rule("tire-rotate")) == "5,000 mi"
    assert rules.interval(rule("tire-age")) == "at 120 months of age"
    assert rules.interval(rule("ujoint-bolts")) == "once at 1,000 mi"


def test_a_rule_in_full_ends_with_its_cautions_and_the_deferring_line() -> None:
    lines = list(rules.lines(rule("hub-repack")))

    assert "applies to: wheel bearing, service repackable or unknown, from 1963" in lines
    assert "also after hub-off, at once" in lines
    assert "exposure: wet 0.5, dust 0.5, towing 0.7" in lines
    assert "no record: rank 1, renew" in lines
    assert lines[-1] == DEFERRING_LINE


def test_limits_say_whose_figure_counts() -> None:
    limits = [
        line
        for name in ("pad-measure", "rotor-measure", "steering-lash", "shoe-measure", "align")
        for line in rules.lines(rule(name))
        if line.startswith("limit: ")
    ]

    assert "limit: pad_thickness at least 0.125 in" in limits
    assert "limit: rotor_thickness at least the figure stamped on the part" in limits
    assert any("the published table's figure" in line for line in limits)
    assert any("1/3 of its figure when new" in line for line in limits)
    assert any("the car's own figure" in line for line in limits)


def test_a_season_and_an_age_are_told() -> None:
    seasonal = next(each for each in book().rules.values() if each.season)
    lines = list(rules.lines(seasonal))

    assert any(line.startswith("season: ") for line in lines)
    assert "age: renewal advised from 72 months, at most 120 months, from made" in list(
        rules.lines(rule("tire-age"))
    )


def test_a_practice_is_never_passed_off_as_a_source() -> None:
    practice = [each for each in book().rules.values() if each.basis.value == "P"]

    assert practice
    for each in practice:
        (source,) = [line for line in rules.lines(each) if line.startswith("source: ")]
        assert "common practice, no source" in source


def test_a_rule_answers_every_field() -> None:
    answer = rule_answer(rule("hub-repack"))

    assert answer["every"] == {"distance": 24000, "months": 24, "days": None}
    assert answer["where"] == {
        "service": {"any": ["repackable", "unknown"]},
        "year_from": 1963,
    }
    assert answer["also_after"] == [
        {"event": "hub-off", "at": 0, "where": {}},
        {"event": "reline", "at": 0, "where": {}},
    ]
    assert answer["exposure"] == {"wet": 0.5, "dust": 0.5, "towing": 0.7}
    assert answer["intake"] == {"rank": 1, "act": "renew"}
    assert answer["lead"] == {"percent": 10, "cap_days": 30, "cap_distance": 500}
    assert answer["tolerance"] == {"percent": 0, "cap_days": None, "cap_distance": None}


def test_every_shipped_rule_has_words_and_an_answer() -> None:
    for each in book().rules.values():
        assert all(line for line in rules.lines(each))
        assert rule_answer(each)["rule"] == each.id
        assert rules.line(each).startswith(f"{each.id}  ")


def test_a_rule_that_is_off_says_so() -> None:
    own = only('[[rule]]\nid = "u-bolts"\noff = true\n').rules

    assert [rules.mark(each) for each in own.values()] == ["off"]
    assert rules.mark(rule("hydraulics-seals")) == "off"
    assert rules.mark(rule("hub-repack")) == "shipped"

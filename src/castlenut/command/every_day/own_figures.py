"""This car alone: its own figures, and rules changed for it."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.command import (
    EVERY_DAY,
    Command,
    gives_json,
    takes_note,
    takes_vehicle,
)

if TYPE_CHECKING:
    from argparse import ArgumentParser
    from collections.abc import Sequence

    from castlenut.command.call import Call
    from castlenut.garage.garage import Garage

_HAS_DIGIT = re.compile(r"\d")
_WITH_UNIT = re.compile(r"([+-]?[\d./ -]*\d)\s*([^\d\s].*)")


def _figures_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument(
        "words",
        metavar="NAME VALUE UNIT",
        nargs="*",
        help='as lug nut torque 75 ft-lb, or toe 1/16 in; UNIT "-" for none; without them the list',
    )
    parser.add_argument("--where", metavar="PLACE", help="LF, front, ...; without it the whole car")
    parser.add_argument("--source", metavar="TEXT", help='where it stands: "its book, p. 112"')
    takes_note(parser)
    gives_json(parser)


def _figures(call: Call) -> int:
    from castlenut.command.every_day.conversions import save_and_tell_difference
    from castlenut.garage.changes.figures import draft_figure

    garage, slug = call.garage_and_car()
    words = call.texts("words")
    entered = _entered(words)
    if entered is None:
        return _list_figures(call, garage, slug, " ".join(words))
    name, value, unit = entered
    draft = draft_figure(
        garage,
        slug,
        name,
        value,
        unit,
        **call.given("where", "source", "note"),
    )
    save_and_tell_difference(call, garage, draft)
    return output.FINE


def _entered(words: Sequence[str]) -> tuple[str, str, str] | None:
    """Part what was typed into name, value and unit; None: nothing is entered, only asked for."""
    from castlenut.domain.errors import BadInput, Fault

    if len(words) < 2 or not any(_HAS_DIGIT.search(word) for word in words[1:]):
        return None
    if _HAS_DIGIT.search(words[-1]):
        found = _WITH_UNIT.fullmatch(words[-1])
        if found is None:
            raise BadInput(
                Fault("no unit is given", "UNIT", 'give it behind the figure, "-" for none')
            )
        return " ".join(words[:-1]), found[1], found[2]
    if len(words) == 2:
        raise BadInput(Fault("no name is given", "NAME", "write NAME VALUE UNIT"))
    return " ".join(words[:-2]), words[-2], words[-1]


def _list_figures(call: Call, garage: Garage, slug: str, wanted: str) -> int:
    from castlenut.domain.figures import figure_words
    from castlenut.words.escape import one_line
    from castlenut.words.own_figures import figure_answer, figure_line, in_order

    rules = tuple(garage.book.rules.values())
    plain = wanted.casefold().replace("_", " ")
    own = [
        each
        for each in in_order(garage.car(slug).car.figures)
        if plain in figure_words(each.name).casefold() or plain in each.name.replace("_", " ")
    ]
    if wanted and not own:
        from castlenut.domain.errors import BadInput, Fault

        raise BadInput(
            Fault(
                f'no figure of this car is named "{one_line(wanted)}", and no value is given',
                "NAME VALUE UNIT",
                "write lug nut torque 75 ft-lb to enter one, nothing to list them all",
            )
        )
    if call.as_json:
        output.write_json([figure_answer(each, slug, rules) for each in own])
    elif own:
        output.write(*(figure_line(each, rules) for each in own))
    else:
        output.write("no figure yet: limits that say spec are not known")
    return output.FINE


def _rule_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument("rule", metavar="RULE", help="a rule's id or title; a beginning is enough")
    parser.add_argument("--every", metavar="INTERVAL", help="12k/24m, 500mi, -/12m")
    parser.add_argument("--first", metavar="POINTS", help="500,1000 after fitting; - for none")
    parser.add_argument(
        "--limit",
        dest="limits",
        metavar="MEASURE=VALUE",
        action="append",
        help="pad_thickness=4mm; VALUE may be spec or stamped",
    )
    force = parser.add_mutually_exclusive_group()
    force.add_argument("--off", action="store_true", help="not for this car")
    force.add_argument("--in-force", action="store_true", help="for this car, though off elsewhere")
    force.add_argument(
        "--as-shipped", action="store_true", help="take back what was changed for this car"
    )
    parser.add_argument("--why", metavar="WORDS", help='"its book, p. 31"')
    gives_json(parser)


def _rule(call: Call) -> int:
    from castlenut.command.every_day.conversions import save_and_tell_difference
    from castlenut.domain.errors import BadInput, Fault
    from castlenut.garage.changes.own_rules import draft_as_shipped, draft_own_rule

    garage, slug = call.garage_and_car()
    rule = call.text("rule")
    changes = any(call.maybe(name) is not None for name in ("every", "first", "why"))
    off = True if call.flag("off") else False if call.flag("in_force") else None
    if call.flag("as_shipped"):
        if changes or call.texts("limits"):
            raise BadInput(
                Fault("takes every change back", "--as-shipped", "give it alone, then change anew")
            )
        save_and_tell_difference(call, garage, draft_as_shipped(garage, slug, rule))
        return output.FINE
    if not changes and not call.texts("limits") and off is None:
        return _show_rule(call, garage, slug, rule)
    draft = draft_own_rule(
        garage,
        slug,
        rule,
        **call.given("every", "first"),
        limits=call.texts("limits"),
        off=off,
        why=call.maybe("why"),
    )
    save_and_tell_difference(call, garage, draft)
    return output.FINE


def _show_rule(call: Call, garage: Garage, slug: str, text: str) -> int:
    from castlenut.domain.rules.precedence import for_car
    from castlenut.garage.changes.own_rules import find_rule
    from castlenut.words.rule_answers import rule_answer
    from castlenut.words.rules import lines, other_than

    general = find_rule(text, garage.book)
    changes = [each for each in garage.car(slug).car.rule_changes if each.rule == general.id]
    own = for_car(general, changes)
    if call.as_json:
        output.write_json(
            {
                "vehicle": slug,
                "rule": rule_answer(own),
                "without": None if own is general else rule_answer(general),
                "why": changes[-1].why if changes else None,
            }
        )
        return output.FINE
    output.write(*lines(own))
    if own is not general:
        output.write(*other_than(own, general))
    return output.FINE


COMMANDS = (
    Command(
        "figures",
        group=EVERY_DAY,
        words="the car's own figures: torques, gaps, pressures, the spec of its limits",
        example='castlenut figures millrace toe 1/16 in --source "its book, p. 112"',
        add_arguments=_figures_arguments,
        run=_figures,
    ),
    Command(
        "rule",
        group=EVERY_DAY,
        words="a rule as this car has it, or changed for this car alone",
        example='castlenut rule millrace hub-repack --every 12k/24m --why "its book, p. 31"',
        add_arguments=_rule_arguments,
        run=_rule,
    ),
)

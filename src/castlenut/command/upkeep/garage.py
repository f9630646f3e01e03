"""The garage itself: its rules, its settings, and the demo garage."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.command import UPKEEP, Command, gives_json

if TYPE_CHECKING:
    from argparse import ArgumentParser

    from castlenut.command.call import Call


def _rules_arguments(parser: ArgumentParser) -> None:
    parser.add_argument("rule", metavar="RULE", nargs="?", help="one rule in full")
    gives_json(parser)


def _rules(call: Call) -> int:
    from castlenut.domain.naming import choose, rule_words
    from castlenut.words.figures import count
    from castlenut.words.rule_answers import rule_answer
    from castlenut.words.rules import line, lines

    garage = call.garage()
    rules = list(garage.book.rules.values())
    named = call.maybe("rule")
    if named is not None:
        also, kinds = rule_words(rules)
        wanted = choose(
            named, [rule.id for rule in rules], what="rule", also=also, last=kinds, in_trade=True
        )
        rules = [rule for rule in rules if rule.id == wanted]
    if call.as_json:
        output.write_json([rule_answer(rule) for rule in rules])
    elif named is not None:
        output.write(*lines(rules[0]))
    else:
        output.write(*(line(rule) for rule in rules), count(len(rules), "rule"))
    return output.FINE


def _settings_arguments(parser: ArgumentParser) -> None:
    parser.add_argument(
        "fields", metavar="FIELD=VALUE", nargs="*", help="as hourly_rate=65 or hours=mon:7,tue:7"
    )
    gives_json(parser)


def _settings(call: Call) -> int:
    from castlenut.command.every_day.saving import save_and_tell
    from castlenut.command.upkeep.settings import settings_answer
    from castlenut.garage.changes.settings import draft_settings
    from castlenut.garage.entry import pairs

    garage = call.garage(by_rules=False)
    if fields := call.texts("fields"):
        save_and_tell(call, garage, draft_settings(garage, pairs(fields)))
        return output.FINE
    answer = settings_answer(garage.settings)
    if call.as_json:
        output.write_json(answer)
    else:
        output.write(*(f"{name}: {_told(value)}" for name, value in answer.items()))
    return output.FINE


def _told(value: object) -> str:
    if isinstance(value, dict):
        return ", ".join(f"{name} {inner}" for name, inner in value.items()) or "-"
    if isinstance(value, list):
        return ", ".join(str(each) for each in value) or "-"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "-" if value in {None, ""} else str(value)


def _demo_arguments(parser: ArgumentParser) -> None:
    parser.add_argument(
        "folder", metavar="DIR", nargs="?", help="an empty folder; without it a fresh one"
    )
    parser.add_argument("--no-open", action="store_true", help="only make it, and print its folder")


def _demo(call: Call) -> int:
    from pathlib import Path

    from castlenut.garage.demo import make_demo

    folder = call.maybe("folder")
    made = make_demo(None if folder is None else Path(folder), call.surroundings())
    if call.flag("no_open") or call.is_plain or not output.is_on_terminal():
        output.write(str(made))
        return output.FINE
    from castlenut.command.opening import open_screens

    return open_screens(call, made)


COMMANDS = (
    Command(
        "rules",
        group=UPKEEP,
        words="the rules in force, or one in full",
        example="castlenut rules hub-repack",
        add_arguments=_rules_arguments,
        run=_rules,
    ),
    Command(
        "settings",
        group=UPKEEP,
        words="name, rate, open hours and units of the garage",
        example="castlenut settings name='Quorrick Yard' hours=mon:7,tue:7",
        add_arguments=_settings_arguments,
        run=_settings,
    ),
    Command(
        "demo",
        group=UPKEEP,
        words="a sample garage whose record ends yesterday, all of it invented",
        example="castlenut demo ~/demo-garage",
        add_arguments=_demo_arguments,
        run=_demo,
    ),
)

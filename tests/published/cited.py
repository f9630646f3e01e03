"""What is published beside a shipped rule: cases with their source, and the rows a rule names."""

import re
from collections.abc import Iterator

import pytest

from castlenut.domain.ids import RuleId
from castlenut.domain.rules.rule import Rule
from tests.builders import shipped

DEFENDER = "Land Rover Defender 1993 workshop manual, maintenance page"
MINI = "Mini 1969-2001 repair manual, schedule p.1-3"
CHEVROLET_1970 = "Chevrolet 10-60 series 1970 service manual p.0-19"
CHEVROLET_1973 = "Chevrolet light truck 1973 service manual p.0-16"
AP_1967 = "Automotive Products Group, The Press (Christchurch) 4 Aug 1967"
SPECIAL = "TM 1-1500-328-23, recurring special inspections"
LO_273 = "LO 9-2320-273-12"
ARMY_STORAGE = "TM 9-2330-267-14&P 4-65"
PRACTICE = "common practice, no source"
NFPA = "pages restating NFPA 10 (1998-2007)"

_ROW = re.compile(r"(\d{1,2})\.(\d{2})(?:-\1\.(\d{2}))?")


def on(row: str, basis: str, source: str, *case: object) -> object:
    """Give a case with where it was published; the test gets the row and then the case."""
    return pytest.param(
        row,
        *case,
        marks=pytest.mark.published(row, basis=basis, source=source),
        id=f"{row}-{'-'.join(str(each) for each in case)}",
    )


def said(row: str, basis: str, source: str, *case: object) -> object:
    """Give a case with where it was published, for a test that does not ask for the row."""
    return pytest.param(
        *case,
        marks=pytest.mark.published(row, basis=basis, source=source),
        id=f"{row}-{'-'.join(str(each) for each in case)}",
    )


def rule_of(id_: str) -> Rule:
    return shipped().rules[RuleId(id_)]


def rows_named(id_: str) -> set[str]:
    """Give the rows a rule names where it tells the user its source: `(6.01-6.05, 6.20)`."""
    rule = rule_of(id_)
    return set(_rows(f"{rule.source} {rule.note or ''}"))


def _rows(text: str) -> Iterator[str]:
    for found in _ROW.finditer(text):
        section, first, last = found.groups()
        for number in range(int(first), int(last or first) + 1):
            yield f"{section}.{number:02}"

"""The form for a rule changed for one car alone."""

from collections.abc import Callable, Iterable
from functools import partial
from typing import ClassVar

from textual.widget import Widget

from castlenut.domain.due import CarToday
from castlenut.domain.rules.rule import Rule
from castlenut.garage.changes.own_rules import draft_as_shipped, draft_own_rule
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.screens.forms.following import schedule_lines
from castlenut.screens.forms.form import Form
from castlenut.screens.widgets.choice_field import ChoiceField
from castlenut.screens.widgets.field import Field
from castlenut.words.rules import interval

KEEP, OFF, IN_FORCE, AS_SHIPPED = "keep", "off", "in force", "as shipped"


class OwnRuleForm(Form):
    """A rule as this car has it: interval, first points, a limit, off or in force, and why."""

    HEAD: ClassVar[str] = "A rule of this car alone"

    def __init__(self, garage: Garage, car: CarToday, rule: Rule) -> None:
        super().__init__(garage)
        self.car = car
        self._rule = rule

    def slug(self) -> str:
        return self.car.car.vehicle.slug

    def heading(self) -> str:
        return f"{self._rule.title}, for {self.car.car.vehicle.description} alone"

    def fields(self) -> Iterable[Widget]:
        rule = self._rule
        first = ", ".join(f"{float(point):,g}" for point in rule.first) or "none"
        measures = ", ".join(dict.fromkeys(limit.measure for limit in rule.limits))
        yield Field("every", "every", width=16, remark=f"12k/24m; now {interval(rule)}")
        yield Field("first", "first points", width=16, remark=f"500,1000; - none; now {first}")
        yield Field("limit", "limit", width=28, remark=measures or "this rule measures nothing")
        yield ChoiceField(
            "force",
            "in force",
            names=(KEEP, OFF, IN_FORCE, AS_SHIPPED),
            value=KEEP,
            width=14,
            remark="keep, off, in force, as shipped",
        )
        yield Field("why", "why", width=40, remark="its book, p. 31")

    def begin(self) -> None:
        self.field("every").enter()

    def question(self) -> Callable[[], Draft]:
        slug, force = self.car.car.vehicle.slug, self.text("force")
        if force == AS_SHIPPED:
            return partial(draft_as_shipped, self.garage, slug, self._rule.id)
        return partial(
            draft_own_rule,
            self.garage,
            slug,
            self._rule.id,
            every=self.text("every") or None,
            first=self.text("first") or None,
            limits=[each.strip() for each in self.text("limit").split(",") if each.strip()],
            off={OFF: True, IN_FORCE: False}.get(force),
            why=self.text("why") or None,
        )

    def follows(self, draft: Draft) -> tuple[str, ...]:
        return (*draft.told, *schedule_lines(self.garage, draft))

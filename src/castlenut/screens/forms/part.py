"""The form for a part fitted or taken off, in three steps, the last telling what follows."""

from collections.abc import Callable, Iterable, Iterator
from functools import partial
from typing import ClassVar

from textual.containers import Vertical
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Button

from castlenut.domain.component import Component
from castlenut.domain.due import CarToday
from castlenut.domain.errors import BadInput, Fault
from castlenut.garage import entry
from castlenut.garage.changes.parts import draft_fit, draft_remove
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.screens.forms.following import schedule_lines, tire_lines
from castlenut.screens.forms.form import Form, Looked
from castlenut.screens.forms.kinds import fields_of_kind, kind_field, part_names, shelf_names
from castlenut.screens.forms.when import when_fields
from castlenut.screens.widgets.choice_field import ChoiceField
from castlenut.screens.widgets.distance_field import ESTIMATE
from castlenut.screens.widgets.field import Field

FIT, OFF, TO_SHELF, FROM_SHELF = "fit", "take off", "put on the shelf", "fit from the shelf"
WHAT_AND_WHERE, FIGURES, WHAT_FOLLOWS = 1, 2, 3
_STEPS = {
    WHAT_AND_WHERE: "what and where",
    FIGURES: "when, and its figures",
    WHAT_FOLLOWS: "what follows",
}
_FIRST = frozenset({"do", "kind", "record", "place"})


class PartForm(Form):
    """Fits a part at one place or several, or takes one off; tells the schedule's change first."""

    HEAD: ClassVar[str] = "A part"

    def __init__(self, garage: Garage, car: CarToday, part: Component | None = None) -> None:
        super().__init__(garage)
        self.car = car
        self.step = WHAT_AND_WHERE
        self._part = part
        self._asked: tuple[str, str] | None = None
        self._names = self._other_names()

    def slug(self) -> str:
        return self.car.car.vehicle.slug

    def heading(self) -> str:
        return (
            f"{self.HEAD}: {self.car.car.vehicle.description}, step {self.step} of {len(_STEPS)}:"
            f" {_STEPS[self.step]}"
        )

    def _other_names(self) -> dict[str, str]:
        """Give the parts that can be chosen by name: those on the car, and on the shelf."""
        return {**part_names(self.car), **shelf_names(self.car)}

    def fields(self) -> Iterable[Widget]:
        part = self._part
        is_stored = part is not None and part.is_on_shelf
        with Vertical(id="step-1"):
            yield ChoiceField(
                "do",
                "do",
                names=(FIT, OFF, TO_SHELF, *([FROM_SHELF] if shelf_names(self.car) else [])),
                value=FROM_SHELF if is_stored else FIT,
                width=20,
                remark="fit, take off, put on the shelf",
            )
            yield kind_field(self.garage, "kind", "part", "" if part is None else part.kind)
            yield ChoiceField(
                "record", "which", names=tuple(self._names), value=self._part_name(part), width=40
            )
            place = part.place_on(self.car.today) if part is not None else None
            yield Field(
                "place",
                "where",
                value="" if place is None else str(place),
                width=20,
                remark="LF,RF, front, all; empty: the car has one",
            )
        with Vertical(id="step-2"):
            yield Vertical(id="figures")
            yield from when_fields(self.garage, self.car)
            yield Field("by", "by", remark="empty: this garage")
            yield Field("note", "note or why", width=44)

    def _part_name(self, part: Component | None) -> str:
        record = None if part is None else part.record
        return next((name for name, each in self._names.items() if each == record), "")

    def begin(self) -> None:
        self._show_step()
        self.field("do").enter()

    # -- steps ---------------------------------------------------------------------------------

    @property
    def _is_by_record(self) -> bool:
        return self.text("do") in {OFF, FROM_SHELF}

    def take_change(self, field: Field) -> None:
        if field.name == "do":
            self._show_step()

    def _show_step(self) -> None:
        self.query_one("#step-1").display = self.step == WHAT_AND_WHERE
        self.query_one("#step-2").display = self.step == FIGURES
        self.set_class(self.step == WHAT_FOLLOWS, "-last")
        by_record, does = self._is_by_record, self.text("do")
        self.field("kind").display = not by_record
        self.field("record").display = by_record
        self.field("place").display = does != OFF
        self.field("on").display = does != TO_SHELF
        self.field("at").display = does != TO_SHELF
        self.field("by").display = does == FIT
        self.query_one("#save", Button).label = Content(
            "[Save]" if self.step == WHAT_FOLLOWS else "[Next]"
        )
        self.retitle()

    async def _ask_figures(self) -> None:
        """Ask for the figures of the kind chosen, once for each kind."""
        wanted = (self.text("do"), self.text("kind"))
        if wanted == self._asked:
            return
        self._asked = wanted
        figures = self.query_one("#figures")
        await figures.remove_children()
        if not self._is_by_record:
            await figures.mount(*self._figure_fields(self.text("kind")))

    def _figure_fields(self, kind: str) -> Iterator[Field]:
        for name, values in fields_of_kind(self.garage, kind):
            label = name.replace("stamped.", "").replace(".", " ").replace("_", " ")
            remark = "stamped on it" if "stamped." in name else ""
            if values:
                yield ChoiceField(name, label, names=values, width=20, remark="  ".join(values))
            else:
                yield Field(name, label, width=20, remark=remark or _REMARKS.get(name, ""))
        if "," in self.text("place") or self.text("place") in {"front", "rear", "all"}:
            yield Field("more", "at one place", width=40, remark="part@LF=BP-12, made@RF=2024")
        yield Field("--as", "as at", width=8, remark="as the other side: its place")

    async def action_save(self) -> None:
        if self.step == WHAT_FOLLOWS:
            self.save()
            return
        looked = self.looked(self.question())
        here = [fault for fault in looked.faults if self._is_of_step(fault)]
        if here:
            self.tell_faults(tuple(here))
            return
        self.step += 1
        if self.step == FIGURES:
            await self._ask_figures()
        self._show_step()
        self.look()
        self.go_on(None)

    def _is_of_step(self, fault: Fault) -> bool:
        return self.step == FIGURES or fault.where in _FIRST

    def action_leave(self) -> None:
        """Go one step back; from the first, leave."""
        if self.step == WHAT_AND_WHERE:
            super().action_leave()
            return
        self.step -= 1
        self._show_step()

    # -- what is saved -------------------------------------------------------------------------

    def question(self) -> Callable[[], Draft]:
        does, at = self.text("do"), self.text("at")
        record = self._names.get(self.text("record"))
        slug = self.car.car.vehicle.slug
        on, dial = self.text("on"), None if at in ("", ESTIMATE) else at
        note = self.text("note") or None
        place = self.text("place") or None
        if not self._is_by_record:
            record = None
        elif record is None:
            return partial(_refuse, Fault("no such part", "record", "choose one of the names"))
        if record is not None and does == OFF:
            return partial(draft_remove, self.garage, slug, record, on=on, at=dial, why=note)
        if record is not None:
            return partial(draft_fit, self.garage, slug, record, place, on=on, at=dial, note=note)
        return partial(
            _fitted,
            self.garage,
            slug,
            kind=self.text("kind"),
            place=place,
            fields=self._figures(),
            more=self._figure("more"),
            on=on,
            at=dial,
            by=self.text("by") or None,
            note=note,
            is_for_shelf=does == TO_SHELF,
            like=self._figure("--as") or None,
        )

    def _figures(self) -> dict[str, str]:
        apart = {"more", "--as"}
        return {
            str(each.name): each.text
            for each in self.query_one("#figures").query(Field)
            if each.text and each.name not in apart
        }

    def _figure(self, name: str) -> str:
        return next((each.text for each in self.typed if each.name == name), "")

    def follows(self, draft: Draft) -> tuple[str, ...]:
        if self.step < WHAT_FOLLOWS:
            return draft.told
        return (
            *schedule_lines(self.garage, draft),
            *tire_lines(self.garage, draft),
            "",
            *draft.told,
        )

    def wanted(self, looked: Looked) -> tuple[Fault, ...]:
        return tuple(fault for fault in looked.faults if self._is_of_step(fault))


_REMARKS = {
    "part": "part number",
    "made": "2024, 2024-05 or a day",
    "every": "its maker's: 12k/24m",
    "new_depth": "11/32 or 8mm",
    "tin": "the last digits tell the week",
}


def _refuse(fault: Fault) -> Draft:
    raise BadInput(fault)


def _fitted(
    garage: Garage,
    slug: str,
    *,
    kind: str,
    place: str | None,
    fields: dict[str, str],
    more: str,
    on: str,
    at: str | None,
    by: str | None,
    note: str | None,
    is_for_shelf: bool,
    like: str | None,
) -> Draft:
    apart = entry.pairs(each.strip() for each in more.split(",") if each.strip())
    return draft_fit(
        garage,
        slug,
        kind,
        place,
        {**fields, **apart},
        on=on,
        at=at,
        by=by,
        note=note,
        shelf=is_for_shelf,
        as_place=like,
    )

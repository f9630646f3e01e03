"""A row of something found: what and where, and whether it is mended, watched or declined."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widgets import Static

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.findings import REPAIR_CAUTIONS, Decided, Nature, other_side
from castlenut.domain.place import Place, places
from castlenut.garage.day_rows import Found
from castlenut.screens.forms.rows.row import WorkRow
from castlenut.screens.widgets.choice_field import ChoiceField
from castlenut.screens.widgets.field import Field
from castlenut.screens.widgets.tick import Tick
from castlenut.words import cautions

_OTHER = "other side"


class FoundRow(WorkRow):
    """Something found. Before a repair its cautions are shown, and the other side is asked for."""

    WHAT: ClassVar[str] = "found"

    def compose(self) -> ComposeResult:
        yield Field(self.at("what"), self.head, width=44)
        yield Field(
            self.at("place"), "  where", width=14, remark="L, LF, rear ...; empty: all of it"
        )
        yield ChoiceField(
            self.at("kind"), "  kind", names=[each.value for each in Nature], width=10
        )
        yield Field(self.at("photo"), "  photo", width=44, remark="a file, copied in")
        yield ChoiceField(
            self.at("decided"),
            "  then",
            names=[each.value for each in Decided],
            width=10,
            remark="mend  watch  declined",
        )
        with Vertical(classes="row-more"):
            yield Field(self.at("watch"), "  again after", width=14, remark="500 mi, 3m or a day")
            yield Field(self.at("every"), "  then every", width=14, remark="500mi, 3m; empty: once")
            owner = self.car.car.vehicle.owner or ""
            yield Field(self.at("who"), "  who", value=owner, width=30)
            yield Tick("the other side is to be looked at", key=_OTHER, is_ticked=True)
            yield Static("", classes="row-caution", markup=False)

    def on_mount(self) -> None:
        told = (*cautions.sentences(REPAIR_CAUTIONS), cautions.DEFERRING_LINE)
        self.query_one(".row-caution", Static).update("\n".join(told))
        self._show_what_is_asked()

    def on_field_changed(self, _message: Field.Changed) -> None:
        """Ask for what the decision asks for, and for nothing else."""
        self._show_what_is_asked()

    def _show_what_is_asked(self) -> None:
        decided = self.text("decided")
        wanted = {
            "watch": Decided.WATCH.value,
            "every": Decided.WATCH.value,
            "who": Decided.DECLINED.value,
        }
        for field in self.query(Field):
            _, _, name = str(field.name).partition("-")
            if name in wanted:
                field.display = decided == wanted[name]
        is_repair = decided == Decided.MEND.value
        self.query_one(".row-caution").display = is_repair
        tick = self.query_one(Tick)
        others = self._other_sides() if is_repair else ()
        tick.display = bool(others)
        if others:
            tick.words = f"and {', '.join(map(str, others))}? it is to be looked at"
            tick.refresh()

    def _other_sides(self) -> tuple[Place, ...]:
        try:
            here = places(self.text("place"), dual=self.car.car.vehicle.dual)
        except BadInput:
            return ()
        found = (other_side(each) for each in here)
        return tuple(each for each in found if each is not None and each not in here)

    def entry(self) -> Found | None:
        what, decided = self.text("what"), self.text("decided")
        if not what:
            return None
        if decided not in {each.value for each in Decided}:
            raise BadInput(
                Fault(
                    "what is to be done about it?",
                    self.at("decided"),
                    "mend, watch or declined",
                )
            )
        is_watched = decided == Decided.WATCH.value
        if is_watched and not self.text("watch"):
            raise BadInput(
                Fault("when is it to be looked at again?", self.at("watch"), "500 mi, 3m or a day")
            )
        return Found(
            row=self.number,
            what=what,
            where=self.text("place") or None,
            nature=self.text("kind") or None,
            photo=self.text("photo") or None,
            decided=decided,
            watch=self.text("watch") if is_watched else None,
            every=(self.text("every") or None) if is_watched else None,
            who=(self.text("who") or None) if decided == Decided.DECLINED.value else None,
            has_other_side=self.query_one(Tick).is_ticked,
        )

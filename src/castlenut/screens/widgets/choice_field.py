"""A field with names to choose from: typed words narrow them down, enter takes the first."""

from collections.abc import Mapping, Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static

from castlenut.domain.vocabulary import all_words
from castlenut.screens.widgets.cells import cut, folded
from castlenut.screens.widgets.field import Field

_MOST = 6


class ChoiceField(Field):
    """A name out of several. `also` gives other words by which a name is found, too."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("down", "other(1)", "next name", show=False),
        Binding("up", "other(-1)", "name before", show=False),
    ]

    def __init__(
        self,
        name: str,
        label: str,
        *,
        names: Sequence[str],
        also: Mapping[str, str] | None = None,
        value: str = "",
        width: int = 24,
        remark: str = "",
    ) -> None:
        super().__init__(name, label, value=value, width=width, remark=remark)
        self.names = tuple(names)
        self._also = also or {}
        self._typed = value

    def fitting(self) -> tuple[str, ...]:
        """Give the names that hold all words typed, those beginning with them first."""
        words = folded(self._typed).split()
        found = [each for each in self.names if all(word in self._sought(each) for word in words)]
        return tuple(sorted(found, key=lambda each: not folded(each).startswith(" ".join(words))))

    def _sought(self, name: str) -> str:
        own = f"{name} {self._also.get(name, '')}"
        return folded(f"{own} {all_words(own)}")

    def retell(self) -> None:
        if self.text not in self.names:
            self._typed = self.text
        names = self.fitting()
        line = self.query_one(".field-names", Static)
        is_wanted = self.box.has_focus and self.text not in self.names and bool(names)
        shown = "  ".join(names[:_MOST]) + (
            f"  and {len(names) - _MOST} more" if names[_MOST:] else ""
        )
        line.update(cut(shown, max(self.size.width - 16, 20)))
        line.set_class(is_wanted, "-shown")

    def compose(self) -> ComposeResult:
        yield from super().compose()
        yield Static("", classes="field-names", markup=False)

    def action_other(self, by: int) -> None:
        names = self.fitting()
        if names:
            at = names.index(self.text) + by if self.text in names else 0
            typed = self._typed
            self.text = names[at % len(names)]
            self._typed = typed

    def complete(self) -> None:
        names = self.fitting()
        if self.text and self.text not in self.names and names:
            self.text = names[0]

    def on_descendant_focus(self) -> None:
        self.retell()

    def on_descendant_blur(self) -> None:
        """Take the only name that is left, where its beginning is typed."""
        names = self.fitting()
        if self.text and len(names) == 1 and folded(names[0]).startswith(folded(self.text)):
            self.text = names[0]
        self.retell()

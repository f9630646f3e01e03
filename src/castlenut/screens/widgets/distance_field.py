"""A field for what the dial shows: said back with separators, and in the other unit."""

from decimal import Decimal

from castlenut.domain.errors import BadInput
from castlenut.domain.odometer import Dial
from castlenut.domain.units import Unit, convert
from castlenut.garage import entry
from castlenut.screens.widgets.field import Field
from castlenut.words import figures

ESTIMATE = "="


class DistanceField(Field):
    """A dial figure. `estimate` is today's, taken with `=`; None where none may be taken.

    `beside` is said while the box is empty.
    """

    def __init__(
        self,
        name: str,
        label: str,
        *,
        dial: Dial,
        last: Decimal | None = None,
        estimate: Decimal | None = None,
        beside: str = "no reading yet to estimate from",
    ) -> None:
        super().__init__(name, label, unit=dial.unit.value, width=12)
        self._dial = dial
        self._last = last
        self._estimate = estimate
        self._beside = beside

    @property
    def takes_estimate(self) -> bool:
        """Tell whether the estimate was taken."""
        return self.text == ESTIMATE and self._estimate is not None

    def retell(self) -> None:
        self.remark(self._in_words())

    def _in_words(self) -> str:
        about = None if self._estimate is None else figures.shown(self._estimate, self._dial)
        if self.text in ("", ESTIMATE):
            if about is None:
                return self._beside
            return f"about {about}, estimated" if self.text else f"about {about}: = takes it"
        try:
            found = entry.distance(self.text, self._dial, field=str(self.name), last=self._last)
        except BadInput:
            return "no dial figure yet"
        other = Unit.KM if found.unit is Unit.MI else Unit.MI
        converted = convert(float(found.figure), given=found.unit, wanted=other)
        return (
            f"{found.figure:,f} {found.unit.value} = "
            f"{figures.rounded(converted, tenths=False):,f} {other.value}"
        )

"""What the small forms about one car share: whose it is, and what the change does to its items."""

from castlenut.domain.due import CarToday
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.screens.forms.following import change_lines
from castlenut.screens.forms.form import Form


class CarForm(Form):
    """A form about one car. Before it is saved it tells what moves, leaves, joins, falls due."""

    def __init__(self, garage: Garage, car: CarToday) -> None:
        super().__init__(garage)
        self.car = car

    def heading(self) -> str:
        return f"{self.HEAD}: {self.car.car.vehicle.description}"

    def slug(self) -> str:
        """Give the short name of the car."""
        return self.car.car.vehicle.slug

    def maybe(self, name: str) -> str | None:
        """Give what is typed in a field; None: nothing is."""
        return self.text(name) or None

    def follows(self, draft: Draft) -> tuple[str, ...]:
        return (*draft.told, *change_lines(self.garage, draft))

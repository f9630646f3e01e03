"""The five lines for a message about a car."""

from castlenut.garage.answers import next_visit
from castlenut.garage.garage import Garage
from castlenut.words.message import Sender, message_lines


def message(garage: Garage, slug: str) -> tuple[str, ...]:
    """Give how a car stands in five plain lines, signed by the garage.

    Raises:
        CannotRead: its file cannot be read.
    """
    settings, today = garage.settings, garage.today(slug)
    return message_lines(
        today,
        sender=Sender(name=settings.name or "", telephone=settings.telephone or ""),
        next_visit=next_visit(today.car, today=garage.today_date),
    )

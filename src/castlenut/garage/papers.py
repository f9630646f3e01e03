"""The papers of a car: what each needs of the garage, and where it is written."""

from collections.abc import Sequence
from pathlib import Path

from castlenut.domain.due import CarToday
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.item import Item
from castlenut.domain.naming import find_items
from castlenut.domain.stay import against_rolling
from castlenut.domain.working import State
from castlenut.feed.feeds import owner_feed, vehicle_feed
from castlenut.garage.feeds.addresses import PORT, address_of, webcal
from castlenut.garage.feeds.writing import refuse_record
from castlenut.garage.garage import Garage
from castlenut.garage.on_hand import parts_of_car
from castlenut.paper import due_sheet as sheet
from castlenut.paper import handover_book as book
from castlenut.paper import job_card as card
from castlenut.paper.head import head
from castlenut.paper.paper import Head, Paper
from castlenut.paper.text import lines
from castlenut.store.outside import made_folder, write_outside

_NOW = frozenset({State.OVERDUE, State.DUE})
FOLDER = "paper"
_ENDINGS = (".html", ".txt")


def due_sheet(garage: Garage, slug: str) -> Paper:
    """Give the due sheet of a car.

    Raises:
        CannotRead: its file cannot be read.
    """
    today, settings = garage.today(slug), garage.settings
    return sheet.due_sheet(
        today,
        _head(garage, today),
        parts_of_car(garage, slug),
        book=garage.book,
        money=sheet.Money(rate=settings.hourly_rate, currency=settings.currency),
    )


def handover_book(garage: Garage, slug: str) -> Paper:
    """Give the handover book of a car, with its feed where that has a public address.

    Raises:
        CannotRead: its file cannot be read.
        NotSaved: the garage has a base and no secret yet, and it could not be saved.
    """
    today = garage.today(slug)
    return book.handover_book(
        today, _head(garage, today), book=garage.book, feed=_feed(garage, today)
    )


def job_card(garage: Garage, slug: str, names: Sequence[str] = ()) -> Paper:
    """Give the job card for items of a car by name; of none, for its visit or what is due.

    Raises:
        BadInput: there is no such item on the car.
        CannotRead: its file cannot be read.
    """
    today = garage.today(slug)
    return card.job_card(
        today, _head(garage, today), _for_card(garage, today, names), book=garage.book
    )


def write(garage: Garage, paper: Paper, path: Path) -> None:
    """Write a paper whole, as a page or as text by the ending of the file's name.

    Raises:
        BadInput: the name ends otherwise, is a folder's, or leads into the record.
        NotSaved: it could not be written; an old file stands whole.
    """
    ending = path.suffix.lower()
    if ending not in _ENDINGS:
        raise BadInput(Fault("is no page and no text", str(path), "end it in .html or .txt"))
    if path.is_dir():
        raise BadInput(Fault("is a folder", str(path), "name a file in it"))
    refuse_record(garage, path)
    if ending == ".html":
        from castlenut.paper.page import page

        write_outside(path, page(paper))
    else:
        write_outside(path, "".join(f"{line}\n" for line in lines(paper)).encode())


def write_page(garage: Garage, paper: Paper) -> Path:
    """Write a paper as a page into the garage's folder of papers, and give where.

    Raises:
        NotSaved: it could not be written; an old file stands whole.
    """
    name = f"{paper.head.slug}-{paper.kind.value.replace(' ', '-')}.html"
    path = made_folder(garage.path / FOLDER) / name
    write(garage, paper, path)
    return path


def _head(garage: Garage, today: CarToday) -> Head:
    settings = garage.settings
    standing = against_rolling(today, garage.book)
    return head(today, standing, (settings.name, settings.address, settings.telephone))


def _for_card(garage: Garage, today: CarToday, names: Sequence[str]) -> Sequence[Item]:
    if names:
        found = [
            each for name in names for each in find_items(name, today.items, garage.book.rules)
        ]
        return tuple({item.id: item for item in found}.values())
    visit = next(iter(today.car.booked_from(today.today)), None)
    if visit is not None and visit.items:
        return tuple(item for item in today.items if item.id in visit.items)
    return tuple(
        item
        for item in today.items
        if not item.rule.is_own_check and (item.state in _NOW or item.may_be is not None)
    )


def _feed(garage: Garage, today: CarToday) -> str | None:
    """Give the owner's feed under its public address; a local one is dead at his gate."""
    if garage.settings.feed_base is None:
        return None
    vehicle = today.car.vehicle
    feed = owner_feed(vehicle.owner) if vehicle.owner else vehicle_feed(today.car.id)
    address = address_of(garage, feed, host=None, port=PORT)
    return None if address is None else webcal(address)

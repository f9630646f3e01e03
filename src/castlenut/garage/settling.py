"""Differences between two machines' values, and what settles one."""

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import RecordId, short
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.garage.past import told
from castlenut.store.revisions import GONE, Alternative, Changed, Edit, Gone
from castlenut.store.schema import check_values, typed

_TOLD_BY = ("kind", "name", "what", "title", "size", "measure", "item", "rule", "event", "on")
"""The field that tells which record it is: of those it has, the first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One of the values that stand against each other, as read, when and by which machine."""

    value: str
    at: str
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenDifference:
    """A field on which copies differ; the first of the choices is used until one is chosen.

    `about` says which record it is, in a few words. Of a record struck on one machine and changed
    on the other the field is `gone`.
    """

    table: str
    record: str
    field: str
    about: str
    choices: tuple[Choice, ...]


def open_differences(garage: Garage, slug: str) -> tuple[OpenDifference, ...]:
    """Give what differs on a car, record by record.

    Raises:
        CannotRead: the car's file cannot be read.
    """
    found = []
    for record in garage.file(slug).records():
        told_by = (record.values.get(name) for name in _TOLD_BY)
        named = next((each for each in told_by if isinstance(each, str)), None)
        about = f"{record.table} {named or short(RecordId(record.id))}"
        for field, alternatives in sorted(record.differences.items()):
            found.append(
                OpenDifference(
                    table=record.table,
                    record=record.id,
                    field=field,
                    about=about,
                    choices=tuple(_choice(field, each) for each in alternatives),
                )
            )
    return tuple(found)


def draft_choice(garage: Garage, slug: str, difference: OpenDifference, number: int) -> Draft:
    """Settle a difference by one of its values, counted from 0.

    Raises:
        BadInput: it is settled already, or another value stands there now.
    """
    file = garage.file(slug)
    record = file.record(difference.table, difference.record)
    alternatives = record.differences.get(difference.field, ()) if record is not None else ()
    if tuple(_choice(difference.field, each) for each in alternatives) != difference.choices:
        raise BadInput(
            Fault("was changed meanwhile", difference.about, "look at what stands there now")
        )
    value = alternatives[number].value
    edit: Edit
    if difference.field == GONE:
        edit = Gone(table=difference.table, id=difference.record, gone=value is True)
    else:
        edit = Changed(
            table=difference.table, id=difference.record, values={difference.field: value}
        )
    return _draft(garage, slug, difference, edit)


def draft_other(garage: Garage, slug: str, difference: OpenDifference, text: str) -> Draft:
    """Settle a difference by a further value, as typed.

    Raises:
        BadInput: the field cannot have it.
    """
    value = typed(difference.table, difference.field, text)
    faults = check_values(difference.table, {difference.field: value})
    if faults:
        raise BadInput(*faults)
    edit = Changed(table=difference.table, id=difference.record, values={difference.field: value})
    return _draft(garage, slug, difference, edit)


def _draft(garage: Garage, slug: str, difference: OpenDifference, edit: Edit) -> Draft:
    return Draft(
        slug=slug,
        file=garage.file(slug),
        edits=(edit,),
        told=(),
        title=f"{difference.field} of {difference.about} settled",
    )


def _choice(field: str, alternative: Alternative) -> Choice:
    if field == GONE:
        value = "struck" if alternative.value is True else "kept"
    else:
        value = told(alternative.value) or "nothing"
    return Choice(value=value, at=alternative.at, by=alternative.by)

"""reckon distance: the true distance at each reading, and which readings are not to be believed."""

from castlenut.command.reckon.dial_line import dial_fields, dial_line, flags
from castlenut.command.reckon.fields import Answer, Field, Fields
from castlenut.command.reckon.kind import Kind, figure
from castlenut.words import use


def _answer(fields: Fields) -> Answer:
    line = dial_line(fields)
    fields.number("after_last")
    fields.check()
    found = line.odometer()
    first = found.sound[0].distance if found.sound else None
    notes = [use.note_words(note, line.dial) for note in found.notes]
    return {
        "distance": [
            None if placed.distance is None or first is None else figure(placed.distance - first)
            for placed in found.placed
        ],
        "flags": flags(found),
        "notes": [f"{note[0].upper()}{note[1:]}." for note in notes],
    }


KIND = Kind(
    name="distance",
    summary="the true distance at each reading of a dial, with the readings that do not fit",
    fields=dial_fields(needs_asof=False, needs_distance=False),
    answers=(
        Field("distance", "per reading since the first sound one; null where it is held back"),
        Field("flags", "a list of index, cause, would_fit, held and reason"),
        Field("notes", "sentences"),
    ),
    answer=_answer,
)

"""reckon change: what another size does to odometer and speedometer."""

from castlenut.command.reckon.fields import Answer, Field, Fields, Json
from castlenut.command.reckon.kind import Kind, figure
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.tires.geometry import odometer_factor
from castlenut.domain.tires.size import Size, read_size

_FASTEST = 1_000.0


def _answer(fields: Fields) -> Answer:
    before = _size(fields, "from")
    after = _size(fields, "to")
    distance = fields.number("shown")
    speed = fields.number("shown_speed", most=_FASTEST)
    fields.check()
    if before is None or after is None:
        raise BadInput(Fault("is missing", "from", "give two sizes"))
    factor = odometer_factor(before, after)
    answer: dict[str, Json] = {
        "factor": figure(factor),
        "percent": figure(100 * (factor - 1)),
        "true_distance": None if distance is None else figure(distance * factor),
        "true_speed": None if speed is None else figure(speed * factor),
    }
    notes = [f"{size.designation}: {note.value}" for size in (before, after) for note in size.notes]
    return {**answer, "notes": list(dict.fromkeys(notes))} if notes else answer


def _size(fields: Fields, name: str) -> Size | None:
    text = fields.text(name)
    if text is None:
        return None
    try:
        return read_size(text, where=name)
    except BadInput as unread:
        fields.faults.extend(unread.faults)
        return None


KIND = Kind(
    name="change",
    summary="what another size does to odometer and speedometer",
    fields=(
        Field("from", "the size the dial was made for"),
        Field("to", "the size on the car now"),
        Field("shown", "a distance the dial shows", optional=True),
        Field("shown_speed", "a speed the dial shows", optional=True),
    ),
    answers=(
        Field("factor", "true over shown"),
        Field("percent", "how much more is true than shown"),
        Field("true_distance", "null without shown"),
        Field("true_speed", "null without shown_speed"),
        Field("notes", "sentences, only where a diameter is taken from more than the marking"),
    ),
    answer=_answer,
)

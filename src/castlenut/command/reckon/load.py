"""reckon load: what the tires of one axle carry, and how fast."""

from castlenut.command.reckon.fields import Answer, Field, Fields
from castlenut.command.reckon.kind import Kind, figure
from castlenut.domain.errors import BadInput
from castlenut.domain.tires.service import Service, axle_load, read_service

_MOST_TIRES = 4


def _answer(fields: Fields) -> Answer:
    texts = fields.texts("tires")
    need = fields.number("need_kg", least=1)
    if fields.has("tires") and not 1 <= len(texts) <= _MOST_TIRES and not fields.faults:
        fields.fault("tires", f"holds {len(texts)}", f"give 1 to {_MOST_TIRES} of one axle")
    tires: list[Service] = []
    for number, text in enumerate(texts, start=1):
        try:
            tires.append(read_service(text, where=f"tires[{number}]"))
        except BadInput as unread:
            fields.faults.extend(unread.faults)
    fields.check()
    found = axle_load(tires, need_kg=need)
    return {
        "each_kg": list(found.each_kg),
        "axle_kg": found.axle_kg,
        "speed_kmh": found.speed_kmh,
        "margin_kg": figure(found.margin_kg),
        "enough": found.is_enough,
    }


KIND = Kind(
    name="load",
    summary="what the tires of one axle carry, and how fast",
    fields=(
        Field("tires", "a list of service descriptions such as 88H, 1 to 4"),
        Field("need_kg", "what one tire must carry", optional=True),
    ),
    answers=(
        Field("each_kg", "what each may carry; over two tires stand in pairs"),
        Field("axle_kg", "the weakest as often as there are tires"),
        Field("speed_kmh", "of the slowest"),
        Field("margin_kg", "of the weakest over need_kg, null without it"),
        Field("enough", "whether it carries need_kg, null without it"),
    ),
    answer=_answer,
)

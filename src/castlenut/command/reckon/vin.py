"""reckon vin: check digit and model years of a vehicle's number."""

from castlenut.command.reckon.fields import Answer, Field, Fields
from castlenut.command.reckon.kind import Kind
from castlenut.domain.vin import Market, VehicleClass, read_vin


def _answer(fields: Fields) -> Answer:
    number = fields.need_text("vin")
    vehicle = fields.choice("vehicle", VehicleClass) or VehicleClass.CAR
    market = fields.choice("market", Market) or Market.NORTH_AMERICA
    fields.check()
    result = read_vin(number, vehicle=vehicle, market=market)
    return {
        "form": result.form.value,
        "check": result.check.value if result.check else None,
        "expected": result.expected,
        "found": result.found,
        "model_years": list(result.model_years),
        "notes": [note.value for note in result.notes],
    }


KIND = Kind(
    name="vin",
    summary="check digit and model years of a vehicle's number",
    fields=(
        Field("vin", "the number; ? may stand at position 9"),
        Field(
            "vehicle",
            "car (as without it), truck over 4536 kg, motorcycle, trailer",
            optional=True,
        ),
        Field("market", "north america (as without it), other", optional=True),
    ),
    answers=(
        Field("form", "vin or serial"),
        Field("check", "holds, fails, or null where there is nothing to check"),
        Field("expected", "the check digit that belongs at position 9"),
        Field("found", "what stands there"),
        Field("model_years", "what position 10 may mean"),
        Field("notes", "sentences"),
    ),
    answer=_answer,
)

"""reckon size: what a size marking says, and its geometry."""

from castlenut.command.reckon.fields import Answer, Field, Fields
from castlenut.command.reckon.kind import Kind
from castlenut.domain.tires.geometry import diameter_mm, revs_per_mile, section_height_mm
from castlenut.domain.tires.rim import measuring_rim_in, rim_range, section_width_mm
from castlenut.domain.tires.size import Size, read_size
from castlenut.domain.units import MM_PER_IN

_WIDEST_RIM_IN = 30.0
_NARROWEST_RIM_IN = 2.0


def _answer(fields: Fields) -> Answer:
    text = fields.need_text("size")
    rim_width = fields.number("rim_width_in", least=_NARROWEST_RIM_IN, most=_WIDEST_RIM_IN)
    fields.check()
    size = read_size(text)
    across = diameter_mm(size)
    return {
        "size": size.designation,
        "type": size.type.value,
        "width_mm": _to(size.width_mm, 2),
        "aspect": size.aspect,
        "construction": size.construction.value,
        "rim_in": _to(size.rim_in, 2),
        "section_height_mm": _to(section_height_mm(size), 2),
        "diameter_mm": _to(across, 2),
        "diameter_in": _to(None if across is None else across / MM_PER_IN, 2),
        "revs_per_mile": _to(revs_per_mile(size), 1),
        "load_class": size.load_class,
        "load_index": size.load_index,
        "speed_symbol": size.speed_symbol,
        "temporary": size.is_temporary,
        "measuring_rim_in": measuring_rim_in(size),
        "section_width_mm": _to(section_width_mm(size, rim_width_in=rim_width), 2),
        "notes": [note.value for note in size.notes] + _on_rim(size, rim_width),
    }


def _to(value: float | None, places: int) -> float | None:
    return None if value is None else round(value, places)


def _on_rim(size: Size, rim_width_in: float | None) -> list[str]:
    """Say where the rim is outside what the size goes on, and how far that range is known."""
    takes = rim_range(size)
    if rim_width_in is None or takes is None or takes.holds(rim_width_in):
        return []
    takes_rims = f"the {takes.least_in:g} to {takes.most_in:g} in for this size"
    return [f"A rim of {rim_width_in:g} in is outside {takes_rims} ({takes.trust.value})."]


KIND = Kind(
    name="size",
    summary="what a tire's size marking says, and its geometry",
    fields=(
        Field("size", "the size as marked on the tire, with or without its service description"),
        Field("rim_width_in", "width of the rim it stands on", optional=True),
    ),
    answers=(
        Field("size", "the size as the standard writes it"),
        Field(
            "type",
            "metric, p-metric, lt-metric, temporary, flotation, numeric, letter,"
            " metric without aspect",
        ),
        Field("width_mm", "nominal section width, null in a letter size"),
        Field("aspect", "aspect ratio in percent; notes say where it is not marked"),
        Field("construction", "radial, bias, bias belted"),
        Field("rim_in", "rim diameter"),
        Field("section_height_mm", "rim to tread"),
        Field("diameter_mm", "overall diameter, null where marking and tables do not tell it"),
        Field("diameter_in", "the same in inches"),
        Field("revs_per_mile", "turns of the unloaded circle; rolling about 3 % more"),
        Field("load_class", "XL, LL, a load range, or the letter of a letter size"),
        Field("load_index", "of a tire alone on its side"),
        Field("speed_symbol", "of the service description, or inside an old size"),
        Field("temporary", "whether it is marked as a temporary spare"),
        Field("measuring_rim_in", "rim width on which the section width is measured"),
        Field("section_width_mm", "on rim_width_in, else on the measuring rim"),
        Field("notes", "sentences"),
    ),
    answer=_answer,
)

"""reckon size: what a size marking says, and its geometry."""

from castlenut.command.reckon.fields import Answer, Field, Fields
from castlenut.command.reckon.kind import Kind
from castlenut.domain.tires.size import read_size
from castlenut.words.sizes import size_answer

_WIDEST_RIM_IN = 30.0
_NARROWEST_RIM_IN = 2.0


def _answer(fields: Fields) -> Answer:
    text = fields.need_text("size")
    rim_width = fields.number("rim_width_in", least=_NARROWEST_RIM_IN, most=_WIDEST_RIM_IN)
    fields.check()
    return size_answer(read_size(text), rim_width_in=rim_width)


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

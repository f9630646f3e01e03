"""reckon tin: the week a tire was made."""

from castlenut.command.reckon.fields import Answer, Field, Fields, Json
from castlenut.command.reckon.kind import Kind, day
from castlenut.domain.tires.tin import first_day, last_day, made

_DAYS_IN_YEAR = 365.25
_FIRST_YEAR = 1900
_LAST_YEAR = 2100


def _answer(fields: Fields) -> Answer:
    tin = fields.need_text("tin")
    looked_at = fields.day("looked_at")
    years = fields.numbers("vehicle_years", least=_FIRST_YEAR, most=_LAST_YEAR)
    if fields.has("vehicle_years") and len(years) != 2:
        fields.fault("vehicle_years", "is not two years", "give the first and the last in brackets")
    for place, year in enumerate(years, start=1):
        if year != int(year):
            fields.fault(f"vehicle_years[{place}]", f"{year:g} is not whole", "give a year")
    fields.check()
    result = made(tin, looked_at=looked_at, years=(int(years[0]), int(years[1])) if years else None)
    ages: list[Json] | None = None
    if looked_at is not None:
        ages = [
            round((looked_at - first_day(week)).days / _DAYS_IN_YEAR, 1) for week in result.weeks
        ]
    return {
        "made": [
            {"first": day(first_day(week)), "last": day(last_day(week))} for week in result.weeks
        ],
        "ages_years": ages,
        "notes": [note.value for note in result.notes],
    }


KIND = Kind(
    name="tin",
    summary="the week a tire was made",
    fields=(
        Field("tin", "the tire identification number, whole or only its end"),
        Field("looked_at", "the day the tire was seen", optional=True),
        Field(
            "vehicle_years",
            "[first, last] year in which the tire can have been made for the vehicle",
            optional=True,
        ),
    ),
    answers=(
        Field("made", "a list of first and last day of every week it may mean, oldest first"),
        Field("ages_years", "age of each at looked_at, from its first day; null without it"),
        Field("notes", "sentences"),
    ),
    answer=_answer,
)

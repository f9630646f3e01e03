"""A way to shoe a car as typed in one field: `205/60R15/225/60R15 rim 6/7 offset 10/0`."""

import re

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import replace
from castlenut.domain.tires.fitment import AxleFitment, Fitment
from castlenut.domain.tires.on_a_car import like_now
from castlenut.domain.tires.per_axle import per_axle, read_pair

HOW = "size or front/rear; then rim 6/7 or offset 10/0 where not as now"
_OPTION = re.compile(r"\b(rim|offset)\b", re.IGNORECASE)
_RANGES = {"rim": (2.0, 30.0, "in"), "offset": (-300.0, 300.0, "mm")}


def read_way(text: str, now: Fitment, *, name: str) -> Fitment:
    """Read how a car would be shod; what is not typed is as it is now.

    Raises:
        BadInput: with every fault, at the field `name`.
    """
    sizes_text, *options = _OPTION.split(text)
    faults: list[Fault] = []
    figures: dict[str, tuple[float, float]] = {}
    for option, value in zip(options[::2], options[1::2], strict=True):
        try:
            figures[option.lower()] = _pair(value, option.lower(), name)
        except BadInput as bad:
            faults.extend(bad.faults)
    try:
        front_size, rear_size = read_pair(sizes_text.strip(), where=name)
    except BadInput as bad:
        raise BadInput(*(replace(each, where=name) for each in bad.faults), *faults) from bad
    if faults:
        raise BadInput(*faults)
    rims, offsets = figures.get("rim"), figures.get("offset")
    axles = [
        AxleFitment(
            size=size,
            rim_width_in=None if rims is None else rims[number],
            offset_mm=None if offsets is None else offsets[number],
        )
        for number, size in enumerate((front_size, rear_size))
    ]
    return Fitment(
        front=like_now(axles[0], now.front, is_depth_given=False),
        rear=like_now(axles[1], now.rear, is_depth_given=False),
        is_directional=now.is_directional,
    )


def _pair(text: str, option: str, name: str) -> tuple[float, float]:
    least, most, unit = _RANGES[option]

    def figure(part: str) -> float:
        plain = part.strip().lower().removesuffix(unit).strip()
        try:
            value = float(plain)
        except ValueError:
            value = float("nan")
        if not least <= value <= most:
            raise BadInput(
                Fault(
                    f"{part.strip()!r} is no {option}", name, f"give {least:g} to {most:g} {unit}"
                )
            )
        return value

    try:
        return per_axle(text.strip(), figure)
    except BadInput as bad:
        raise BadInput(*(replace(each, where=name) for each in bad.faults)) from bad

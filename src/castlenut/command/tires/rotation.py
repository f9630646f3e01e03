"""rotation: which patterns are left and why not the others, without a car."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.tires.fitment import read_drive
from castlenut.command.tires.typed import Typed
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.tires.fitment import AxleFitment, Fitment, shod
from castlenut.domain.tires.legality import pattern_verdicts
from castlenut.domain.tires.rotation.moves import needs_spare, usual
from castlenut.domain.tires.size import read_size
from castlenut.domain.vehicle import Drive
from castlenut.words import fitment, patterns
from castlenut.words.cautions import DEFERRING_LINE

if TYPE_CHECKING:
    from castlenut.command.call import Call


def answer_rotation(call: Call) -> int:
    """Answer which patterns are left.

    Raises:
        BadInput: neither a car nor sizes are given, or one of them cannot be read.
    """
    front, vehicle = call.maybe("front"), call.maybe("vehicle")
    if vehicle is not None:
        _refuse_both(call)
        from castlenut.command.tires.rotation_of_car import answer_for_car

        return answer_for_car(call)
    if front is None:
        raise BadInput(
            Fault("neither a car nor a size is given", "rotation", "name a car, or give --front")
        )
    return _without_car(call)


def _refuse_both(call: Call) -> None:
    """Refuse sizes beside a car, whose own tires are judged."""
    given = [name for name in ("front", "rear", "drive") if call.maybe(name) is not None]
    given.extend(["directional"] if call.flag("directional") else [])
    if given:
        raise BadInput(
            *(
                Fault("is for a car that is not recorded", f"--{name}", "leave it or the car out")
                for name in given
            )
        )


def _without_car(call: Call) -> int:
    typed = Typed()
    front = typed.read(lambda: read_size(call.text("front"), where="--front"))
    rear_text = call.maybe("rear")
    rear = front if rear_text is None else typed.read(lambda: read_size(rear_text, where="--rear"))
    drive = typed.read(lambda: read_drive(call))
    typed.check()
    if front is None or rear is None:
        return output.BAD_INPUT
    way = Fitment(
        front=AxleFitment(size=front),
        rear=AxleFitment(size=rear),
        is_directional=call.flag("directional"),
    )
    wheels, assumed = shod(way, drive or Drive.REAR)
    verdicts = pattern_verdicts(wheels)
    habit = None if drive is None else usual(drive, with_spare=False)
    notes = [fitment.assumed(assumed), patterns.NO_SPARE]
    if drive is None:
        notes.append(patterns.USUAL_BY_DRIVE)
    if call.as_json:
        output.write_json(
            {
                "vehicle": None,
                "front": front.designation,
                "rear": rear.designation,
                "drive": None if drive is None else drive.value,
                "directional": way.is_directional,
                "usual": None if habit is None else habit.value,
                "patterns": [patterns.pattern_answer(each) for each in verdicts],
                "patterns_left": len(patterns.left(verdicts)),
                "notes": notes,
            }
        )
        return output.FINE
    where = (
        f"{front.designation} all round"
        if front.key == rear.key
        else f"{front.designation} in front, {rear.designation} at the rear"
    )
    turning = ", directional" if way.is_directional else ""
    output.write(f"{where}{turning}: patterns left {patterns.count_left(verdicts)}")
    output.write(
        *patterns.pattern_lines(each for each in verdicts if not needs_spare(each.pattern))
    )
    if habit is not None and drive is not None:
        output.write(f"usual for {drive.value} drive: {habit.value}")
    output.write(*notes, DEFERRING_LINE)
    return output.FINE

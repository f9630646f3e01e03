"""size: what the marking of a tire says, one after the other, and held against the first."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.tires.typed import Typed, rim_width
from castlenut.domain.tires.size import read_size
from castlenut.words.sizes import against, service_answer, size_answer, size_lines

if TYPE_CHECKING:
    from castlenut.command.call import Call


def answer_size(call: Call) -> int:
    """Answer what each size says.

    Raises:
        BadInput: with every size that cannot be read.
    """
    typed = Typed()
    read = [typed.read(partial(read_size, text)) for text in call.texts("sizes")]
    text = call.maybe("rim")
    rim = None if text is None else typed.read(lambda: rim_width(text))
    typed.check()
    sizes = [size for size in read if size is not None]
    if call.as_json:
        output.write_json(
            [{**size_answer(size, rim_width_in=rim), **service_answer(size)} for size in sizes]
        )
        return output.FINE
    for number, size in enumerate(sizes):
        if number:
            output.write("")
        output.write(*size_lines(size, rim_width_in=rim))
        if number:
            output.write(*against(sizes[0], size))
    return output.FINE

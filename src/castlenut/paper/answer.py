"""A paper as the structure of docs/json.md."""

from castlenut.paper.paper import Line, Paper
from castlenut.words.answers import Answer
from castlenut.words.cautions import DEFERRING_LINE


def answer(paper: Paper) -> dict[str, Answer]:
    """Give what stands on a paper, in its order."""
    head = paper.head
    return {
        "paper": paper.kind.value,
        "vehicle": head.slug,
        "description": head.car,
        "garage": list(head.garage),
        "facts": dict(head.facts),
        "is_ready": head.is_ready,
        "ready": head.ready,
        "against": list(head.standing),
        "sections": [
            {"title": section.title, "lines": [_line(each) for each in section.lines]}
            for section in paper.sections
        ],
        "signatures": list(paper.signatures),
        "feed": paper.feed,
        "cautions": list(paper.cautions),
        "deferring": DEFERRING_LINE,
    }


def _line(line: Line) -> dict[str, Answer]:
    return {
        "number": line.number,
        "what": line.what,
        "told": list(line.told),
        "boxes": list(line.boxes),
        "items": list(line.items),
    }

"""What an odd reading may be said to be, in words: each answer with the distance it would give."""

from castlenut.domain.dial import Dial
from castlenut.domain.settling import How, Outcome
from castlenut.words import figures

NAMES = {
    How.ROLLED_OVER: "it rolled over",
    How.REPLACED: "dial replaced",
    How.OTHER_UNIT: "other unit",
    How.CORRECTED: "correct to ...",
    How.STRUCK: "strike it out",
    How.RIGHT: "it is right",
}
"""The answers as a person says them."""


def name(tried: Outcome) -> str:
    """Give an answer with the value it was tried with: `correct to 58,723`."""
    if tried.value is None:
        return NAMES[tried.how]
    match tried.how:
        case How.CORRECTED:
            day = "" if tried.on is None else f" on {tried.on.isoformat()}"
            return f"correct to {tried.value}{day}"
        case How.OTHER_UNIT:
            return f"read in {tried.value}"
        case How.REPLACED:
            return f"dial replaced, new one from {tried.value}"
        case How.ROLLED_OVER | How.STRUCK | How.RIGHT:
            return NAMES[tried.how]


def outcome(tried: Outcome, dial: Dial) -> str:
    """Give what would come of an answer: `123 mi more, 58,723 true`."""
    if tried.fault is not None:
        return tried.fault
    if tried.how is How.STRUCK:
        return "left out for good"
    if tried.distance is None:
        return "left out all the same: it does not fit so either"
    about = "about " if tried.is_estimated else ""
    told = f"{figures.with_unit(tried.distance, dial)} true"
    if tried.run is not None:
        run, there = figures.with_unit(tried.run, dial), figures.shown(tried.distance, dial)
        told = f"{run} more, {there} true"
    others = f"; {figures.count(tried.left_out, 'other')} left out" if tried.left_out else ""
    return f"{about}{told}{others}"


def command(tried: Outcome, slug: str, record: str) -> str:
    """Give the command that says so; what has to be told by hand stands in capitals."""
    value = tried.value
    if value is None and tried.how is How.CORRECTED:
        value = "FIGURE"
    parts = [f"castlenut settle {slug} {record} {tried.how.value}"]
    parts += [value] if value is not None else []
    parts += [f"--on {tried.on.isoformat()}"] if tried.on is not None else []
    return " ".join(parts)

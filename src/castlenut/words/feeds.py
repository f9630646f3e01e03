"""Feeds in words: of what they are, where they are found, what to do with an address."""

from datetime import date

PHONES = "phones in this network reach it while the server runs: castlenut feed serve --lan"
FIXED = "give this computer a fixed address in the router: subscribers keep the address they have"
HOSTED = (
    "calendars on the web fetch from their own servers and reach no local address:"
    " publish into a folder of the web, and keep its address with feed base"
)
NO_NETWORK = "this computer is in no network: there is no address; a published folder needs none"
ONLY_HERE = (
    "listening on this computer alone: phones cannot reach it;"
    " --lan opens it to the phones in this network"
)
COPIES = "what is on phones already stays there until they unsubscribe"


def feed_words(kind: str, name: str | None) -> str:
    """Say which feed it is: `the garage's feed`, `feed of brantholm-cobblegate`."""
    if kind == "garage":
        return "the garage's feed"
    return f"feed of {name}" if name else f"feed of a {kind} no longer here"


def shows(events: int, until: date) -> str:
    """Say what a feed shows: `322 events, to 2027-11-30`."""
    return f"{events} event{'' if events == 1 else 's'}, to {until.isoformat()}"


def target_words(*, written: str | None, fault: str | None, is_elsewhere: bool) -> str:
    """Say how a published target stands."""
    if is_elsewhere:
        return "not on this machine"
    last = f"written {written[:16].replace('T', ' ')} UTC" if written else "not written yet"
    return f"{last}; not brought up to date: {fault}" if fault else last

"""The words of the trade: ours, as titles and kinds have them, and others that find the same."""

import re
from collections.abc import Iterable, Mapping
from functools import cache

OTHER_WORDS: Mapping[str, tuple[str, ...]] = {
    # wheels, brakes, steering, suspension
    "tire": ("tyre",),
    "lug nuts": ("wheel nuts",),
    "rotor": ("disc",),
    "parking brake": ("handbrake", "emergency brake"),
    "brake line": ("brake pipe",),
    "booster": ("servo",),
    "curb": ("kerb",),
    "shock absorber": ("shock", "damper"),
    "sway bar": ("anti-roll bar", "stabilizer"),
    "arm": ("control arm", "wishbone"),
    "tie rod end": ("track rod end",),
    "kingpin": ("swivel pin",),
    "alignment": ("tracking",),
    "bump stop": ("bump rubber",),
    "bushing": ("bush",),
    # driveline, engine, electrics
    "transmission": ("gearbox",),
    "automatic transmission": ("automatic",),
    "driveshaft": ("prop", "propeller shaft"),
    "universal joint": ("U-joint",),
    "axle": ("differential",),
    "valve cover": ("rocker cover",),
    "valve clearance": ("valve lash",),
    "valve train": ("valve gear",),
    "carburetor": ("carb", "carburettor"),
    "gasoline": ("petrol",),
    "muffler": ("silencer",),
    "oil pan": ("sump",),
    "ground strap": ("earth", "earth strap"),
    "generator": ("dynamo",),
    "ignition points": ("contact breaker",),
    "plug wires": ("leads", "HT leads"),
    "headlight": ("headlamp",),
    "turn signal": ("indicator",),
    "wiring": ("loom",),
    # body
    "hood": ("bonnet",),
    "fender": ("wing",),
    "trunk": ("boot",),
    "windshield": ("windscreen",),
    "sill": ("rocker panel",),
    "weather seal": ("weatherstrip",),
    "cowl": ("scuttle",),
    "sedan": ("saloon",),
    "station wagon": ("estate",),
    "convertible": ("drophead",),
}
"""Our word, and the words of other shops and other countries for the same."""

_OURS = {
    **{
        word.lower().replace("-", " "): ours
        for ours, others in OTHER_WORDS.items()
        for word in (ours, *others)
    },
    "wheel nut": "lug nut",  # one of them, as in the torque of it
    "lug nut": "lug nut",
}


def our_words(text: str) -> str:
    """Give a text with every other word in it turned into ours; hyphens stand for blanks then.

    A word of ours that holds another one (automatic transmission) is left whole. Plurals stay
    plurals: `tyres` is `tires`.
    """
    plain = " ".join(text.lower().replace("-", " ").replace("_", " ").split())
    return _pattern().sub(lambda found: _OURS[found[1]] + (found[2] and "s"), plain)


def is_word(text: str) -> bool:
    """Tell whether a text is, as a whole, one of the words above."""
    return " ".join(text.lower().replace("-", " ").split()) in _OURS


def all_words(text: str) -> str:
    """Give the other words for what a text speaks of, ours among them, for finding it by any."""
    plain = our_words(text)
    ours = dict.fromkeys(_OURS[found[1]] for found in _pattern().finditer(plain))
    return " ".join(word for each in ours for word in (each, *OTHER_WORDS.get(each, ())))


@cache
def _pattern() -> re.Pattern[str]:
    longest_first: Iterable[str] = sorted(_OURS, key=len, reverse=True)
    return re.compile(rf"\b({'|'.join(map(re.escape, longest_first))})((?:e?s)?)\b")

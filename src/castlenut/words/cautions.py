"""The cautions of the work, and the line that stands below all of them."""

from functools import lru_cache

CAUTIONS = {
    "lift": (
        "Firm level ground, wheels chocked, stands at points that hold; a jack lifts, it does not"
        " hold. Shake the car before going under."
    ),
    "spring": (
        "A loaded spring or torsion bar can kill: support the arm, use the right compressor, never"
        " stand in its line."
    ),
    "splitrim": (
        "A lock-ring wheel is inflated only in a cage; no hammer under pressure, no mixed or mended"
        " parts. If unsure, send it out."
    ),
    "inflate": (
        "Bead seating can burst: clip-on chuck, stand aside, not past the tire maker's seating"
        " pressure."
    ),
    "runeng": (
        "Exhaust gas kills in a closed room: hose to outside, doors open, transmission in neutral,"
        " brake on."
    ),
    "rotating": (
        "Keep hair, cuffs and leads from fan, belts and shafts; key out before hands go in."
    ),
    "fuel": (
        "Vapor lies low and lights from a lamp or a heater: no flame, no spark, battery off, air"
        " moving, extinguisher at hand."
    ),
    "weld": (
        "Battery and alternator off, fuel lines and tank out or safe, trim and sealer cleared both"
        " sides, somebody watching and a look again 30 minutes after; zinc, paint and sealer fume"
        " makes ill: grind back, draw it off."
    ),
    "batt": (
        "Acid burns and charging gas explodes: goggles, no sparks, ground cable off first and on"
        " last; mind the polarity of old cars."
    ),
    "airbag": (
        "If an airbag or tensioner is fitted: battery off and wait as its book says; carry it"
        " facing away; no meter on its leads."
    ),
    "hot": (
        "Hot coolant and oil scald: let it cool, turn the cap to the stop first, keep hands off the"
        " fan."
    ),
    "road": (
        "Try the brakes at walking pace first, then a quiet road; know the way to stop if they"
        " fail."
    ),
    "bfluid": (
        "Brake fluid harms eyes and paint; never mix silicone and glycol; never reuse. No drive"
        " before the pedal holds hard."
    ),
    "dust": (
        "Old friction material may hold asbestos: no air line, no dry brush; wet it or use a HEPA"
        " vacuum, bag the waste."
    ),
    "lead": (
        "Old paint may hold lead and plating cadmium: no dry sanding or burning; wash before"
        " eating."
    ),
    "chem": (
        "Solvent, wax and paint: gloves, mask for the stuff in use, air; rags outside in a lidded"
        " can."
    ),
}
"""Caution by key, in the order they are told: what kills at once first."""

DEFERRING_LINE = (
    "The vehicle's own service manual, local codes and licensed practice come first; this program"
    " plans, it does not certify."
)
"""Stands below every caution, and at the end of every working."""


@lru_cache(maxsize=1024)  # the same few rules stand for all items
def sentences(keys: tuple[str, ...]) -> tuple[str, ...]:
    """Give the cautions of some keys in the order they are told, each once."""
    wanted = set(keys)
    return tuple(sentence for key, sentence in CAUTIONS.items() if key in wanted)

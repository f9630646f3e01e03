"""Wendlecot Millrace: out of a barn, and nobody knows anything."""

from castlenut.domain.findings import Decided
from castlenut.garage.changes.findings import Found
from tests.fleet.bench import Bench, on, part


def enter(car: Bench) -> None:
    car.taken_on(
        -6,
        "wendlecot-millrace",
        {
            "description": "Wendlecot Millrace",
            "year": "1956",
            "owner": "Rufus Penhallick-Gray",
            "phone": "555-0134",
            "vin": "WM-5 60177",
            "drive": "rear",
            "unit": "mi",
            "digits": "5",
            "use": "stored",
            "kept_at": "garage",
        },
    )
    car.record(
        -6, "stay", {"from": on(-6), "note": "the owner says: stood about 15 years in the barn"}
    )
    car.found(
        -6,
        part("tire", "all", size="6.40-13", construction="bias", tin="QYB7 2309"),
        part("wheel", "all", type="disc"),
    )
    car.told(
        -6,
        "engine - unknown",
        "engine oil - unknown",
        "valve train - unknown",
        "spark plug - unknown",
        "distributor - unknown",
        "ignition points - unknown",
        "air filter - unknown",
        "drive belt - unknown",
        "carburetor - unknown",
        "fuel tank - unknown",
        "fuel hose - unknown",
        "coolant - unknown",
        "coolant hose - unknown",
        "battery - unknown",
        "generator - unknown",
        "lights - unknown",
        "transmission - unknown",
        "axle rear unknown",
        "kingpin L,R unknown",
        "tie rod end L,R unknown",
        "steering box - unknown",
        "spring LR,RR unknown",
        "shock absorber all unknown",
        "wheel bearing LF,RF unknown",
        "brake shoe all unknown",
        "wheel cylinder all unknown",
        "master cylinder - unknown",
        "brake hose LF,RF,rear unknown",
        "brake line - unknown",
        "brake fluid - unknown",
        "parking brake rear unknown",
        "exhaust - unknown",
        "tire all unknown",
        "wheel all unknown",
        "tire set - unknown",
        "seat belt - n/a it never had any",
    )
    # found on the lift, welded next door: paint, wax and a look at the wiring are open since
    car.discovered(
        -4,
        47318,
        Found(what="sill seam rusted through", where="L", nature="rust", decided=Decided.MEND),
    )
    car.mended(-2, 47318, "sill seam", "weld", hours="4", by="Copse Hill Welding (invented)")
    car.reading(-1, 47318)

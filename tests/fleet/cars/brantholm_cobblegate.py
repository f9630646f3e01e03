"""Brantholm Cobblegate: a daily car in salt and town traffic, read once a month."""

from castlenut.domain.findings import Decided
from castlenut.garage.changes.findings import Found
from tests.fleet.bench import Bench, part

READINGS = (
    (-691, 117000),
    (-661, 117690),
    (-631, 118400),
    (-601, 119110),
    (-571, 119830),
    (-541, 120545),
    (-511, 121170),
    (-481, 121760),
    (-451, 122320),
    (-421, 122900),
    (-391, 123480),
    (-361, 124060),
    (-331, 124650),
    (-301, 125230),
    (-271, 125800),
    (-241, 126380),
    (-211, 126960),
    (-181, 127530),
    (-151, 128110),
    (-121, 128680),
    (-91, 129250),
    (-61, 129830),
    (-31, 130410),
    (-1, 131000),
)
BEFORE = "Tolquin Lane Garage (invented)"


def enter(car: Bench) -> None:
    car.taken_on(
        -691,
        "brantholm-cobblegate",
        {
            "description": "Brantholm Cobblegate",
            "year": "1986",
            "owner": "Tobin Wrackett",
            "phone": "555-0163",
            "plate": "QY 8619",
            "vin": "9ZBBR21D3GP300186",
            "drive": "rear",
            "unit": "mi",
            "digits": "6",
            "use": "daily",
            "kept_at": "owner",
        },
    )
    car.exposed(-691, "salt,stop-start")
    car.came_with(-691, -1870, 91000, part("timing belt", interference="yes"))
    car.came_with(
        -691,
        -700,
        116800,
        part("engine", timing="belt"),
        part("engine oil"),
        part("valve train", adjust="hydraulic"),
        part("spark plug", core="copper"),
        part("distributor", ignition="electronic"),
        part("plug wires"),
        part("air filter", type="paper"),
        part("drive belt", type="V-belt"),
        part("exhaust"),
        part("fuel filter"),
        part("fuel hose", hose="fluoro-lined"),
        part("coolant", type="long-life"),
        part("coolant hose", material="silicone"),
        part("battery", volts="12", type="sealed"),
        part("generator", type="alternator", volts="12"),
        part("lights"),
        part("transmission"),
        part("clutch", linkage="cable"),
        part("axle", "rear", diff="open"),
        part("universal joint", "front,rear", type="sealed"),
        part("wheel bearing", "LF,RF", service="repackable"),
        part("ball joint", "LF lower,RF lower", grease="sealed"),
        part("tie rod end", "L,R", grease="sealed"),
        part("steering rack", filled="sealed"),
        part("alignment"),
        part("shock absorber", "all", type="telescopic"),
        part("rotor", "LF,RF", friction="disc"),
        part("caliper", "LF,RF", slides="yes"),
        part("brake shoe", "LR,RR", lining="bonded", adjuster="self"),
        part("drum", "LR,RR"),
        part("master cylinder", circuits="dual"),
        part("brake hose", "LF,RF,rear", material="rubber"),
        part("brake line", material="copper-nickel"),
        part("brake fluid", fluid="DOT 4"),
        part("parking brake", "rear", type="cable"),
        part("underbody"),
        part("drain", "LF,RF,LR,RR", area="door"),
        part("cavity", "L,R", area="sill"),
        part("weather seal"),
        part("latch"),
        part("seat belt", "LF,RF"),
    )
    car.fit(
        -691,
        117000,
        part("wheel", "all", rim_width="5.5", rim_diameter="14", offset="35"),
        part(
            "tire",
            "all",
            size="185/65R14",
            construction="radial",
            service="86T",
            tread="symmetric",
            new_depth="10/32",
        ),
        hours="1.5",
        materials="312",
    )
    car.fit(
        -691,
        112000,
        part("brake pad", "LF,RF", friction="disc", new="10 mm", part="TL-8841"),
        hours="1.2",
        materials="48",
        by=BEFORE,
        note="told at intake, from their bill",
        since=-920,
    )
    car.readings(*READINGS)
    car.done(
        -690,
        117020,
        "tire-balance",
        "lock-clearance",
        "tire-pressure",
        "bed-friction",
        "hub-repack",
        hours="2.4",
        materials="12",
    )
    car.done(-655, 117830, "oil", "wheel-nuts", "hub-play", hours="1.5", materials="31")
    car.done(-530, 120800, "brake-fluid", "oil", "fuel-filter", hours="2.2", materials="58")
    car.done(-505, 121290, "brake-recheck", hours="0.5")
    car.rotated(-504, 121310, "LF=LR,LR=LF,RF=RR,RR=RF", hours="0.6")
    car.done(-500, 121390, "wheel-nuts", by="owner")
    car.done(
        -330, 124670, "oil", "axle-oil", "compression", "lamp-aim", hours="2.6", materials="64"
    )
    car.done(-250, 126200, "oil", "under-look", "exhaust", "belt-look", hours="1.6", materials="33")
    car.rotated(-249, 126215, "LF=LR,LR=LF,RF=RR,RR=RF", hours="0.6")
    car.done(-245, 126300, "wheel-nuts", by="owner")
    car.done(
        -215,
        126880,
        "drain-door",
        "cavity-wax",
        "under-wash",
        hours="4.2",
        materials="58",
    )
    car.done(
        -110,
        128890,
        "oil",
        "transmission-level",
        "axle-level",
        "plugs-renew",
        "leads",
        "air-paper",
        "fuel-filter",
        "fuel-hose-look",
        "belt-look",
        "hose-coolant-look",
        "ign-timing",
        "mounts",
        hours="3.4",
        materials="96",
    )
    # the pads: new 10 mm at 112,000, so 1/8 in near 133,500
    car.done(
        -83,
        129400,
        "pad-measure=4.5mm",
        "shoe-selfadj",
        "drum-measure",
        "caliper-slides",
        "rotor-measure",
        "hydraulics-look",
        "hose-look",
        "pipe-look",
        "wheel-look",
        "hub-play=0.003in",
        "parking-brake",
        "ball-joint-play",
        "linkage-play",
        "shock-look",
        "steering-bolts",
        "steering-lash",
        "exhaust",
        "under-look",
        hours="4.6",
        materials="19",
    )
    car.rotated(-83, 129400, "LF=LR,LR=LF,RF=RR,RR=RF", hours="0.6")
    car.done(-80, 129460, "wheel-nuts", by="owner")
    car.discovered(
        -80,
        129460,
        Found(
            what="rear main seal weeps",
            nature="leak",
            decided=Decided.WATCH,
            watch="5000mi",
        ),
    )
    # done elsewhere on the way here, its sheet in hand
    elsewhere = "Tern Lane Alignment (invented)"
    car.done(-40, 130230, "align", by=elsewhere, note="toe 1/16 in on its sheet")
    car.done(
        -40,
        130230,
        "clutch-play",
        "cavity-look",
        "floor-damp",
        "parking-cable",
        "seals",
        "hinges",
        "belt-seat",
        "charging",
        "lamp-aim",
        "wiring-look",
        "coolant-test",
        hours="3.4",
        materials="11",
    )
    car.done(-40, 130230, "lock-clearance", hours="0.2", note="at full lock, after the alignment")
    car.declined(
        -40, "drain-door", who="Tobin Wrackett", why="wants to see to the door drains himself"
    )
    car.booked(
        -3, 7, "timing-belt", "brake-fluid", "oil", hours=7, note="keys by post the evening before"
    )


def measure(car: Bench) -> None:
    """Enter the tread measured at two rotations, and the set for the winter that lies by."""
    car.again("brantholm-cobblegate")
    car.laid_by(
        -640,
        4,
        part(
            "tire",
            None,
            size="185/65R14",
            construction="radial",
            service="86Q",
            tread="directional",
            studded="yes",
            new_depth="11/32",
            tin="QWLK 4822",
        ),
        part("wheel", None, rim_width="5.5", rim_diameter="14", offset="35"),
        note="the winter set, on its own wheels",
    )
    car.walked_round(-249, 126215, LF="8 8 8", RF="8 8 8", LR="8 8 7", RR="8 8 8")
    car.walked_round(-83, 129400, LF="7 7 7", RF="7 7 7", LR="7 7 7", RR="7 7 6")

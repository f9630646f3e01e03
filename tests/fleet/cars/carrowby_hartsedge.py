"""Carrowby Hartsedge: driven in summer only, laid up until spring, aging all the same."""

from tests.fleet.bench import Bench, part


def enter(car: Bench) -> None:
    car.taken_on(
        -1690,
        "carrowby-hartsedge",
        {
            "description": "Carrowby Hartsedge",
            "year": "1971",
            "owner": "Mirela Dussault-Finch",
            "phone": "555-0128",
            "email": "mirela@example.org",
            "plate": "QY 7133",
            "vin": "CH71C-20986",
            "drive": "rear",
            "unit": "mi",
            "digits": "5",
            "use": "seasonal",
            "kept_at": "garage",
        },
    )
    # five summers
    car.readings(
        (-1690, 40900),
        (-1600, 41150),
        (-1515, 41480),
        (-1320, 41490),
        (-1150, 42240),
        (-960, 42250),
        (-860, 42600),
        (-790, 42990),
        (-590, 43010),
        (-505, 43260),
        (-225, 43520),
        (-120, 43850),
        (-48, 44120),
    )
    car.laid_up(-1515, -1330, "winter")
    car.laid_up(-1150, -965, "winter")
    car.laid_up(-785, -595, "winter")
    car.laid_up(-420, -230, "winter")
    car.laid_up(-48, 120, "in the yard, under a cover that breathes")

    car.came_with(
        -1690,
        -1700,
        40890,
        part("engine", timing="chain"),
        part("engine oil"),
        part("valve train", adjust="manual"),
        part("spark plug", core="copper"),
        part("distributor", ignition="points"),
        part("ignition points", ignition="points"),
        part("air filter", type="paper"),
        part("drive belt", type="V-belt"),
        part("carburetor", dashpot="yes"),
        part("fuel tank", fuel="E5"),
        part("fuel hose", hose="fluoro-lined"),
        part("coolant", type="green"),
        part("lights"),
        part("generator", type="alternator", volts="12"),
        part("transmission"),
        part("axle", "rear", diff="open"),
        part("universal joint", "front,rear", type="greasable"),
        part("trunnion", "LF,RF", lubricant="oil"),
        part("steering rack", filled="grease"),
        part("tie rod end", "L,R", grease="sealed"),
        part("wheel bearing", "LF,RF", service="repackable"),
        part("brake pad", "LF,RF", friction="disc"),
        part("caliper", "LF,RF", slides="no"),
        part("brake shoe", "LR,RR", lining="bonded", adjuster="manual"),
        part("master cylinder", circuits="dual"),
        part("brake fluid", fluid="DOT 4"),
        part("parking brake", "rear", type="cable"),
        part("weather seal"),
        part("latch"),
    )
    car.fit(
        -1690,
        40900,
        part("brake hose", "LF,RF,rear", material="rubber", part="CH-77"),
        part("battery", volts="12", type="flooded"),
        part("wheel", "all", type="disc", rim_width="4.5", rim_diameter="13", offset="28"),
        part(
            "tire",
            "all",
            size="155R13",
            construction="radial",
            service="78S",
            tread="symmetric",
            new_depth="10/32",
        ),
        hours="3.5",
        materials="465",
        note="hoses, battery and tires new",
    )
    car.done(
        -1688, 40905, "brake-fluid", "lock-clearance", "tire-balance", hours="1.6", materials="14"
    )
    car.done(
        -1600,
        41150,
        "brake-recheck",
        "wheel-nuts",
        "oil",
        "trunnion-oil",
        hours="1.4",
        materials="28",
    )
    car.done(-1330, 41488, "return", "oil", hours="2.6", materials="28")
    car.done(
        -965,
        42248,
        "return",
        "oil",
        "brake-fluid",
        "belt-renew",
        "transmission-oil",
        hours="4.7",
        materials="83",
    )
    car.done(-860, 42600, "brake-recheck", "wheel-nuts", hours="0.5")
    car.done(-745, 43000, "coolant-green", hours="1.4", materials="22", note="while it stood")
    car.done(-595, 43000, "return", "oil", "valve-clear", hours="3.8", materials="31")
    car.done(-430, 43480, "brake-fluid", "oil", hours="2.1", materials="42")
    car.done(
        -229,
        43490,
        "return",
        "brake-recheck",
        "hub-repack",
        "pad-measure=8.5mm",
        "shoe-measure=4.1mm",
        "axle-oil",
        "points-renew",
        "plugs-renew",
        "fuel-cap",
        "tank-look",
        hours="6.2",
        materials="68",
    )
    car.done(-215, 43530, "wheel-nuts", by="owner", note="told by telephone")
    car.done(
        -120,
        43850,
        "brake-recheck",
        "hub-play=0.002in",
        "wheel-look",
        "linkage-play",
        "steering-lash",
        "steering-bolts",
        "hydraulics-look",
        "charging",
        "lamp-aim",
        "wiring-look",
        hours="2.4",
    )
    car.done(-110, 43890, "wheel-nuts", by="owner", note="told by telephone")
    # put away
    car.done(
        -50,
        44118,
        "oil",
        "oil-level",
        "fuel-hose-look",
        "coolant-test=-34F",
        "points-set",
        "distributor-oil",
        "plugs-clean",
        "valve-clear",
        "air-paper",
        "belt-look",
        "carb-linkage",
        "dashpot",
        "idle-mix",
        "transmission-level",
        "axle-level",
        "ujoint-grease",
        "trunnion-oil",
        "mounts",
        "compression=82%",
        hours="4.1",
        materials="47",
        note="tank filled, stabilizer in",
    )
    car.corrected(-50, "fuel tank", attributes="fuel=stabilized")
    car.done(
        -49,
        44119,
        "tire-tread=7/32",
        "shoe-adjust",
        "pad-measure=8.1mm",
        "shoe-measure=3.9mm",
        "parking-brake",
        "parking-cable",
        "hose-look",
        "hydraulics-look",
        "tank-look",
        "seals",
        "hinges",
        hours="2.5",
    )
    car.done(-48, 44120, "layup-start", hours="2.5", materials="12")
    car.measured(-45, 44120, "battery-test", "12.61 V")
    car.done(-12, 44120, "layup-walk", hours="0.2", note="dry, no nests, tires up")

"""Mossburn Stackyard: a heavy pickup with dual rear wheels, towing in dust."""

from tests.fleet.bench import Bench, part


def enter(car: Bench) -> None:
    car.taken_on(
        -900,
        "mossburn-stackyard",
        {
            "description": "Mossburn Stackyard",
            "year": "1978",
            "owner": "Hamish Corvane",
            "phone": "555-0155",
            "plate": "QY 78 MS",
            "vin": "MS78-K33-10419",
            "drive": "rear",
            "dual": "yes",
            "weight_lb": "10500",
            "unit": "mi",
            "digits": "5",
            "use": "daily",
            "kept_at": "owner",
        },
    )
    car.exposed(-900, "towing,dust")
    car.readings(
        (-900, 30200),
        (-780, 32550),
        (-660, 34900),
        (-540, 37260),
        (-420, 39600),
        (-300, 42250),
        (-200, 44450),
        (-120, 46200),
        (-60, 47550),
        (-10, 48430),
        (-1, 48520),
    )
    car.came_with(
        -900,
        -910,
        30000,
        part("engine", timing="chain"),
        part("engine oil"),
        part("valve train", adjust="hydraulic"),
        part("spark plug", core="copper"),
        part("distributor", ignition="electronic"),
        part("air filter", type="paper"),
        part("drive belt", type="V-belt"),
        part("fuel filter"),
        part("fuel hose", hose="fluoro-lined"),
        part("coolant", type="long-life"),
        part("battery", volts="12", type="sealed"),
        part("lights"),
        part("automatic transmission"),
        part("axle", "rear", diff="open"),
        part("universal joint", "front,rear", type="greasable"),
        part("steering box", filled="oil"),
        part("ball joint", "LF upper,RF upper,LF lower,RF lower", grease="fitting"),
        part("tie rod end", "L,R", grease="fitting"),
        part("spring", "LR,RR", type="leaf", fittings="no"),
        part("wheel bearing", "LF,RF", service="repackable"),
        part("brake shoe", "LF,RF", lining="bonded", adjuster="self"),
        part("drum", "LF,RF,LR,RR"),
        part("master cylinder", circuits="dual"),
        part("brake hose", "LF,RF,rear", material="rubber"),
        part("brake fluid", fluid="DOT 3"),
        part("parking brake", "rear", type="cable"),
        part("extinguisher", type="dry chemical", rechargeable="yes", made="2021-03"),
    )
    car.fit(
        -900,
        30200,
        part("brake shoe", "LR,RR", lining="bonded", adjuster="self", new="1/4 in", part="MS-R12"),
        part("wheel", "all", type="heavy", rim_width="6", rim_diameter="16.5", offset="129"),
        part(
            "tire",
            "front",
            size="8.00-16.5",
            construction="bias",
            service="112/109L",
            tread="symmetric",
            new_depth="15/32",
        ),
        hours="4.5",
        materials="540",
    )
    car.fit(
        -900,
        30200,
        part(
            "tire",
            "rear",
            size="8.00-16.5",
            construction="bias",
            service="112/109L",
            tread="asymmetric",  # a traction tread: front and rear do not mix
            new_depth="16/32",
        ),
        hours="2.0",
        materials="580",
    )
    car.done(
        -898,
        30240,
        "bed-friction",
        "lock-clearance",
        "tire-balance",
        "tire-pressure",
        "dual-match",
        "hub-repack",
        "drum-measure",
        hours="3.8",
        materials="16",
    )
    car.done(-880, 30640, "wheel-nuts-heavy", "hub-play", hours="0.5")
    car.done(-840, 31400, "wheel-nuts-heavy", "oil", hours="0.9", materials="34")
    car.done(-720, 33720, "oil", "grease", "ujoint-grease", hours="1.4", materials="41")
    car.done(-540, 37260, "brake-fluid", "oil", "hydraulics-look", hours="2.5", materials="52")
    car.done(-525, 37560, "brake-recheck", "wheel-nuts-heavy", hours="0.8")
    car.done(-420, 39600, "atf", "oil", hours="2.5", materials="71")
    car.done(
        -300,
        42250,
        "oil",
        "grease",
        "axle-oil",
        "air-paper",
        "fuel-filter",
        "plugs-renew",
        "box-level",
        "compression=80%",
        hours="3.9",
        materials="97",
    )
    # a pair moves as a pair: inside becomes outside; the fronts change sides
    car.rotated(-161, 45280, "LF=RF,RF=LF,LRI=LRO,LRO=LRI,RRI=RRO,RRO=RRI", hours="1.1")
    car.done(
        -160,
        45300,
        "oil",
        "brake-fluid",
        "hub-repack",
        "shoe-selfadj",
        "drum-measure",
        "hydraulics-look",
        "ball-joint-play",
        "linkage-play=1/8in",
        "steering-lash=1 1/2 in",
        "steering-bolts",
        "tire-balance",
        "wheel-look",
        "ext-year",
        "lamp-aim",
        "ign-timing",
        "wiring-look",
        "coolant-test=-25F",
        hours="9.5",
        materials="74",
    )
    car.done(-128, 46020, "wheel-nuts-heavy", "hub-play", "brake-recheck", hours="0.9")
    car.done(
        -62,
        47500,
        "shoe-measure@LF=5/32in",
        "shoe-measure@RF=5/32in",
        hours="0.8",
    )
    car.done(
        -40,
        48000,
        "grease",
        "ujoint-grease",
        "oil",
        "u-bolts",
        "leaf-look",
        "ride-height",
        "atf-level",
        "axle-level",
        "air-paper",
        "fuel-filter",
        "fuel-hose-look",
        "belt-look",
        "hose-look",
        "parking-brake",
        "parking-cable",
        "plugs-clean",
        "mounts",
        "lights",
        hours="3.8",
        materials="88",
    )
    car.done(-40, 48000, "lamp-aim", hours="0.3", note="after the ride height")
    # the rear wheels off, and the first of three retorques
    car.done(
        -30,
        48200,
        "shoe-measure@LR=3/64in",
        "shoe-measure@RR=3/64in",
        hours="1.6",
        note="linings thin, new ones ordered",
    )
    car.measured(-30, 48200, "dual-match", "0.6in", "diameters LRI 28.5 in, LRO 27.9 in")
    car.measured(-30, 48200, "tire-tread@front", "5/32")
    car.measured(-30, 48200, "tire-tread@rear", "10/32")
    car.done(-22, 48290, "wheel-nuts-heavy", hours="0.3", note="the 100-mile point of the rear")
    # what was ordered lies here since, for the next time the drums are off
    car.shelved(
        -9,
        part("brake shoe", "LR,RR", lining="bonded", adjuster="self", new="1/4 in", part="MS-R14"),
        part("wheel cylinder", "LR,RR", part="MS-C07", made="2026-05"),
    )

"""Dunnard Quayside: kingpins, six volts, and a dial that began again."""

from decimal import Decimal

from tests.fleet.bench import Bench, on, part


def enter(car: Bench) -> None:
    car.taken_on(
        -1100,
        "dunnard-quayside",
        {
            "description": "Dunnard Quayside",
            "year": "1959",
            "owner": "Mirela Dussault-Finch",
            "phone": "555-0128",
            "email": "mirela@example.org",
            "plate": "QY 5904",
            "vin": "DQ59 11873",
            "drive": "rear",
            "unit": "mi",
            "digits": "5",
            "use": "occasional",
            "kept_at": "owner",
        },
    )
    car.readings(
        (-1100, 98420),
        (-900, 98870),
        (-712, 99290),
    )
    car.record(
        -700,
        "odometer_event",
        {
            "event": "replaced",
            "on": on(-700),
            "last": 99310,
            "start": 12,
            "note": "the old dial stuck; another one fitted",
        },
    )
    car.record(
        -400,
        "odometer_event",
        {
            "event": "factor",
            "on": on(-400),
            "factor": Decimal("1.041"),
            "note": "taller tires since that day",
        },
    )
    car.readings((-560, 480), (-400, 930), (-310, 1225), (-215, 1523), (-90, 1690), (-1, 1840))
    car.record(
        -1100,
        "figure",
        {
            "name": "steering_wheel_diameter",
            "value": 18,
            "unit": "in",
            "source": "measured at intake",
        },
    )
    car.came_with(
        -1100,
        -1110,
        98400,
        part("engine", timing="chain"),
        part("engine oil"),
        part("valve train", adjust="manual"),
        part("spark plug", core="copper"),
        part("distributor", ignition="points"),
        part("ignition points", ignition="points"),
        part("air filter", type="oil bath"),
        part("drive belt", type="V-belt"),
        part("carburetor", dashpot="no"),
        part("fuel tank", fuel="E0"),
        part("fuel hose", hose="fluoro-lined"),
        part("coolant", type="green"),
        part("battery", volts="6", type="flooded"),
        part("generator", type="DC generator", volts="6", oil_hole="yes"),
        part("lights"),
        part("transmission"),
        part("axle", "rear", diff="open"),
        part("kingpin", "L,R", bush="plain", grease="fitting"),
        part("tie rod end", "L,R", grease="fitting"),
        part("idler", grease="fitting"),
        part("steering box", filled="oil"),
        part("wheel bearing", "LF,RF", service="repackable"),
        part("brake shoe", "all", lining="riveted", adjuster="manual"),
        part("master cylinder", circuits="single"),
        part("wheel cylinder", "all"),
        part("brake hose", "LF,RF,rear", material="rubber"),
        part("brake fluid", fluid="DOT 4"),
        part("parking brake", "rear", type="rod"),
    )
    car.fit(
        -1090,
        98440,
        part("wheel", "all", type="disc", rim_width="4.5", rim_diameter="15", offset="30"),
        hours="1.0",
        materials="80",
    )
    car.done(-712, 99290, "hub-repack-old", "hub-play=0.003in", hours="2.4", materials="18")
    car.fit(
        -400,
        930,
        # no load index: that of its day is the ply rating, and what a tire must carry is unknown
        part(
            "tire",
            "all",
            size="5.90-15",
            construction="bias",
            tread="symmetric",
            new_depth="11/32",
        ),
        hours="1.6",
        materials="392",
    )
    car.done(-399, 931, "lock-clearance", "tire-balance", "tire-pressure", hours="0.9")
    car.done(-380, 990, "wheel-nuts", by="owner")
    car.done(-300, 1245, "brake-fluid", "coolant-green", "oil", hours="3.4", materials="58")
    car.done(-215, 1523, "kingpin", "brake-recheck", "wheel-nuts", hours="0.9", materials="6")
    car.done(-170, 1542, "grease-old", hours="0.8", materials="6")
    # everything but kingpins, linkage grease and hubs, which the promises below are about
    car.done(
        -90,
        1690,
        "steering-lash=2.3in",
        "oil",
        "shoe-adjust",
        "shoe-measure=5.5mm",
        "hose-look",
        "hydraulics-look",
        "wheel-look",
        "hub-play=0.003in",
        "tire-tread=9/32",
        "parking-brake",
        "fuel-hose-look",
        "tank-look",
        "fuel-cap",
        "linkage-play=1/8in",
        "steering-bolts",
        "box-level-old",
        "axle-oil-old",
        "transmission-oil-old",
        "carb-linkage",
        "idle-mix",
        "air-oilbath",
        "belt-renew",
        "points-renew",
        "distributor-oil",
        "plugs-renew",
        "valve-clear",
        "compression=85%",
        "generator-oil",
        "charging",
        "mounts",
        "lamp-aim",
        "wiring-look",
        "coolant-test=-20F",
        hours="14",
        materials="146",
        note="the yearly round; steering wheel 18 in",
    )
    car.done(-60, 1742, "wheel-nuts", by="owner", note="told by telephone")

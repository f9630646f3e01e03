"""Tessarin Pim: a small car in kilometers, on directional tires, with a figure taken down wrong."""

from tests.fleet.bench import Bench, part


def enter(car: Bench) -> None:
    car.taken_on(
        -620,
        "tessarin-pim",
        {
            "description": "Tessarin Pim",
            "year": "1988",
            "owner": "Benedek Aalrust",
            "phone": "555-0189",
            "plate": "QY 8823",
            "vin": "9ZTPM11A5JT041988",
            "drive": "front",
            "unit": "km",
            "digits": "6",
            "use": "daily",
            "kept_at": "owner",
        },
    )
    car.readings(
        (-620, 64900),
        (-500, 69200),
        (-400, 72400),
        (-310, 75300),
        (-240, 77795),
        (-180, 80400),
        (-120, 83350),
        (-82, 84512),
        (-36, 85930),
    )
    car.came_with(
        -620,
        -640,
        64000,
        part("engine", timing="chain"),
        part("engine oil"),
        part("valve train", adjust="hydraulic"),
        part("spark plug", core="copper"),
        part("distributor", ignition="electronic"),
        part("air filter", type="paper"),
        part("drive belt", type="V-belt"),
        part("exhaust"),
        part("fuel filter"),
        part("fuel hose", hose="fluoro-lined"),
        part("coolant", type="long-life"),
        part("battery", volts="12", type="sealed"),
        part("lights"),
        part("transmission"),
        part("clutch", linkage="cable"),
        part("CV joint", "LF,RF"),
        part("steering rack", filled="sealed"),
        part("tie rod end", "L,R", grease="sealed"),
        part("wheel bearing", "LF,RF", service="sealed"),
        part("brake pad", "LF,RF", friction="disc"),
        part("rotor", "LF,RF", friction="disc"),
        part("caliper", "LF,RF", slides="yes"),
        part("brake shoe", "LR,RR", lining="bonded", adjuster="self"),
        part("master cylinder", circuits="dual"),
        part("brake hose", "LF,RF,rear", material="rubber"),
        part("brake fluid", fluid="DOT 4"),
        part("parking brake", "rear", type="cable"),
        part("latch"),
    )
    car.fit(
        -618,
        65000,
        part("wheel", "all", rim_width="4.5", rim_diameter="13", offset="38"),
        part(
            "tire",
            "LF,LR",
            size="155/70R13",
            construction="radial",
            service="75S",
            tread="directional",
            turns="left",
            new_depth="8mm",
        ),
        hours="0.8",
        materials="114",
    )
    car.fit(
        -618,
        65000,
        part(
            "tire",
            "RF,RR",
            size="155/70R13",
            construction="radial",
            service="75S",
            tread="directional",
            turns="right",
            new_depth="8mm",
        ),
        hours="0.6",
        materials="114",
    )
    car.done(-617, 65030, "lock-clearance", "tire-balance", "tire-pressure", hours="0.8")
    car.done(-600, 65600, "wheel-nuts", "oil", hours="0.7", materials="26")
    car.done(
        -400, 72400, "oil", "brake-fluid", "air-paper", "fuel-filter", hours="2.2", materials="71"
    )
    car.rotated(-399, 72430, "LF=LR,LR=LF,RF=RR,RR=RF", hours="0.6")
    car.done(-396, 72530, "wheel-nuts", by="owner")
    car.rotated(-240, 77795, "LF=LR,LR=LF,RF=RR,RR=RF", hours="0.6")
    car.done(-237, 77920, "wheel-nuts", "brake-recheck", hours="0.6")
    car.done(
        -120,
        83350,
        "oil",
        "tire-tread=5.5mm",
        "cv-boot",
        "clutch-play",
        "transmission-level",
        "belt-look",
        "hose-look",
        "fuel-hose-look",
        "parking-brake",
        "parking-cable",
        "exhaust",
        "pad-measure=6.2mm",
        "rotor-measure",
        "caliper-slides",
        "hydraulics-look",
        "shoe-selfadj",
        "hub-sealed",
        "wheel-look",
        "linkage-play",
        "steering-lash=25mm",
        "steering-bolts",
        "plugs-renew",
        "air-paper",
        "fuel-filter",
        "mounts",
        "lamp-aim",
        "wiring-look",
        "ign-timing",
        "hinges",
        hours="5.2",
        materials="118",
    )
    car.done(-117, 83450, "wheel-nuts", by="owner")
    car.done(-36, 85930, "coolant-test=-28C", hours="0.3")
    # two digits swapped on the telephone, and the figure given again
    car.reading(-1, 68995, "by telephone")
    car.reading(-1, 86995, "by telephone, asked again")

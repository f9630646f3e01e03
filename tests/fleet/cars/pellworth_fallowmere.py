"""Pellworth Fallowmere: fifty days out of a restoration, and one point of it forgotten."""

from tests.fleet.bench import Bench, on, part


def enter(car: Bench) -> None:
    car.taken_on(
        -96,
        "pellworth-fallowmere",
        {
            "description": "Pellworth Fallowmere",
            "year": "1976",
            "owner": "Odile Marrowby",
            "phone": "555-0142",
            "plate": "QY 7614",
            "vin": "PF76-004417",
            "drive": "rear",
            "unit": "mi",
            "digits": "5",
            "use": "occasional",
            "kept_at": "owner",
        },
    )
    car.record(-96, "stay", {"from": on(-96), "over": on(-48), "at": 61230})

    # what stayed on the car, with the previous garage's dates
    car.came_with(
        -96,
        -130,
        61150,
        part("steering box", filled="oil"),
        part("alignment"),
        part("tie rod end", "L,R", grease="sealed"),
        part("ball joint", "LF upper,RF upper,LF lower,RF lower", grease="fitting"),
        part("shock absorber", "all", type="telescopic"),
        part("wheel bearing", "LF,RF", service="repackable"),
        part("brake pad", "LF,RF", friction="disc"),
        part("brake shoe", "LR,RR", lining="bonded", adjuster="self"),
        part("master cylinder", circuits="dual"),
        part("brake hose", "LF,RF,rear", material="rubber"),
        part("brake fluid", fluid="DOT 4"),
        part("parking brake", "rear", type="cable"),
        part("drive belt", type="V-belt"),
        part("battery", volts="12", type="flooded"),
        part("generator", type="alternator", volts="12"),
        part("lights"),
        part("exhaust"),
        part("fuel hose", hose="fluoro-lined"),
        part("ignition points", ignition="points"),
        part("distributor", ignition="points"),
        part("latch"),
    )

    # the restoration
    car.fit(
        -50,
        61230,
        part("engine", condition="rebuilt", timing="chain"),
        part("valve train", adjust="manual"),
        part("engine oil"),
        part("spark plug", core="copper"),
        part("coolant", type="green"),
        part("transmission", condition="rebuilt"),
        part("clutch", linkage="cable", part="QC-210"),
        hours="64",
        materials="1860",
        note="engine and manual transmission rebuilt, clutch new",
    )
    car.fit(
        -50,
        61230,
        part("axle", "rear", diff="limited-slip", condition="rebuilt"),
        part("spring", "LR,RR", type="leaf"),
        part("spring U-bolt", "LR,RR"),
        hours="22.5",
        materials="540",
        note="rear axle rebuilt; springs re-arched, U-bolts new",
    )
    car.happened(-50, 61230, "axle-rebuilt", "rear")
    # the wider pair behind, as she wants it
    car.fit(
        -50,
        61230,
        part("wheel", "all", rim_width="6", rim_diameter="14", offset="12"),
        part(
            "tire",
            "front",
            size="185/70R14",
            construction="radial",
            service="88H",
            tread="symmetric",
            new_depth="10/32",
        ),
        hours="1",
        materials="210",
    )
    car.fit(
        -50,
        61230,
        part(
            "tire",
            "rear",
            size="205/70R14",
            construction="radial",
            service="95H",
            tread="symmetric",
            new_depth="10/32",
        ),
        hours="0.8",
        materials="250",
    )
    car.convert(-50, 61230, "electronic-ignition", hours="1.5", materials="110")

    # what its book says, for the strip-down
    car.figures(
        -60,
        "its book, p. 112 (invented)",
        "toe = 1/16 in",
        "camber @ front = -0.5 deg",
        "caster @ front = 4 deg",
        "lug nut torque = 75 ft-lb",
        "U-bolt torque = 45 ft-lb",
        "driveshaft torque = 35 ft-lb",
        "steering torque = 50 ft-lb",
        "intake valve clearance = 0.012 in",
        "exhaust valve clearance = 0.015 in",
        "ignition timing = 8 deg",
        "plug gap = 0.030 in",
        "clutch free play = 3/4 in",
        "belt deflection = 1/2 in",
        "idle speed = 750-800 rpm",
        "engine oil amount = 4.5 qt",
        "engine oil grade = 20W-50 -",
    )
    plate = "plate on the door post"
    car.figures(-60, plate, "tire pressure @ front = 28 psi", "tire pressure @ rear = 30 psi")
    car.figures(-60, "measured before strip-down", "ride height @ rear = 14.5 in")

    # before it rolled
    car.done(
        -49,
        61230,
        "align",
        "lock-clearance",
        "tire-balance",
        "tire-pressure",
        "ign-timing",
        "charging",
        "lamp-aim",
        "hose-look",
        "oil-level",
        hours="4.5",
        materials="24",
    )
    # the first points: 50, 100 and 250 miles
    car.reading(-38, 61240)
    car.done(-34, 61276, "wheel-nuts", "transmission-level", "axle-level", "hose-look", hours="0.9")
    car.done(-29, 61324, "wiring-look", "exhaust", "belt-look", hours="0.8")
    car.reading(-20, 61410)
    car.done(
        -14,
        61470,
        "parking-brake",
        "wheel-nuts",
        hours="0.7",
        note="U-bolts not done: the 300-mile point was forgotten",
    )
    car.reading(-1, 61600)

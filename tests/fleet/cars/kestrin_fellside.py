"""Kestrin Fellside: all-wheel drive on tires that no longer match, and a number misread."""

from tests.fleet.bench import Bench, part


def enter(car: Bench) -> None:
    car.taken_on(
        -620,
        "kestrin-fellside",
        {
            "description": "Kestrin Fellside",
            "year": "1991",
            "owner": "Agneta Holmquarry",
            "phone": "555-0171",
            "plate": "QY 9118",
            # the check digit, at the ninth place, is wrong on purpose
            "vin": "9ZKFW22B5MH004217",
            "drive": "all",
            "unit": "mi",
            "digits": "6",
            "use": "daily",
            "kept_at": "owner",
        },
    )
    car.readings(
        (-620, 75700),
        (-600, 76300),
        (-500, 80600),
        (-400, 84900),
        (-300, 89250),
        (-220, 92800),
        (-170, 95200),
        (-120, 96150),
        (-60, 97300),
        (-1, 98400),
    )
    car.came_with(
        -620,
        -640,
        75000,
        part("engine", timing="belt"),
        part("engine oil"),
        part("valve train", adjust="hydraulic"),
        part("spark plug", core="fine wire"),
        part("air filter", type="paper"),
        part("drive belt", type="ribbed"),
        part("exhaust"),
        part("fuel filter"),
        part("fuel hose", hose="fluoro-lined"),
        part("coolant", type="long-life"),
        part("battery", volts="12", type="sealed"),
        part("generator", type="alternator", volts="12"),
        part("lights"),
        part("transmission"),
        part("clutch", linkage="cable"),
        part("transfer case"),
        part("axle", "rear", diff="open"),
        part("steering rack", filled="grease"),
        part("power steering"),
        part("tie rod end", "L,R", grease="sealed"),
        part("ball joint", "LF lower,RF lower", grease="sealed"),
        part("alignment"),
        part("shock absorber", "all", type="telescopic"),
        part("wheel bearing", "all", service="sealed"),
        part("brake pad", "all", friction="disc"),
        part("rotor", "all", friction="disc"),
        part("caliper", "all", slides="yes"),
        part("master cylinder", circuits="dual"),
        part("booster", type="vacuum"),
        part("brake hose", "LF,RF,LR,RR", material="rubber"),
        part("brake fluid", fluid="DOT 4"),
        part("parking brake", "rear", type="cable"),
        part("latch"),
        part("seat belt", "LF,RF,LR,RR"),
    )
    car.fit(
        -618,
        75760,
        part("wheel", "all", rim_width="5.5", rim_diameter="13", offset="40"),
        part(
            "tire",
            "all",
            size="175/70R13",
            construction="radial",
            service="82T",
            tread="symmetric",
            new_depth="11/32",
        ),
        part("CV joint", "LF,RF"),
        hours="3.1",
        materials="420",
    )
    car.done(
        -617, 75780, "lock-clearance", "tire-balance", "tire-pressure", "awd-spread", hours="0.9"
    )
    car.fit(
        -600,
        76300,
        part("timing belt", interference="yes", part="KF-1201"),
        hours="4.5",
        materials="138",
    )
    car.done(-598, 76390, "wheel-nuts", "oil", hours="0.8", materials="33")
    # one tire cut by a stone, long ago: only a shallow one of that size was to be had
    car.fit(
        -560,
        78000,
        part(
            "tire",
            "RR",
            size="175/70R13",
            construction="radial",
            service="82T",
            tread="symmetric",
            new_depth="8/32",
        ),
        hours="0.5",
        materials="64",
        note="stone cut; the only one of the size that was to be had",
    )
    car.done(
        -559, 78040, "tire-balance@RR", "tire-pressure", "awd-spread", "wheel-nuts", hours="0.4"
    )
    car.done(-558, 78080, "wheel-nuts", by="owner")
    # crosswise twice, so the odd tire is back at RR
    car.rotated(-420, 84040, "LF=RR,RR=LF,RF=LR,LR=RF", hours="0.6")
    car.done(-416, 84210, "wheel-nuts", by="owner")
    car.done(
        -300,
        89250,
        "oil",
        "brake-fluid",
        "air-paper",
        "fuel-filter",
        "transfer-oil",
        "axle-oil",
        hours="3.9",
        materials="134",
    )
    car.done(-285, 89910, "brake-recheck", hours="0.4")
    car.rotated(-171, 95150, "LF=RR,RR=LF,RF=LR,LR=RF", hours="0.6")
    car.done(
        -170,
        95200,
        "cv-boot",
        "oil",
        "tire-balance",
        "rotor-measure",
        "caliper-slides",
        "hydraulics-look",
        "hub-sealed",
        "exhaust",
        "ball-joint-play",
        "linkage-play=1/16in",
        "steering-lash=1in",
        "steering-bolts",
        "shock-look",
        "wheel-look",
        "belt-seat",
        "hinges",
        "booster-test",
        hours="4.4",
        materials="36",
    )
    car.done(
        -60,
        97300,
        "oil",
        "pad-measure=7.0mm",
        "awd-spread",
        "belt-look",
        "hose-look",
        "fuel-hose-look",
        "parking-brake",
        "parking-cable",
        "transmission-level",
        "axle-level",
        "clutch-play",
        "mounts",
        "plugs-clean",
        "charging",
        "lamp-aim",
        "wiring-look",
        "coolant-test=-30F",
        "align",
        hours="4.2",
        materials="37",
    )
    car.done(-60, 97300, "lock-clearance", hours="0.2", note="at full lock, after the alignment")
    car.done(-56, 97380, "wheel-nuts", by="owner")
    # the spread belongs to the set: 2/32 in of tread are 0.39 in of circumference
    for corner, depth in (("LF", "8/32"), ("RF", "8/32"), ("LR", "8/32"), ("RR", "6/32")):
        car.measured(-20, 98040, f"tire-tread@{corner}", depth)

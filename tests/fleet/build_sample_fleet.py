"""Build sample_fleet/ anew from its description: `python tests/fleet/build_sample_fleet.py`.

The same description gives the same bytes on every machine.
"""

import shutil
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

ROOT = Path(__file__).resolve().parents[2]
if __name__ == "__main__":
    sys.path.insert(0, str(ROOT))

from tests.fleet.bench import INVENTED, Bench  # noqa: E402  # a script finds `tests` only now
from tests.fleet.cars import (  # noqa: E402
    brantholm_cobblegate,
    carrowby_hartsedge,
    dunnard_quayside,
    kestrin_fellside,
    mossburn_stackyard,
    pellworth_fallowmere,
    tessarin_pim,
    wendlecot_millrace,
)

FLEET = ROOT / "sample_fleet"
RULES = Path(__file__).with_name("rules.toml")
SETTINGS = {
    "name": "Quorrick Yard (invented)",
    "address": "3 Tannery Steps, Lower Quorrick (invented)",
    "telephone": "555-0117",
    "distance_unit": "mi",
    "depth_unit": "32nds",
    "currency": "$",
    "hourly_rate": "65.00",
    "visit_cost": "20.00",
    "horizon_months": "12",
    "hours": "mon:7,tue:7,wed:7,thu:7",
    "note": INVENTED,
}
CARS: tuple[Callable[[Bench], None], ...] = (
    pellworth_fallowmere.enter,
    brantholm_cobblegate.enter,
    carrowby_hartsedge.enter,
    mossburn_stackyard.enter,
    kestrin_fellside.enter,
    wendlecot_millrace.enter,
    tessarin_pim.enter,
    dunnard_quayside.enter,
    # after all else, so that the ids of what was there before stay
    brantholm_cobblegate.measure,
)


def build(folder: Path, entered: Sequence[Callable[[Bench], None]] = CARS) -> None:
    """Build the fleet in a missing or empty folder, with nothing in it but the record itself.

    Args:
        folder: where it is built.
        entered: what is entered, in this order; of the whole fleet its beginning alone comes out
            as it is there.
    """
    with TemporaryDirectory() as work:
        made = Path(work) / "garage"
        bench = Bench(made, SETTINGS, RULES)
        for enter in entered:
            enter(bench)
            bench.close()
        (folder / "vehicles").mkdir(parents=True)
        for file in (
            made / "garage.json",
            made / RULES.name,
            *sorted((made / "vehicles").glob("*.json")),
        ):
            (folder / file.relative_to(made)).write_bytes(file.read_bytes())


if __name__ == "__main__":
    shutil.rmtree(FLEET, ignore_errors=True)
    build(FLEET)
    print(f"built {FLEET}")

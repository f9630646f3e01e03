"""A damaged file of the garage mended, and what is told of it."""

from castlenut.domain.frozen import dataclass
from castlenut.garage.after_saving import follow
from castlenut.garage.garage import Garage
from castlenut.store.repair import repair
from castlenut.words.figures import count

GARAGE_NAME = "garage"


@dataclass(frozen=True, slots=True, kw_only=True)
class Mended:
    """A file that was repaired: its car (None: the garage's own), what is told, what beside it."""

    slug: str | None
    sentence: str
    told: tuple[str, ...]
    change: str


def mend(garage: Garage, name: str) -> Mended:
    """Repair a car's file by its short name, or the garage's own by `garage`.

    Raises:
        BadInput: it is not damaged or not there, or no repair would help.
        NotSaved: the disk or the lock did not allow it.
    """
    slug = None if name == GARAGE_NAME else garage.find(name)
    change = garage.change()
    done = repair(garage.folder, slug, change, new_id=garage.surroundings.new_id)
    follow(garage, (done.file,))
    kept = done.kept.relative_to(garage.path)
    saved = f"{done.saved:,} of {done.saved + done.lost:,} records saved"
    if done.unread:
        lines = count(done.unread, "line")
        where = "they are" if done.unread > 1 else "it is"
        sentence = f"{saved}, {lines} could not be read: {where} in {kept}"
    else:
        sentence = f"{saved}: the damaged file is in {kept}"
    told = list(done.notices)
    if done.is_named_anew:
        told.append(f"{done.file.place.name}: its id could be read nowhere: it has a new one")
    return Mended(slug=slug, sentence=sentence, told=tuple(told), change=change.id)

"""What is known of an owner taken out of a car's record, on every copy it will meet."""

from castlenut.domain.frozen import dataclass
from castlenut.garage.drafts import Saved, SavedRecord
from castlenut.garage.garage import Garage
from castlenut.store.former import delete_former, keeps_damaged
from castlenut.store.revisions import Forgotten

OWNER_FIELDS = ("owner", "phone", "address", "email")
CAR_FIELDS = ("vin", "plate")


@dataclass(frozen=True, slots=True, kw_only=True)
class ForgetAnswer:
    """What was forgotten, and how many former copies of the car's file were deleted."""

    saved: Saved
    copies: int


def forget(garage: Garage, slug: str, *, owner_only: bool = False) -> ForgetAnswer:
    """Forget a car's owner, and its VIN and plate unless `owner_only`.

    The fields leave every revision of the car's record, and the former copies of its file that the
    program keeps are deleted. It cannot be taken back.

    Raises:
        CannotRead: the car's file cannot be read.
        NotSaved: the disk or the lock did not allow it.
    """
    fields = OWNER_FIELDS if owner_only else (*OWNER_FIELDS, *CAR_FIELDS)
    file = garage.file(slug)
    edits = [
        Forgotten(table="vehicle", id=each.id, fields=fields)
        for each in file.records(history=True)
        if each.table == "vehicle"
    ]
    change = garage.change()
    done = garage.folder.save(file, edits, change)
    garage.took(done.file)
    copies = delete_former(garage.folder, done.file, change)
    told = [
        *done.notices,
        f"backups and other machines keep what they know of {slug} until they merge",
    ]
    if keeps_damaged(garage.folder, done.file):
        told.append(f"a damaged copy of {slug} is kept in .castlenut/damaged/: delete it yourself")
    return ForgetAnswer(
        saved=Saved(
            slug=slug,
            change=done.change,
            records=tuple(
                SavedRecord(id=record, table=table, vehicle=slug) for table, record in done.records
            ),
            title=f"{', '.join(fields)} of {slug} forgotten",
            told=tuple(told),
        ),
        copies=copies,
    )

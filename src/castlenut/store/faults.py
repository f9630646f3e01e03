"""What can be wrong with a file of the garage, and what is told when nothing could be saved."""

import errno
from enum import Enum

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass


class FaultWord(Enum):
    """What kind of fault a file has, as `check` lists it."""

    NEWER = "newer"
    DAMAGED = "damaged"
    RECORD = "record"
    DUPLICATE = "duplicate"
    COPY = "conflict copy"
    NOT_A_FILE = "not a plain file"
    PERMISSION = "no read permission"
    TOO_LARGE = "too large"
    GONE = "gone"
    CHARACTERS = "control characters"


@dataclass(frozen=True, slots=True, kw_only=True)
class FileFault:
    """One thing wrong with a file: its name in the garage, what it is, and the sentence told.

    `line` is counted from 1; None where no line is to blame.
    """

    file: str
    word: FaultWord
    message: str
    line: int | None = None

    def __str__(self) -> str:
        """Give the fault as it is told: `FILE: what; what to do`."""
        return f"{self.file}: {self.message}"


class FileRefused(BadInput):
    """A file that cannot be used was asked for, or was to be written. Nothing was changed."""

    def __init__(self, fault: FileFault) -> None:
        super().__init__(Fault(fault.message, fault.file, "run check to see what is wrong"))
        self.fault = fault

    def __str__(self) -> str:
        """Give the sentence of the fault, which holds its remedy."""
        return str(self.fault)


class FolderRefused(BadInput):
    """The folder named is no garage, or none may be made there. `sentence` is told as it stands."""

    def __init__(self, sentence: str, *, folder: str, remedy: str) -> None:
        super().__init__(Fault(sentence, folder, remedy))
        self.sentence = sentence

    def __str__(self) -> str:
        """Give the whole sentence."""
        return self.sentence


class NotSaved(Exception):
    """A save did not come to its end, for a cause outside the input. The old file stands whole.

    `saved` names the files of the same change that were saved before this one failed.
    """

    def __init__(self, file: str, message: str, saved: tuple[str, ...] = ()) -> None:
        super().__init__(file, message, saved)
        self.file = file
        self.message = message
        self.saved = saved

    def __str__(self) -> str:
        """Give the fault as it is told, with what was saved of a change over several files."""
        told = f"{self.file}: {self.message}"
        return f"{told} (saved before that: {', '.join(self.saved)})" if self.saved else told


READ_ONLY = "cannot be written here (read-only): nothing was saved"
DISK_FULL = "not saved: the disk is full; the record is as it was"
DISK_ERROR = "not saved: the disk reports an error; the record is as it was"

_FULL = frozenset({errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC)})
_READ_ONLY = frozenset({errno.EROFS, errno.EACCES, errno.EPERM})


def not_saved(file: str, error: OSError) -> NotSaved:
    """Put into words why a file could not be written."""
    if error.errno in _FULL:
        return NotSaved(file, DISK_FULL)
    if error.errno in _READ_ONLY:
        return NotSaved(file, READ_ONLY)
    if error.errno == errno.EIO:
        return NotSaved(file, DISK_ERROR)
    cause = (error.strerror or type(error).__name__).lower()
    return NotSaved(file, f"not saved: {cause}; the record is as it was")

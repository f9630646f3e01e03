"""Values that cannot change: the library's frozen dataclass, made in a seventh of the time.

The library writes six methods of each class as text and compiles them: 0.8 ms a class (measured,
Python 3.11). With 150 classes that was six times the start of the interpreter, in every command.
Here the methods that need no text of their own are shared by all classes, and the one that does,
`__init__`, is compiled when the first value of the class is made.
"""

from collections.abc import Callable
from dataclasses import MISSING, Field, FrozenInstanceError, fields
from dataclasses import dataclass as _dataclass
from operator import attrgetter
from typing import TYPE_CHECKING, Protocol, TypeVar

if TYPE_CHECKING:
    # To a type checker it is the library's own, so all it knows of dataclasses holds.
    from dataclasses import dataclass

    from _typeshed import DataclassInstance

__all__ = ["dataclass"]

Made = TypeVar("Made", bound="DataclassInstance")


class _Init(Protocol):
    def __call__(self, made: "DataclassInstance", /, *given: object, **named: object) -> None: ...


def _frozen(
    *, frozen: bool, slots: bool, kw_only: bool = False
) -> Callable[[type[Made]], type[Made]]:
    """Make a class of values as `dataclasses.dataclass` does; `fields` and `replace` work on it.

    Only a frozen and slotted one without an order: all words are written as the library wants them.
    """
    if not (frozen and slots):
        raise TypeError("a class that is not frozen and slotted needs dataclasses.dataclass")

    def make(plain: type[Made]) -> type[Made]:
        made = _dataclass(init=False, repr=False, eq=False, slots=True, kw_only=kw_only)(plain)
        values = _values(made)
        methods = {
            "__init__": _first_init(made),
            "__repr__": _repr,
            "__eq__": _equality(values),
            "__hash__": lambda self: hash(values(self)),
            "__setattr__": _refuse_setting,
            "__delattr__": _refuse_deleting,
        }
        for name, method in methods.items():
            setattr(made, name, method)
        return made

    return make


if not TYPE_CHECKING:
    dataclass = _frozen


def _values(made: type["DataclassInstance"]) -> Callable[[object], object]:
    """Give the function that takes all values out of one made, in the order of the fields."""
    names = [each.name for each in fields(made)]
    return attrgetter(*names) if names else lambda _: ()


def _first_init(made: type["DataclassInstance"]) -> _Init:
    """Give what stands for `__init__` until the first value is made: it puts the true one there."""

    def first(self: "DataclassInstance", /, *given: object, **named: object) -> None:
        compiled = _init(made)
        setattr(made, "__init__", compiled)  # noqa: B010 - mypy takes no method of a class away
        compiled(self, *given, **named)

    return first


def _init(made: type["DataclassInstance"]) -> _Init:
    """Compile the `__init__` of a class: as the library's, each field set past `__setattr__`."""
    known: dict[str, object] = {"_set": object.__setattr__, "_missing": MISSING}
    in_order: list[str] = []
    by_name: list[str] = []
    body: list[str] = []
    for each in fields(made):
        parameter, value = _parameter(each, known)
        (by_name if each.kw_only else in_order).append(parameter)
        body.append(f"_set(self, {each.name!r}, {value})")
    if hasattr(made, "__post_init__"):
        body.append("self.__post_init__()")
    parameters = ", ".join(["self", *in_order, *(["*", *by_name] if by_name else [])])
    text = f"def __init__({parameters}):\n  " + "\n  ".join(body or ["pass"])
    found: dict[str, _Init] = {}
    exec(text, known, found)  # noqa: S102 - of the names of our own fields alone
    return found["__init__"]


def _parameter(each: Field[object], known: dict[str, object]) -> tuple[str, str]:
    """Give a field as a parameter, and the value it has by it; what they speak of becomes known."""
    name = each.name
    if each.default is not MISSING:
        known[f"_default_{name}"] = each.default
        return f"{name}=_default_{name}", name
    if each.default_factory is not MISSING:
        known[f"_made_{name}"] = each.default_factory
        return f"{name}=_missing", f"_made_{name}() if {name} is _missing else {name}"
    return name, name


def _equality(values: Callable[[object], object]) -> Callable[[object, object], bool]:
    def equal(self: object, other: object) -> bool:
        return (
            values(self) == values(other) if other.__class__ is self.__class__ else NotImplemented
        )

    return equal


def _repr(self: "DataclassInstance") -> str:
    told = ", ".join(f"{each.name}={getattr(self, each.name)!r}" for each in fields(self))
    return f"{self.__class__.__qualname__}({told})"


def _refuse_setting(_: object, name: str, __: object) -> None:
    raise FrozenInstanceError(f"cannot assign to field {name!r}")


def _refuse_deleting(_: object, name: str) -> None:
    raise FrozenInstanceError(f"cannot delete field {name!r}")

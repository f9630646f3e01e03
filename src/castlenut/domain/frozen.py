"""Values that cannot change: the library's frozen dataclass, made in a tenth of the time.

The library writes six methods of each class as text and compiles them: 0.8 ms a class (measured,
Python 3.11). With 150 classes that was six times the start of the interpreter, in every command;
and loading it takes half of one more. Here the methods that need no text of their own are shared by
all classes, and the one that does, `__init__`, is compiled where many values of a class are made.
What is written is the library's own, and so is what it means.
"""

from collections.abc import Callable, Mapping
from operator import attrgetter
from typing import TYPE_CHECKING, Protocol, TypeVar

if TYPE_CHECKING:
    # To a type checker they are the library's own, so all it knows of dataclasses holds.
    from dataclasses import dataclass, field, replace

__all__ = ["dataclass", "field", "replace"]

Made = TypeVar("Made")

_Values = tuple[object, ...]
_Compared = Callable[[_Values, _Values], bool]

_NAMES = "_names"  # where each class keeps the names of its fields, in their order
_VALUES = "_values"  # and the function that takes their values out of one
_FEW = 30  # values of a class, before its `__init__` is compiled
_MANY = 4  # fields; with fewer, changing the class twice takes longer than it saves
_set = object.__setattr__
_ORDER: Mapping[str, _Compared] = {
    "__lt__": tuple.__lt__,
    "__le__": tuple.__le__,
    "__gt__": tuple.__gt__,
    "__ge__": tuple.__ge__,
}


class _Init(Protocol):
    def __call__(self, made: object, /, *given: object, **named: object) -> None: ...


class _Factory:
    """Stands in a class for the default of a field that is made anew for each value."""

    __slots__ = ("make",)

    def __init__(self, *, default_factory: Callable[[], object]) -> None:
        self.make = default_factory


def _frozen(
    *, frozen: bool, slots: bool = False, kw_only: bool = False, order: bool = False
) -> Callable[[type[Made]], type[Made]]:
    """Make a class of values as `dataclasses.dataclass` does: a frozen one, built upon no other."""
    if not frozen:
        raise TypeError("a class that is not frozen needs dataclasses.dataclass")

    def make(plain: type[Made]) -> type[Made]:
        body = dict(plain.__dict__)
        names = tuple(body.get("__annotations__", ()))
        defaults = {name: body.pop(name) for name in names if name in body}
        if any(type(each).__module__ == "dataclasses" for each in defaults.values()):
            raise TypeError("field has to come from the same module as dataclass")
        for made_again in ("__dict__", "__weakref__"):
            body.pop(made_again, None)
        values = _values(names)
        body |= {
            _NAMES: names,
            _VALUES: staticmethod(values),
            "__init__": _first_init(names, defaults, kw_only=kw_only, slots=slots),
            "__repr__": _repr,
            "__eq__": _comparison(tuple.__eq__, values),
            "__hash__": lambda self: hash(values(self)),
            "__setattr__": _refuse_setting,
            "__delattr__": _refuse_deleting,
            "__match_args__": () if kw_only else names,
            "__dataclass_fields__": _Described(defaults, kw_only=kw_only),
        }
        if slots:
            body["__slots__"] = names
        else:
            body |= defaults
        if order:
            for name, compared in _ORDER.items():
                body[name] = _comparison(compared, values)
        made: type[Made] = type(plain.__name__, plain.__bases__, body)
        made.__qualname__ = plain.__qualname__
        return made

    return make


def _replaced(value: Made, /, **changes: object) -> Made:
    """Give the same value with some fields changed."""
    made = value.__class__
    names, values = _names_of(value), getattr(made, _VALUES)
    return made(**{**dict(zip(names, values(value), strict=True)), **changes})


if not TYPE_CHECKING:
    dataclass = _frozen
    field = _Factory
    replace = _replaced


def _names_of(value: object) -> tuple[str, ...]:
    names: tuple[str, ...] = getattr(value, _NAMES)
    return names


def _values(names: tuple[str, ...]) -> Callable[[object], _Values]:
    """Give the function that takes the values out of one made, in the order of the fields."""
    if len(names) > 1:
        return attrgetter(*names)
    return lambda made: tuple(getattr(made, name) for name in names)


def _comparison(
    compared: _Compared, values: Callable[[object], _Values]
) -> Callable[[object, object], bool]:
    """Give the method that holds two of a class against each other, field by field."""

    def compare(self: object, other: object) -> bool:
        is_alike = other.__class__ is self.__class__
        return compared(values(self), values(other)) if is_alike else NotImplemented

    return compare


def _repr(self: object) -> str:
    told = ", ".join(f"{name}={getattr(self, name)!r}" for name in _names_of(self))
    return f"{self.__class__.__qualname__}({told})"


def _refuse_setting(_: object, name: str, __: object) -> None:
    from dataclasses import FrozenInstanceError

    raise FrozenInstanceError(f"cannot assign to field {name!r}")


def _refuse_deleting(_: object, name: str) -> None:
    from dataclasses import FrozenInstanceError

    raise FrozenInstanceError(f"cannot delete field {name!r}")


def _first_init(
    names: tuple[str, ...], defaults: Mapping[str, object], *, kw_only: bool, slots: bool
) -> _Init:
    """Give what stands for `__init__` until some values are made: it puts the true one there.

    Of most classes a command makes a few values and no more, and to compile (0.1 ms) takes longer
    than it saves there. What is missing or too much is refused by the true one.
    """
    known = frozenset(names)
    plain = {name: each for name, each in defaults.items() if not isinstance(each, _Factory)}
    factories = [(name, each) for name, each in defaults.items() if isinstance(each, _Factory)]
    count = 0

    def first(made: object, /, *given: object, **named: object) -> None:
        nonlocal count
        count += 1
        values = {**plain, **named}
        for name, factory in factories:
            if name not in values:
                values[name] = factory.make()
        if count > _FEW or given or values.keys() != known:
            compiled = _init(names, defaults, made.__class__, kw_only=kw_only, slots=slots)
            setattr(made.__class__, "__init__", compiled)  # noqa: B010 - mypy lets no method be set
            compiled(made, *given, **named)
            return
        for name in names:
            _set(made, name, values[name])
        check = getattr(made, "__post_init__", None)
        if check is not None:
            check()

    return first


def _init(
    names: tuple[str, ...],
    defaults: Mapping[str, object],
    made: type,
    *,
    kw_only: bool,
    slots: bool,
) -> _Init:
    """Compile an `__init__`: as the library's, it sets each field past `__setattr__`.

    Where there are many, the value is of a twin class without one until all are set: that takes
    half the time (3.6 us of eight fields, 1.6 with the twin).
    """
    known: dict[str, object] = {"_set": _set, "_missing": object()}
    parameters = ["self", *(["*"] if kw_only and names else [])]
    lines = []
    has_twin = slots and len(names) >= _MANY
    for name in names:
        value = name
        if name not in defaults:
            parameters.append(name)
        elif isinstance(default := defaults[name], _Factory):
            known[f"_make_{name}"] = default.make
            parameters.append(f"{name}=_missing")
            value = f"_make_{name}() if {name} is _missing else {name}"
        else:
            known[f"_default_{name}"] = default
            parameters.append(f"{name}=_default_{name}")
        lines.append(f"self.{name} = {value}" if has_twin else f"_set(self, {name!r}, {value})")
    if has_twin:
        known |= {"_made": made, "_twin": type(made.__name__, (), {"__slots__": names})}
        lines = ["_set(self, '__class__', _twin)", *lines, "self.__class__ = _made"]
    if hasattr(made, "__post_init__"):
        lines.append("self.__post_init__()")
    found: dict[str, _Init] = {}
    text = f"def __init__({', '.join(parameters)}):\n  " + "\n  ".join(lines or ["pass"])
    exec(text, known, found)  # noqa: S102 - of the names of our own fields alone
    return found["__init__"]


class _Described:
    """The fields as the library describes its own, once asked for: its functions know them then."""

    __slots__ = ("_defaults", "_kw_only")

    def __init__(self, defaults: Mapping[str, object], *, kw_only: bool) -> None:
        self._defaults = defaults
        self._kw_only = kw_only

    def __get__(self, _: object, made: type) -> object:
        from dataclasses import field as described
        from dataclasses import fields, make_dataclass

        told = []
        for name, type_ in made.__annotations__.items():
            default = self._defaults.get(name, self)
            if isinstance(default, _Factory):
                one = described(default_factory=default.make)
            else:
                one = described() if default is self else described(default=default)
            told.append((name, type_, one))
        twin = make_dataclass(made.__name__, told, frozen=True, kw_only=self._kw_only)
        return {each.name: each for each in fields(twin)}

"""Frozen values: dataclasses that cost next to nothing until the first of them is made.

`dataclass(frozen=True)` writes and compiles six methods a class, which takes half a millisecond.
Here all but `__init__` are the same for every class, and that is written when it is first called.
"""

from collections.abc import Callable
from dataclasses import MISSING, FrozenInstanceError, dataclass, field, fields
from operator import attrgetter
from typing import Any, dataclass_transform


@dataclass_transform(frozen_default=True, field_specifiers=(field,))
def frozen(cls: type[Any] | None = None, /, *, eq: bool = True, kw_only: bool = False) -> Any:
    """Make a class one of frozen values.

    Parameters
    ----------
    cls : type
        A class with annotated fields.
    eq : bool
        Whether values with equal fields are equal; else each is equal to itself only.
    kw_only : bool
        Whether all fields are given by name.
    """

    def made(plain: type[Any]) -> type[Any]:
        one = dataclass(init=False, repr=False, eq=False, kw_only=kw_only)(plain)
        own: dict[str, Any] = {"__init__": _first_init(one), "__repr__": _shown}
        own |= {"__setattr__": _refuse, "__delattr__": _refuse}
        if eq:
            compared = (each.name for each in fields(one) if each.compare)
            own |= {"__eq__": _equal, "__hash__": _hashed}
            own |= {"_compared": staticmethod(attrgetter("__class__", *compared))}
        for name, method in own.items():
            if name not in one.__dict__:
                setattr(one, name, method)
        return one

    return made if cls is None else made(cls)


def _first_init(cls: type[Any]) -> Callable[..., None]:
    """Write the `__init__` of a class when it is first called."""

    def write(self: Any, *given: Any, **named: Any) -> None:
        cls.__init__ = init = _init_of(cls)
        init(self, *given, **named)

    return write


def _init_of(cls: type[Any]) -> Callable[..., None]:
    known: dict[str, Any] = {"_put": object.__setattr__, "_unset": MISSING}
    heads: dict[bool, list[str]] = {False: ["self"], True: ["*"]}
    body = []
    for one in fields(cls):
        head = value = one.name
        if one.default is not MISSING:
            known[f"_of_{one.name}"] = one.default
            head += f"=_of_{one.name}"
        elif one.default_factory is not MISSING:
            known[f"_of_{one.name}"] = one.default_factory
            head += "=_unset"
            value = f"_of_{one.name}() if {one.name} is _unset else {one.name}"
        heads[bool(one.kw_only)].append(head)
        body.append(f" _put(self, {one.name!r}, {value})")
    if hasattr(cls, "__post_init__"):
        body.append(" self.__post_init__()")
    words = ", ".join(heads[False] + heads[True] * (len(heads[True]) > 1))
    exec("\n".join((f"def __init__({words}):", *(body or [" pass"]))), known)
    init: Callable[..., None] = known["__init__"]
    init.__qualname__ = f"{cls.__qualname__}.__init__"
    return init


def _refuse(_: Any, name: str, *__: Any) -> None:
    raise FrozenInstanceError(f"cannot assign to or delete field {name!r}")


def _shown(self: Any) -> str:
    said = ", ".join(f"{one.name}={getattr(self, one.name)!r}" for one in fields(self) if one.repr)
    return f"{type(self).__qualname__}({said})"


def _equal(self: Any, other: Any) -> Any:
    alike = other.__class__ is self.__class__
    return self._compared(self) == self._compared(other) if alike else NotImplemented


def _hashed(self: Any) -> int:
    return hash(self._compared(self))

"""Frozen values behave as the standard library's frozen dataclasses do: the second method."""

import copy
import pickle
from dataclasses import FrozenInstanceError, asdict, dataclass, field, fields, replace

import pytest

from plumbing.frozen import frozen


class _Body:
    """Fields and methods that both classes have."""

    one: int
    few: tuple[int, ...] = (1, 2)
    mine: dict[str, int] = field(default_factory=dict, compare=False)
    hidden: str = field(default="", repr=False)

    def __post_init__(self) -> None:
        if self.one < 0:
            raise ValueError("below 0")


def _as(kind):
    names = ("__annotations__", "few", "mine", "hidden", "__post_init__", "__doc__")
    own = {name: copy.copy(vars(_Body)[name]) for name in names}
    return kind(type("Value", (), {**own, "__module__": __name__, "__qualname__": "Value"}))


Value = _as(frozen)
Standard = _as(dataclass(frozen=True))


def _refused(kind, given):
    try:
        kind(*given)
    except (TypeError, ValueError) as why:
        return type(why), str(why)
    return None


@pytest.mark.parametrize(
    "given", [(1,), (1, (3,)), (1, (3,), {"a": 1}, "x"), (), (-1,), (1, 2, 3, 4, 5)]
)
def test_made_shown_and_compared_alike(given):
    """Either both are made, and show and hash alike, or both refuse in the same words."""
    refused = _refused(Standard, given)
    assert _refused(Value, given) == refused
    if refused:
        return
    other = Standard(*given)
    one = Value(*given)
    assert (repr(one), asdict(one)) == (repr(other), asdict(other))
    assert [each.name for each in fields(one)] == [each.name for each in fields(other)]
    assert Value.__match_args__ == Standard.__match_args__
    for changed in ({}, {"one": 7}, {"mine": {"z": 2}}, {"hidden": "y"}):
        assert (replace(one, **changed) == one) == (replace(other, **changed) == other), changed
        again = replace(one, **changed)
        assert (again != one) or hash(again) == hash(one)
    assert pickle.loads(pickle.dumps(one)) == one
    assert copy.deepcopy(one) == one
    assert one != other


def test_values_do_not_change():
    """Nothing is set or deleted afterwards; each has a dictionary of its own."""
    one = Value(1)
    for change in (lambda: setattr(one, "one", 2), lambda: delattr(one, "one")):
        with pytest.raises(FrozenInstanceError):
            change()
    assert one.mine is not Value(1).mine


def test_identity_where_asked():
    """With `eq=False` a value is equal to itself only; with `kw_only` fields are given by name."""

    @frozen(eq=False, kw_only=True)
    class Array:
        """Numbers."""

        values: int

    assert Array(values=1) != Array(values=1)
    with pytest.raises(TypeError):
        Array(1)


def test_inherits():
    """A frozen value of another one has its fields too, with their defaults."""

    @frozen
    class More(Value):
        """One field more."""

        last: int = 0

    assert More(1, last=2) == More(1, last=2) != More(1)
    assert More(1) != Value(1)
    assert [one.name for one in fields(More)][-2:] == ["hidden", "last"]

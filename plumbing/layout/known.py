"""What a layout may name or leave out, as lists a reader can look through."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import field
from functools import cache
from types import MappingProxyType

from plumbing import units
from plumbing.frozen import frozen
from plumbing.layout import usual
from plumbing.layout.forms import (
    Choice,
    Field,
    Form,
    Items,
    Record,
    Row,
    Section,
    Stated,
    Tagged,
    fields_of,
)
from plumbing.layout.graded.keys import ALL_AT_ONCE, ENTRIES
from plumbing.layout.reader import CONVENTIONS
from plumbing.layout.starting import STARTERS
from plumbing.model.base import Written
from plumbing.model.layout import Layout
from plumbing.physics import materials, tubes
from plumbing.physics.tables import rows
from plumbing.stage import STAGES

_BODY = ".body."  # shapes of bodies have the words of `tanks.shape`


@frozen(kw_only=True)
class Entry:
    """One thing that has a name.

    Attributes
    ----------
    name : str
        As a layout file writes it.
    values : mapping of str to str
        What is known of it, by a short title; each with its unit.
    words : str
        What else there is to say.
    source : str
        Where that is from; empty where the program itself decides.
    """

    name: str
    values: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    words: str = ""
    source: str = ""

    def text(self) -> str:
        """All that is known of it but its source, in one line."""
        said = [f"{title} {value}" for title, value in self.values.items()]
        return "; ".join([*said, *filter(None, (self.words,))])


@cache
def known() -> Mapping[str, tuple[Entry, ...]]:
    """All lists by name."""
    return MappingProxyType({name: tuple(make()) for name, make in _LISTS.items()})


def _tubes() -> Iterator[Entry]:
    for tube in tubes.catalogue().values():
        values = {
            "outside": units.show(tube.outside_diameter, "length"),
            "bore": units.show(tube.inside_diameter, "length"),
            "bends to": units.show(tube.bend_radius, "length"),
            "up to": units.show(tube.max_temperature, "temperature"),
            "rated": units.show(tube.rated_pressure, "pressure"),
            "mass": units.show(tube.linear_mass, "linear mass"),
        }
        yield Entry(name=tube.name, values=values, source=tube.source)


def _materials() -> Iterator[Entry]:
    for one in materials.materials().values():
        values = {
            "in kerosene": one.kerosene,
            "up to": units.show(one.max_celsius, "temperature"),
            "density": units.show(one.density, "density", 4),
            "for": ", ".join(one.use),
        }
        yield Entry(name=one.name, values=values, words=one.note, source=one.source)


def _fittings() -> Iterator[Entry]:
    for row in rows("fittings"):
        words = f"loss by the row `{row['two_k_key']}` (two-K) and `{row['three_k_key']}` (three-K)"
        yield Entry(name=row["name"], words=words, source=row["source"])


def _fuels() -> Iterator[Entry]:
    for row in rows("fuels"):
        values = {"density at 15 degC": f"{row['density_15']} kg/m3"}
        for end in ("cold", "warm"):
            values[end] = f"{row[f'{end}_mm2_s']} mm2/s at {row[f'{end}_celsius']} degC"
        yield Entry(name=row["name"], values=values, source=row["source"])


def _engines() -> Iterator[Entry]:
    for row in rows("engine_flow"):
        values = {
            "full flow": f"{row['full_ml_min']} ml/min",
            "from": f"{row['low_ml_min']} ml/min",
            "to": f"{row['high_ml_min']} ml/min",
            "idle": f"{row['idle_ml_min']} ml/min",
        }
        yield Entry(name=f"{row['thrust_n']} N", values=values, source=row["source"])


def _facings() -> Iterator[Entry]:
    for row in rows("outlets"):
        values = {"coefficient": row["likely"], "from": row["low"], "to": row["high"]}
        yield Entry(name=row["facing"], values=values, source=row["source"])


def _starters() -> Iterator[Entry]:
    return (Entry(name=name, words=words) for name, words in STARTERS.items())


def _units() -> Iterator[Entry]:
    for name, kind in units.KINDS.items():
        spellings = ", ".join(unit for unit in kind.units if unit) or "no unit"
        yield Entry(name=name, words=f"{spellings}; such as `{kind.example}`")


def _kinds() -> Iterator[Entry]:
    for path, one in _keys():
        if isinstance(one.form, Choice) and _BODY not in path:
            yield Entry(name=path, words=f"{', '.join(one.form.words)}: {one.doc}")


def _keys_listed() -> Iterator[Entry]:
    for key, words in ALL_AT_ONCE.items():
        yield Entry(name=key, words=words)
    for key, words in ENTRIES.items():
        yield Entry(name=f"*.{key}", words=words)
    for path, one in _keys():
        yield Entry(name=path, words=one.doc)


def _statements() -> Iterator[Entry]:
    found = [(one.form.due, path, one) for path, one in _keys() if isinstance(one.form, Stated)]
    for due, path, one in sorted(found, key=lambda entry: STAGES.index(entry[0])):
        yield Entry(name=path, values={"due when": due}, words=one.doc)


def _usual() -> Iterator[Entry]:
    for path, one in _keys():
        if one.usual and one.usual.source not in CONVENTIONS and _BODY not in path:
            yield Entry(name=path, values={"usual": one.usual.text}, source=one.usual.source)
    full, idle = (units.show(x, "pressure") for x in (usual.FEED_FULL, usual.FEED_IDLE))
    yield _taken("engines.feed-pressure-full", full, usual.FEED_FULL_SOURCE)
    yield _taken("engines.feed-pressure-idle", idle, usual.FEED_IDLE_SOURCE)
    yield _taken("tanks.wall.thickness", units.show(usual.WALL, "length"), usual.WALL_SOURCE)
    for section, cls in usual.BODIES.items():
        shown = f"a ball of {units.show(usual.WIDTHS[cls], 'length')}"
        yield _taken(f"{section}.body", shown, usual.WIDTH_SOURCE)


def _taken(path: str, value: str, source: str) -> Entry:
    return Entry(name=path, values={"usual": value}, source=source)


def _keys() -> Iterator[tuple[str, Field]]:
    """Every key of the layout file with its path, such as `tanks.wall.kind`; names are left out."""
    yield from _below(Layout, "", ())


def _below(
    cls: type[Written], path: str, above: tuple[type[Written], ...]
) -> Iterator[tuple[str, Field]]:
    for key, one in fields_of(cls).items():
        inner = f"{path}.{key}" if path else key
        yield inner, one
        for kind, record in _records(one.form):
            if record not in above:  # a group of phases holds phases
                at = f"{inner}.{kind}" if kind else inner
                yield from _below(record, at, (*above, record))


def _records(form: Form) -> Iterator[tuple[str, type[Written]]]:
    match form:
        case Record():
            yield "", form.cls
        case Tagged():
            yield from form.kinds.items()
        case Items() | Section():
            yield from _records(form.item)
        case Row():
            for item in form.items:
                yield from _records(item)


_LISTS: Mapping[str, Callable[[], Iterator[Entry]]] = MappingProxyType(
    {
        "tubes": _tubes,
        "materials": _materials,
        "fittings": _fittings,
        "fuels": _fuels,
        "engines": _engines,
        "outlets": _facings,
        "starters": _starters,
        "units": _units,
        "kinds": _kinds,
        "statements": _statements,
        "usual": _usual,
        "keys": _keys_listed,
    }
)

TITLES: Mapping[str, str] = MappingProxyType(
    {
        "tubes": "Tubes a line may be cut from by name",
        "materials": "Materials, and how they stand kerosene for years",
        "fittings": "Fittings, and whose loss coefficients they have",
        "fuels": "Fuels and oil, and their viscosity cold and warm",
        "engines": "Flow of engines by their thrust, where the file does not state it",
        "outlets": "Pressure coefficient of an outlet by where it faces",
        "starters": "Layouts to start from",
        "units": "Kinds of value, and how their units are written",
        "kinds": "Words that may stand at a key",
        "statements": "What somebody must make true, and from which stage it is a finding if open",
        "usual": "Usual values, taken and listed where a file leaves them out",
        "keys": "Keys of the layout file; the names of parts are left out of their paths",
    }
)

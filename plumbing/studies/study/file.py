"""Reading a study file with every fault in its place."""

from __future__ import annotations

import hashlib
import math
import os
import re

from plumbing import units
from plumbing.errors import LayoutError
from plumbing.layout import characters, tree, values
from plumbing.layout.forms import Form, Number
from plumbing.layout.gathering import Faults, listed, quoted
from plumbing.layout.load import read_once
from plumbing.layout.reader import Reader
from plumbing.layout.tree import Mapping, Node, Scalar, Sequence
from plumbing.place import Place
from plumbing.studies.study import spots
from plumbing.studies.study.results import RESULTS
from plumbing.studies.study.written import Listed, Path, Ranged, Study

FORMAT = 1
KEYS = ("study", "title", "layout", "vary", "samples", "results")
MOST_CASES = 1_000_000
MOST_RANGES = 16
MOST_LAYOUTS = 50
_COUNT = re.compile(r"[0-9]{1,9}")


def load_study(path: str | os.PathLike[str]) -> Study:
    """Read a study file and the layouts it names.

    Raises
    ------
    LayoutError
        The study, or a layout it starts from, has faults: all of them, each with its place.
    """
    file = os.fspath(path)
    content = read_once(file)
    faults = Faults()
    text = characters.decoded(content, file)
    root = tree.grow(text.removeprefix("\ufeff"), file, faults)
    if not isinstance(root, Mapping):
        place = Place(file, 1) if root is None else root.place
        faults.add(place, "no study", f"`key: value` lines, `study: {FORMAT}` first")
        raise LayoutError(tuple(faults.found))
    study = _Reading(root, file, content, faults).study()
    if study is None or faults.found:
        raise LayoutError(tuple(faults.found))
    return study


class _Reading:
    """One pass over one study file."""

    def __init__(self, root: Mapping, file: str, content: bytes, faults: Faults) -> None:
        self.root, self.file, self.faults = root, file, faults
        self.digest = hashlib.sha256(content)
        self.reader = Reader(faults)

    def study(self) -> Study | None:
        """Everything it holds; None where a fault keeps the rest from being understood."""
        root, faults = self.root, self.faults
        for key, place in root.keys.items():
            if key not in KEYS:
                faults.unknown(place, "unknown key", key, KEYS)
        for key in ("study", "layout", "vary", "results"):
            if key not in root.entries:
                faults.add(root.place, f"a study without `{key}`", listed(KEYS))
        version = root.entries.get("study")
        if version is not None and not _is(version, str(FORMAT)):
            found = f"study {values.described(version)}"
            faults.add(version.place, found, f"`study: {FORMAT}`, the only one this version reads")
        files = self.files()
        if faults.found:
            return None
        layouts = tuple(layout for file in files if (layout := self.layout(file)) is not None)
        if faults.found:
            return None
        given, ranges = self.vary(layouts)
        written = root.entries["vary"]
        wanted = isinstance(written, Mapping) and any(
            isinstance(one, Mapping) for one in written.entries.values()
        )
        samples = self.samples(wanted)
        title = root.entries.get("title")
        study = Study(
            title=title.text if isinstance(title, Scalar) else "",
            files=files,
            layouts=layouts,
            listed=given,
            ranged=ranges,
            samples=samples,
            results=self.results(),
            digest=self.digest.hexdigest(),
        )
        cases = math.prod((len(files), samples, *(len(one.values) for one in given)))
        if cases > MOST_CASES:
            faults.add(root.place, f"{cases} cases", f"a study of at most {MOST_CASES} cases")
        return study

    def files(self) -> tuple[str, ...]:
        """Layout files, beside the study."""
        node = self.root.entries.get("layout")
        if node is None:
            return ()
        items = node.items if isinstance(node, Sequence) else (node,)
        if not items or len(items) > MOST_LAYOUTS:
            self.faults.add(node.place, f"{len(items)} layouts", f"1 to {MOST_LAYOUTS} layouts")
        folder, found = os.path.dirname(self.file), []
        for item in items[:MOST_LAYOUTS]:
            if isinstance(item, Scalar) and item.text.strip():
                found.append(os.path.join(folder, item.text))
            else:
                self.faults.add(item.place, values.described(item), "a layout file")
        return tuple(found)

    def layout(self, file: str) -> Mapping | None:
        """Tree of a layout; its own faults stop the study."""
        content = read_once(file)
        self.digest.update(content)
        text = characters.decoded(content, file)
        root = tree.grow(text.removeprefix("\ufeff"), file, self.faults)
        if isinstance(root, Mapping):
            return root
        self.faults.add(Place(file, 1), "no layout", "`key: value` lines, `format: 1` first")
        return None

    def vary(self, layouts: tuple[Mapping, ...]) -> tuple[tuple[Listed, ...], tuple[Ranged, ...]]:
        """Everything under `vary`."""
        node = self.root.entries["vary"]
        given: list[Listed] = []
        ranges: list[Ranged] = []
        if values.is_nothing(node) or not isinstance(node, Mapping):
            self.faults.add(node.place, values.described(node), _VARY)
            return (), ()
        taken: dict[Path, str] = {}
        for name, entry in node.entries.items():
            paths, form = self.spots(name, node.keys[name], layouts, taken)
            if form is None:
                continue
            if isinstance(entry, Mapping):
                self.try_range(name, paths, form, entry, ranges)
            elif isinstance(entry, Sequence) and entry.items:
                self.try_list(name, paths, form, entry, given)
            else:
                self.faults.add(entry.place, values.described(entry), _VARY)
        if len(ranges) > MOST_RANGES:
            self.faults.add(node.place, f"{len(ranges)} ranges", f"at most {MOST_RANGES} ranges")
        return tuple(given), tuple(ranges)

    def spots(
        self, name: str, place: Place, layouts: tuple[Mapping, ...], taken: dict[Path, str]
    ) -> tuple[tuple[Path, ...], Form | None]:
        """Key paths of one variable, each good in every layout, and what may stand there."""
        paths, form = [], None
        for word in name.split(","):
            for layout in layouts:
                path = spots.split(word.strip(), layout)
                form = spots.form_at(path, layout, place, self.faults)
                if form is None:
                    return (), None
            for other, where in taken.items():
                if path[: len(other)] == other or other[: len(path)] == path:
                    found = f"{quoted('.'.join(path))} beside {quoted(where)}, one inside the other"
                    self.faults.add(place, found, "variables apart from each other")
                    return (), None
            taken[path] = name
            paths.append(path)
        return tuple(paths), form

    def try_list(
        self, name: str, paths: tuple[Path, ...], form: Form, node: Sequence, given: list[Listed]
    ) -> None:
        """Values to try one by one; each is read as in a layout, for its faults."""
        for item in node.items:
            self.reader.value(form, item, name)
        labels = tuple(
            " ".join(item.text.split()) if isinstance(item, Scalar) else f"variant {number}"
            for number, item in enumerate(node.items, 1)
        )
        given.append(Listed(name, paths, node.items, labels))

    def try_range(
        self, name: str, paths: tuple[Path, ...], form: Form, node: Mapping, ranges: list[Ranged]
    ) -> None:
        """A range from `low` to `high`."""
        if not isinstance(form, Number) or form.whole:
            self.faults.add(node.place, "a range", "a list: only a quantity can have a range")
            return
        for key, place in node.keys.items():
            if key not in ("low", "high"):
                self.faults.unknown(place, "unknown key", key, ("low", "high"))
        ends = []
        for key in ("low", "high"):
            if key not in node.entries:
                self.faults.add(node.place, f"a range without `{key}`", "`{low: ..., high: ...}`")
                return
            ends.append(values.number(form, node.entries[key], self.faults))
        low, high = ends
        if not isinstance(low, float) or not isinstance(high, float):
            return
        if not low < high:
            self.faults.add(node.place, "a range that does not rise", "`low` below `high`")
            return
        unit = units.KINDS[form.quantity.kind].shown
        least, most = (units.in_unit(edge, form.quantity.kind, unit) for edge in (low, high))
        ranges.append(Ranged(name, paths, least, most, unit, node.place))

    def samples(self, wanted: bool) -> int:
        """Samples for each combination of listed values."""
        node = self.root.entries.get("samples")
        if node is None:
            if wanted:
                self.faults.add(self.root.place, "ranges without `samples`", "`samples: 64`")
            return 1
        number = node.text if isinstance(node, Scalar) else ""
        if not wanted:
            self.faults.add(node.place, "`samples` without a range", "a range under `vary`")
        if not _COUNT.fullmatch(number) or not 1 <= int(number) <= MOST_CASES:
            self.faults.add(node.place, values.described(node), f"1 to {MOST_CASES} samples")
            return 1
        return int(number)

    def results(self) -> tuple[str, ...]:
        """Names of the results wanted."""
        node = self.root.entries["results"]
        if not isinstance(node, Sequence) or not node.items:
            self.faults.add(node.place, values.described(node), _LIST)
            return ()
        found = []
        for item in node.items:
            word = item.text if isinstance(item, Scalar) else ""
            if word not in RESULTS:
                self.faults.unknown(item.place, "unknown result", word, RESULTS)
            elif word in found:
                self.faults.add(item.place, f"{quoted(word)} a second time", "a result once only")
            else:
                found.append(word)
        return tuple(found)


_VARY = "`key.path: [value, ...]` or `key.path: {low: ..., high: ...}`"
_LIST = "a list such as `[suction, endurance]`"


def _is(node: Node, text: str) -> bool:
    return isinstance(node, Scalar) and node.text == text

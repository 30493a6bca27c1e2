"""The reference page of the layout file, made from the model's declarations.

`python -m plumbing.layout.reference` prints it.
"""

import inspect
import sys
from collections.abc import Iterator, Mapping

from plumbing import units
from plumbing.layout.characters import MOST_BYTES
from plumbing.layout.forms import (
    Choice,
    Field,
    Flag,
    Form,
    Items,
    Number,
    Record,
    Row,
    Section,
    Stated,
    Tagged,
    Text,
    fields_of,
)
from plumbing.layout.graded.keys import ALL_AT_ONCE, ENTRIES, MAY_MISS
from plumbing.layout.starting import EDITOR_LINE, SCHEMA_FILE, STARTERS
from plumbing.layout.statements import EXAMPLES
from plumbing.model.base import Written
from plumbing.model.layout import Layout
from plumbing.model.measured import PROVES

PROVEN = "; ".join(f"`{what}` for `{'` and `'.join(keys)}`" for what, keys in PROVES.items())
STATED = "\n".join(f"- `{words}`" for words in EXAMPLES)
SHORT = """\
format: 2
title: Heron
engines: {engine: 60 N}
tanks: {main: 1.5 L, header: 95 ml}
feed: main > header > fill tee > shut-off > screen > pump > fine filter > engine
vent: main > vent
fill: fill > fill tee
tube: {suction: polyurethane 6x4, pressure: nylon 4x2.5}
"""


def _rows(keys: Mapping[str, str]) -> str:
    return "\n".join(f"| `{key}` | {words} |" for key, words in keys.items())


HEAD = f"""# The layout file

A layout is one YAML 1.2 file of at most {MOST_BYTES // 1024} kB, written by hand. This page
is made from the program itself: `python -m plumbing.layout.reference` prints it.

- Every value with a dimension carries its unit, as you would say it: `6 mm`, `540 ml/min`,
  `1.5 L`, `-10 degC`, `12 deg`. A bare number is an error that shows the right form.
- x points aft, y to starboard, z up. A point is `[x, y, z]`, each with its unit.
- Pressures are gauge.
- Names of parts are yours: letters, digits, spaces, `-` and `_`. A port is `part.port`; where a
  part has one port only, its name is enough.
- Keys nobody knows are errors, with the nearest right key. All faults of a file are reported
  together, each with its line; nothing is computed from a file with faults.
- What is missing and has a usual value is assumed, and listed with its source in every output.
- Values said often may be said once: under `defaults`, or in `groups` (see "In few lines").
- Anchors, aliases, tags and several documents in one file are refused.
- Meshes (`.stl`) and recorded flights (`.csv`) stand beside the layout or below its folder.

`plumbing new` writes a layout to start from:
{", ".join(f"`{name}`" for name in STARTERS)}.

## In few lines

A file may say as little as this, and grow key by key; what it leaves out is taken as usual, with a
band, and `plumbing measure` says which of it to measure next:

```yaml
{SHORT}```

A name in a chain that stands nowhere else is a part of the kind that its last word says: `pump`,
`screen`, `filter`, `shut-off`, `valve`, `tee`, `vent`, `fill`, `drain`. A line is named for what it
joins, as `main to header`; under `lines` that name takes more keys.

| key | what it is |
| --- | --- |
{_rows(ALL_AT_ONCE)}

In an entry of a section:

| key | what it is |
| --- | --- |
{_rows(ENTRIES)}

## In an editor

`plumbing new NAME -o FILE` writes `{SCHEMA_FILE}` beside the file: the JSON Schema (2020-12) of
this page. The first line of the new file hooks it to editors that follow the YAML language
server's convention; they then offer keys, show what each means, and mark slips as you type:

```yaml
{EDITOR_LINE.rstrip()}
```

For a file that you have already, put this line first, and write the schema with
`plumbing schema > {SCHEMA_FILE}`. An editor marks what a schema can see; `plumbing check` reports
all the rest.

## Statements

What somebody must make true is a statement with its evidence: `open`, `planned`, `done` (date, by
whom) or `measured` (value, date, by whom, with what), in these words:

{STATED}

A note and the name of a photo may stand beside the words:

```yaml
leak-tested: {{is: done 2026-05-01 by builder, note: second try, photo: lid.jpg}}
```

What the file does not state is open. `stage:` says how far the aircraft has come; a statement is
due at the stage that stands beside its key below. Before that, one that is open is listed as due,
from then on it is a finding. A `done` without date counts, and is named as such. Passed readings
under `measured:` with `on`, `by` and `instrument` are evidence too, and the statement may stay open
in the file: {PROVEN}; one for each limit on the cards for
`papers.tests-recorded`.

In files of `format: 1` a statement was `yes` or `no`; they are read (yes as done without date, no
as open), and `plumbing upgrade` rewrites them.

## Keys

Files in which the same kind of value appears have it under the same heading below. **Needed**
marks keys without which a file has a fault.
"""

UNITS_HEAD = """## Units

These spellings are read at once; for most kinds any other unit that fits is understood as well.
A time may have two parts, as in reports: `5 min 30 s`. Decimals have a point, not a comma.

| kind | spellings | example |
| --- | --- | --- |
"""


def page() -> str:
    """The whole page as Markdown."""
    blocks = [HEAD, *(_block(cls) for cls in _classes()), _units()]
    return "\n".join(blocks)


def _classes() -> list[type[Written]]:
    """Every class that stands in a file, the layout first, each once, in order of appearance."""
    found: list[type[Written]] = [Layout]
    for cls in found:
        for field in fields_of(cls).values():
            found.extend(inner for inner in _inside(field.form) if inner not in found)
    return found


def _inside(form: Form) -> Iterator[type[Written]]:
    match form:
        case Record():
            yield form.cls
        case Tagged():
            yield from form.kinds.values()
        case Items() | Section():
            yield from _inside(form.item)
        case Row():
            for item in form.items:
                yield from _inside(item)


def _block(cls: type[Written]) -> str:
    words = inspect.cleandoc(cls.__doc__ or "")
    may_miss = MAY_MISS.get(cls, frozenset())
    rows = [_row(key, field, may_miss) for key, field in fields_of(cls).items()]
    head = "| key | value | what it is |\n| --- | --- | --- |"
    return "\n".join([f"## {_title(cls)}", "", words, "", head, *rows, ""])


def _row(key: str, field: Field, may_miss: frozenset[str]) -> str:
    words = field.doc
    if field.also:
        words += f". Also `{field.also}`"
    if key in may_miss:
        words += ". Filled in where it is missing"
    elif field.required:
        words += ". **Needed**"
    if field.usual:
        words += f". Usual: {field.usual.text} ({field.usual.source})"
    return f"| `{key}` | {_value(field.form)} | {words} |".replace("||", "|")


def _value(form: Form) -> str:
    match form:
        case Number() | Text() | Flag() | Choice():
            return _single(form)
        case Items():
            return f"list of {_value(form.item)}"
        case Row():
            return f"list of {len(form.items)}: {_value(form.items[0])} each"
        case Section():
            return f"`name:` {_value(form.item)}"
        case Tagged():
            return ", ".join(f"`{kind}:` {_link(cls)}" for kind, cls in form.kinds.items())
        case Record():
            return _link(form.cls)
        case Stated():
            return f"[statement](#statements), due when {form.due}"


def _single(form: Number | Text | Flag | Choice) -> str:
    match form:
        case Number():
            kind = units.KINDS[form.quantity.kind]
            return f"{kind.name}, `{kind.example}`"
        case Text():
            return _REFERRED.get(form.refers.to, form.refers.to) if form.refers else "text"
        case Flag():
            return "`yes` or `no`"
        case Choice():
            return ", ".join(f"`{word}`" for word in form.words)


_REFERRED = {
    "port": "a port, `part.port`",
    "passage": "a passage, `former.passage`",
    "part": "name of a part",
    "tubes": "name of a tube",
    "joints": "name of a joint",
    "tanks": "name of a tank",
}


def _title(cls: type[Written]) -> str:
    """Name of a class in words: `FillPort` is `Fill port`."""
    words = "".join(f" {c.lower()}" if c.isupper() else c for c in cls.__name__).strip()
    return words[0].upper() + words[1:]


def _link(cls: type[Written]) -> str:
    title = _title(cls)
    return f"[{title.lower()}](#{title.lower().replace(' ', '-')})"


def _units() -> str:
    rows = []
    for kind in units.KINDS.values():
        spellings = ", ".join(f"`{unit}`" for unit in kind.units if unit) or "none"
        rows.append(f"| {kind.name} | {spellings} | `{kind.example}` |")
    return UNITS_HEAD + "\n".join(rows) + "\n"


if __name__ == "__main__":
    sys.stdout.write(page())

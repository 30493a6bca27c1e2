"""Files of every kind, damaged by chance: a reader ends in a value or in faults with places.

`tests/corpus` holds a sound file of each kind and what once went wrong; whatever fails here is
kept there as a file of its own.
"""

import math
import random
from pathlib import Path

import pytest

from plumbing import api, quantities, units
from plumbing.errors import PlumbingError
from plumbing.layout.logs.read import read_file
from plumbing.studies.study import load_study, plan_of
from plumbing.studies.study.journal import Journal
from plumbing.studies.study.one import Row

CORPUS = Path(__file__).parents[1] / "corpus"
SEEDS = sorted(one for one in CORPUS.glob("*/*"))
BOX = "shape: {box: {at: [200 mm, 0 mm, 0 mm], size: [200 mm, 100 mm, 80 mm]}}"
MESH = "shape: {mesh: {at: [200 mm, 0 mm, 0 mm], file: tank.stl}}"
WORDS = [
    *(b"\0", b"\t", b"\n", b"\r", b'"', b"'", b"{", b"]", b": ", b",", b"-", b"#", b"&a ", b"*a"),
    *(b"nan", b"1e999", b"-1", b"9" * 40, "\u00b9\u202e\U0001f6e9".encode(), b"\xff\xfe", b"\x80"),
]


def damaged(content, dice):
    """Bytes with one to four damages: words put in, bits turned, stretches lost, moved, doubled."""
    for _ in range(dice.randint(1, 4)):
        start, length = dice.randint(0, len(content)), dice.choice((1, 2, 8, 40))
        before, piece, after = (
            content[:start],
            content[start : start + length],
            content[start + length :],
        )
        kind = dice.randrange(5)
        if kind == 0:
            content = before + dice.choice(WORDS) + piece + after
        elif kind == 1:
            content = before + bytes(one ^ (1 << dice.randrange(8)) for one in piece) + after
        elif kind == 2:
            content = before + after
        elif kind == 3:
            content = before + piece + piece + after
        else:
            content = after + before + piece
    return content


def read(kind, content, folder):
    """Read content as a file of a kind, by the reader the commands use."""
    file = folder / {"log": "log.csv", "mesh": "tank.stl"}.get(kind, "mine.yaml")
    file.write_bytes(content)
    small = (CORPUS / "small.yaml").read_text(encoding="utf-8")
    (folder / "small.yaml").write_text(small.replace(BOX, MESH) if kind == "mesh" else small)
    if kind == "log":
        read_file(file)
    elif kind == "study":
        load_study(file)
    else:
        api.load(folder / "small.yaml" if kind == "mesh" else file)


def outcome(kind, content, folder):
    """Whether it was read; faults have places, and anything else is raised."""
    if kind == "quantity":
        return as_quantities(content)
    try:
        read(kind, content, folder)
    except PlumbingError as refused:
        for fault in getattr(refused, "faults", ()):
            assert fault.place.line >= 1
            assert fault.found
            assert fault.expected
        return False
    return True


def as_quantities(content):
    """Every line as a quantity of every kind: a finite number or words."""
    read, told = [], []
    for line in content.decode("utf-8", errors="replace").splitlines():
        for kind in units.KINDS:
            try:
                read.append(quantities.parse(line, kind))
            except quantities.UnitError as refused:
                told.append(str(refused))
    assert all(math.isfinite(value) for value in read)
    assert all("expected" in words for words in told)
    return bool(read)


@pytest.mark.parametrize("seed", SEEDS, ids=lambda one: f"{one.parent.name}-{one.stem}")
def test_kept_files(tmp_path, seed):
    """Sound files are read; those kept because they once did harm are refused in words."""
    kind = seed.parent.name
    read_well = outcome(kind, seed.read_bytes(), tmp_path)
    assert read_well or not seed.stem.startswith("sound")


@pytest.mark.parametrize("times", [60, pytest.param(2000, marks=pytest.mark.slow)])
@pytest.mark.parametrize("kind", sorted({one.parent.name for one in SEEDS}))
def test_any_damage(tmp_path, kind, times):
    """A file damaged anywhere is read or refused in words."""
    seeds = [one.read_bytes() for one in SEEDS if one.parent.name == kind]
    for number in range(times):
        dice = random.Random(f"{kind} {number}")
        content = damaged(dice.choice(seeds), dice)
        try:
            outcome(kind, content, tmp_path)
        except Exception as other:
            raise AssertionError(f"keep this in tests/corpus/{kind}: {content!r}") from other


@pytest.mark.parametrize("times", [200, pytest.param(10_000, marks=pytest.mark.slow)])
def test_any_damage_to_a_journal(tmp_path, times):
    """Rows that are read from a damaged journal are rows that were written."""
    (tmp_path / "small.yaml").write_bytes((CORPUS / "small.yaml").read_bytes())
    (tmp_path / "study.yaml").write_bytes((CORPUS / "study" / "sound.yaml").read_bytes())
    plan = plan_of(load_study(tmp_path / "study.yaml"))
    rows = {n: Row(n, plan.case(n).values, (1.5 * n, None, "word"), "") for n in range(1, 9)}
    table, kept = tmp_path / "t.csv", tmp_path / "t.csv.rows"
    with Journal(table, "this", plan) as journal:
        journal.add(rows.values())
    sound = kept.read_bytes()
    for number in range(times):
        dice = random.Random(number)
        kept.write_bytes(damaged(sound, dice))
        try:
            with Journal(table, "this", plan) as journal:
                there = set(range(1, len(plan) + 1)) - set(journal.missing())
                journal.add([Row(n, plan.case(n).values, (0.0,), "") for n in journal.missing()])
                read = [one for one in journal.rows() if one.number in there]
        except PlumbingError:
            continue
        assert all(one == rows[one.number] for one in read)

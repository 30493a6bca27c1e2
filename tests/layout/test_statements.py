"""How statements are read, written back and brought from format 1 to format 2."""

import dataclasses
from collections.abc import Iterator
from pathlib import Path

import pytest
from layout_samples import SMALL, changed, faults_in, right
from small_pictures import png

from plumbing.errors import LayoutError
from plumbing.layout import load, read
from plumbing.layout.differences import plain
from plumbing.layout.edit import flow
from plumbing.layout.forms import Form, Items, Record, Row, Section, Stated, Tagged, fields_of
from plumbing.layout.stated import stated
from plumbing.layout.upgrading import upgraded
from plumbing.model.base import Written
from plumbing.model.layout import Layout
from plumbing.model.statement import Statement

LAYOUTS = sorted((Path(__file__).parents[2] / "layouts").glob("*.yaml"))
MEASURED = "measured 21 kPa on 2026-05-01 by the builder with water column"


def sealed(words: str) -> Statement:
    """A statement of the small layout."""
    layout = right(("diameter: 9 mm", f"diameter: 9 mm, sealed: {words}"))
    return layout.formers["F2"].passages["p1"].sealed


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("open", {}),
        ("planned", {"state": "planned"}),
        ("done", {"state": "done"}),
        ("done 2026-05-01 by R", {"state": "done", "on": "2026-05-01", "by": "R"}),
        (
            MEASURED,
            {
                "state": "measured",
                "value": "21 kPa",
                "on": "2026-05-01",
                "by": "the builder",
                "instrument": "water column",
            },
        ),
        (
            "{is: planned, note: next week, photo: a.jpg}",
            {"state": "planned", "note": "next week", "photo": "a.jpg"},
        ),
    ],
)
def test_words_are_read_and_written_back(
    words: str, said: dict[str, str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each form gives its parts, and is written as it was read."""
    (tmp_path / "a.jpg").write_bytes(png())
    monkeypatch.chdir(tmp_path)
    found = sealed(words)
    assert found == Statement(due="built", **said)
    assert flow(plain(Stated("built"), found)).replace('"', "") == words


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("yes", "yes"),
        ("no", "no"),
        ("Done", "Done"),
        ("done by me", "done by me"),
        ("done 2026-05-01", "done 2026-05-01"),
        ("done 2026-02-30 by me", "2026-02-30"),
        ("done 1.5.2026 by me", "1.5.2026"),
        ("measured on 2026-05-01 by me with gauge", "measured"),
        ("measured 21 on 2026-05-01 by me with gauge", "21"),
        ("measured 21 bananas on 2026-05-01 by me with gauge", "bananas"),
        ("measured 21 kPa on 2026-05-01 by me", "measured"),
        ("{note: me}", "without `is`"),
        ("{is: open, by: me}", "by"),
        ("[open]", "a list"),
        ("3", "3"),
    ],
)
def test_anything_else_is_a_fault_that_shows_the_form(words: str, found: str) -> None:
    """A tick, a date that is none, a value without unit and half a sentence are refused."""
    (fault,) = faults_in(changed(("diameter: 9 mm", f"diameter: 9 mm, sealed: {words}")))
    assert found in fault.found
    assert any(one in fault.expected for one in ("2026-05-01", "21 kPa", "note"))


def test_yes_of_format_1_is_done_without_date_and_told() -> None:
    """A file of format 1 is read: yes is done by nobody knows whom, no is open."""
    old = changed(("format: 2", "format: 1"), ("diameter: 9 mm", "diameter: 9 mm, sealed: yes"))
    layout = read(old)
    assert layout.formers["F2"].passages["p1"].sealed == Statement(due="built", state="done")
    assert "formers.F2.passages.p1.sealed" in {one.what for one in layout.assumptions}
    no = read(old.replace("sealed: yes", "sealed: no"))
    assert no.formers["F2"].passages["p1"].sealed == Statement(due="built")


def test_upgrade_changes_the_words_and_nothing_else() -> None:
    """Comments, blanks, quotes elsewhere, line ends and the mark at the front stay."""
    old = changed(
        ("format: 2\n", "format: 1  # yes: sealed: no\r\n"),
        ("diameter: 9 mm", 'diameter: 9 mm,   sealed: "yes" , fire-tight: No'),
        ("title: Small", 'title: "sealed: yes"'),
    )
    new = upgraded("\ufeff" + old, "a.yaml")
    assert new == "\ufeff" + old.replace("format: 1", "format: 2").replace(
        'sealed: "yes" , fire-tight: No', "sealed: done , fire-tight: open"
    )
    assert upgraded(new, "a.yaml") == new


@pytest.mark.parametrize("path", LAYOUTS, ids=lambda path: path.stem)
def test_an_upgraded_demo_says_what_the_old_one_said(path: Path) -> None:
    """A demo with every statement as yes or no reads the same before and after the upgrade."""
    text = path.read_text().replace("format: 2", "format: 1", 1)
    ticked = _ticked(text, load(path))
    before = read(ticked, str(path))
    after = read(upgraded(ticked, str(path)), str(path))
    assert stated(before) == stated(after)
    assert after.format == 2
    assert dataclasses.replace(before, format=2, assumptions=()) == dataclasses.replace(
        after, assumptions=()
    )


def _ticked(text: str, layout: Layout) -> str:
    """A file in which what is done or measured is a yes."""
    for one in stated(layout).values():
        text = text.replace(f": {one.words}", ": yes" if one.holds else ": no")
    return text


def test_every_statement_of_the_model_stands_in_a_record_or_a_section() -> None:
    """So upgrade and evidence find all of them without looking into lists and shapes."""
    shallow = set(_statements(Record(Layout), (), deep=False))
    assert shallow == set(_statements(Record(Layout), (), deep=True))
    assert len({path[-1] for path in shallow}) > 25


def _statements(
    form: Form, path: tuple[str, ...], deep: bool, above: tuple[type[Written], ...] = ()
) -> Iterator[tuple[str, ...]]:
    match form:
        case Stated():
            yield path
        case Record() if form.cls not in above:
            for key, field in fields_of(form.cls).items():
                yield from _statements(field.form, (*path, key), deep, (*above, form.cls))
        case Section():
            yield from _statements(form.item, path, deep, above)
        case Items() if deep:
            yield from _statements(form.item, path, deep, above)
        case Tagged() if deep:
            for kind, cls in form.kinds.items():
                yield from _statements(Record(cls), (*path, kind), deep, above)
        case Row() if deep:
            for item in form.items:
                yield from _statements(item, path, deep, above)


def test_a_broken_file_is_not_upgraded(tmp_path: Path) -> None:
    """Its faults are told, as by every other command."""
    from plumbing.api import upgraded as upgrade

    path = tmp_path / "a.yaml"
    path.write_text(SMALL.replace("format: 2", "format: 1").replace("title", "titel"))
    with pytest.raises(LayoutError):
        upgrade(path)

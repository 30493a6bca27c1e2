"""The logbook's file: read with every fault at its place, and a row put to it."""

import pytest

from plumbing.errors import LayoutError
from plumbing.layout.logbook import COLUMNS, Known, empty_logbook, entries_of, with_row

KNOWN = Known(("pump", "screen", "header"), 3e-3)
HEAD = "date,kind,part,filled,left,time,remarks"


def read(*rows, head=HEAD):
    """Rows of a logbook."""
    return entries_of("\n".join((head, *rows, "")).encode(), "mine.logbook.csv", KNOWN)


def faults(*rows, head=HEAD):
    """Faults of a logbook: line, what was found, what was expected."""
    with pytest.raises(LayoutError) as error:
        read(*rows, head=head)
    return [(one.place.line, one.found, one.expected) for one in error.value.faults]


def test_values_are_read_with_their_units():
    """Litres, minutes and days come in SI; an empty cell says nothing."""
    (one,) = read("2026-05-01,flight,,2.4 L,900 ml,8 min 30 s,windy")
    assert (one.date, one.kind, one.part) == ("2026-05-01", "flight", None)
    assert (one.filled, one.left, one.time) == (pytest.approx(2.4e-3), pytest.approx(9e-4), 510.0)
    assert one.remarks == "windy"


def test_rows_come_by_day_and_those_of_a_day_as_written():
    """A flight that was written down late stands where it was flown."""
    rows = read(
        "2026-05-02,flight,,,,,third", "2026-05-01,test,,,,,first", "2026-05-01,run,,,,,second"
    )
    assert [one.remarks for one in rows] == ["first", "second", "third"]


@pytest.mark.parametrize("delimiter", [";", "\t"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_spreadsheets_may_have_saved_it(delimiter, end):
    """Another sign between the cells, another line end, a mark in front and empty rows below."""
    rows = (HEAD, "2026-05-01,flight,,2.4 L,,8 min,", ",,,,,,")
    text = end.join(rows).replace(",", delimiter)
    (one,) = entries_of(b"\xef\xbb\xbf" + text.encode(), "mine.logbook.csv", KNOWN)
    assert one.filled == pytest.approx(2.4e-3)


HOSTILE = {
    "no unit": ("2026-05-01,flight,,2.4,,,", "`2.4` without a unit", "1.5 L"),
    "another unit": ("2026-05-01,flight,,,,8 km,", "`8 km`", "90 s"),
    "no such day": ("2026-02-30,flight,,,,,", "`2026-02-30`", "2026-05-01"),
    "a day as spreadsheets have it": ("01.05.2026,flight,,,,,", "`01.05.2026`", "2026-05-01"),
    "no such kind": ("2026-05-01,fligth,,,,,", "`fligth`", "`flight`"),
    "no such part": ("2026-05-01,test,pmup,,,,", "no part `pmup`", "`pump`"),
    "care of nothing": ("2026-05-01,care,,,,,", "care of no part", "`pump`"),
    "cut off": ("2026-05-01,fli", "2 cells in a row", "7, one a column"),
    "a comma too many": ("2026-05-01,flight,,2,4 L,,8 min,", "8 cells in a row", "in quotes"),
    "a quote left open": ('2026-05-01,flight,,,,,"windy', "not closed", "behind a text"),
    "an escape": ("2026-05-01,flight,,,,,\x1b[2J", "U+001B", "letters"),
    "turned writing": ("2026-05-01,flight,,,,,\u202eydniw", "U+202E", "letters"),
    "more than fits": ("2026-05-01,flight,,30 L,,,", "30 L on board of tanks that hold 3 L", ""),
    "more left than there was": ("2026-05-01,flight,,1 L,2 L,,", "2 L left of 1 L on board", ""),
    "never": (",flight,,,,,", "`row 2` without `date`", "2026-05-01"),
    "beyond all bounds": ("2026-05-01,flight,,1e300 L,,,", "out of bounds", "1.5 L"),
    "not a number": ("2026-05-01,flight,,nan L,,,", "`nan L`", "1.5 L"),
    "a long text": (f"2026-05-01,flight,,,,,{'x' * 5000}", "a text of 5000 characters", "at most"),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_damaged_row_is_told_with_its_line(name):
    """What was found, what was expected, an example where one helps; and nothing else."""
    row, found, expected = HOSTILE[name]
    ((line, said, wanted),) = faults(row)
    assert line == 2
    assert found in said
    assert expected in wanted


def test_all_faults_of_all_rows_come_at_once():
    """Three rows with five faults are told in one reading."""
    told = faults("2026-13-01,flight,,2,,,", "2026-05-01,fly,,,,9,", "2026-05-01,care,oven,,,,")
    assert [line for line, *_ in told] == [2, 2, 3, 3, 4]


@pytest.mark.parametrize(
    ("head", "found"),
    [
        ("date,kind,fuel", "no column `fuel`"),
        ("date,date,kind", "column `date` twice"),
        ("kind,filled", "a first row without `date`"),
        ("2026-05-01,flight,2 L", "a first row without"),
    ],
)
def test_a_first_row_that_is_none_is_told(head, found):
    """Columns that are missing, unknown or there twice."""
    assert any(found in said for _, said, _ in faults(head=head))


@pytest.mark.parametrize(
    "content", [b"\x00\x01", b"\xff\xfea", b"date,kind\n\xff\n", b"\x89PNG\r\n"]
)
def test_what_is_no_text_is_refused(content):
    """A picture, a text of another encoding: one fault, no trace."""
    with pytest.raises(LayoutError):
        entries_of(content, "mine.logbook.csv", KNOWN)


def test_a_row_is_put_behind_and_every_byte_stays():
    """Order of columns, sign between cells and line ends are those of the file."""
    before = b"kind;date;time\r\nflight;2026-05-01;8 min\r\n\r\n"
    whole, entry = with_row(
        before, {"kind": "run", "date": "2026-05-02", "time": "90 s"}, "m", KNOWN
    )
    assert whole == before + b"run;2026-05-02;90 s\r\n"
    assert entry.time == 90.0


def test_a_last_line_without_an_end_gets_one():
    """A file saved without a line end is not continued in the middle of its last row."""
    before = b"date,kind\n2026-05-01,flight"
    whole, _ = with_row(before, {"date": "2026-05-02", "kind": "run"}, "m", KNOWN)
    assert whole == before + b"\n2026-05-02,run\n"


def test_texts_come_back_as_they_were_put_in():
    """Commas, quotes and semicolons in remarks are text."""
    words = 'full, "hot"; 2 bubbles'
    whole, entry = with_row(
        b"", {"date": "2026-05-02", "kind": "run", "remarks": words}, "m", KNOWN
    )
    assert entry.remarks == words
    assert entries_of(whole, "m", KNOWN)[0].remarks == words
    assert whole.startswith(empty_logbook().encode())


@pytest.mark.parametrize(
    "row",
    [
        {"filled": "2"},
        {"remarks": "one\ntwo"},
        {"remarks": "\x07"},
        {"part": "oven"},
        {"left": "1 L"},
        {"fuel": "1 L"},
    ],
)
def test_a_row_with_a_fault_is_not_put(row):
    """The fault is one of the new row, which has no line yet."""
    with pytest.raises(LayoutError) as error:
        with_row(b"", {"date": "2026-05-02", "kind": "run", **row}, "m", KNOWN)
    assert {one.place.file for one in error.value.faults} == {"the new row"}


def test_nothing_is_put_to_a_damaged_file():
    """What is wrong in the file comes first, at its own line."""
    with pytest.raises(LayoutError) as error:
        with_row(b"date,kind\n2026-05-01,fl\n", {"date": "2026-05-02", "kind": "run"}, "m", KNOWN)
    assert [one.place.line for one in error.value.faults] == [2]


def test_columns_are_those_of_the_paper():
    """What the log in the dossier asks for has a column. Common practice."""
    asked = {"date", "kind", "filled", "left", "header-air", "volts", "duty", "time", "temperature"}
    assert asked | {"remarks"} <= set(COLUMNS)

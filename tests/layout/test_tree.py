"""Text to tree: what a layout file may not be written with, and where it says so."""

import time

import pytest
from layout_samples import SMALL, faults_in

from plumbing.errors import LayoutError
from plumbing.layout import load, read
from plumbing.layout.gathering import Faults
from plumbing.layout.tree import Mapping, Scalar, Sequence, grow


def test_nodes_know_their_places():
    """Every node and key has the line and column an editor shows."""
    root = grow("a: 1\nb:\n  - x\n  - {c: 'no'}\n", "f", Faults())
    assert isinstance(root, Mapping)
    assert [str(root.keys[key]) for key in root.entries] == ["f:1:1", "f:2:1"]
    items = root.entries["b"]
    assert isinstance(items, Sequence)
    assert str(items.items[0].place) == "f:3:5"
    inner = items.items[1]
    assert isinstance(inner, Mapping)
    value = inner.entries["c"]
    assert isinstance(value, Scalar)
    assert (value.text, value.quoted, str(value.place)) == ("no", True, "f:4:9")


def test_nothing_is_converted():
    """Words that YAML could turn into other things stay the text that was written."""
    root = grow("a: yes\nb: 010\nc: 2020-01-01\nd: 1e3\n", "f", Faults())
    assert isinstance(root, Mapping)
    texts = [node.text for node in root.entries.values() if isinstance(node, Scalar)]
    assert texts == ["yes", "010", "2020-01-01", "1e3"]


REFUSED = [
    ("a: &x 1\nb: *x\n", 1, 4, "an anchor `&x`"),
    ("a: *x\n", 1, 4, "an alias `*x`"),
    ("a: !!python/object:os.system x\n", 1, 4, "a tag"),
    ("a: !thing x\n", 1, 4, "a tag"),
    ("<<: {a: 1}\n", 1, 1, "a merge key"),
    ("a: 1\n---\nb: 2\n", 2, 1, "a second document"),
    ("? [a, b]\n: c\n", 1, 3, "a list or mapping as a key"),
    ("a:\n\tb: 1\n", 2, 1, "a tab"),
    ("a: [1, 2\nb: 3\n", 1, 4, "a list that is not closed"),
    ("a: {x: 1\nb: 3\n", 1, 4, "a mapping in braces that is not closed"),
    ('a: "never closed\n', 1, 4, "a text whose quote is not closed"),
    ("a: b: c\n", 1, 5, "a second `:` in one line"),
    ("a: 1\n  b: 2\n", 2, 4, "a second `:` in one line, or a line too far to the right"),
    ("a: 1\nb\nc: 2\n", 2, 1, "a line without `:`"),
    ("a: 1\n- b\n", 2, 1, "a line that does not fit"),
    ("a: @x\n", 1, 4, "a sign that cannot begin a value"),
    ('a: "\\q"\n', 1, 6, "a `\\`"),
    ("%YAML 9.9\n---\na: 1\n", 1, 1, "a line that begins with `%`"),
    ("a: \x07\n", 1, 4, "a control character"),
    ("a: x\u202ey\n", 1, 5, "a right-to-left override"),
    ('a: "\\u202e"\n', 1, 4, "a right-to-left override"),
    ('a: "\\x00"\n', 1, 4, "a zero byte"),
    ("a: " + "[" * 30 + "]" * 30 + "\n", 1, 24, "more than 20 levels"),
    ("a: " + "x" * 3000 + "\n", 1, 1, "a line of 3003 characters"),
    ("a:\n" + "- 1\n" * 16_000, None, 1, "more than 15000 values"),
    ("# x\n" * 70_000, 1, 1, "a file of"),
]


@pytest.mark.parametrize(("text", "line", "column", "found"), REFUSED, ids=lambda v: str(v)[:20])
def test_refused_with_its_place(text, line, column, found):
    """What a layout may not be written with is one fault, at its place, in plain words."""
    fault = faults_in(text)[-1]
    assert fault.found.startswith(found), str(fault)
    assert line is None or (fault.place.line, fault.place.column) == (line, column)
    assert fault.expected
    for jargon in ("token", "scalar", "node", "block", "stream", "flow", "parsing"):
        assert jargon not in str(fault).split()


@pytest.mark.parametrize(("text", "line", "column", "found"), REFUSED, ids=lambda v: str(v)[:20])
def test_refused_quickly(text, line, column, found):
    """No text keeps anyone waiting."""
    start = time.process_time()
    faults_in(text)
    assert time.process_time() - start < 2.0


def test_key_twice():
    """A key written twice is a fault that names both places, and reading goes on."""
    found = faults_in(SMALL + "title: Other\nfeed-ordr: []\n")
    assert [fault.place.line for fault in found] == [SMALL.count("\n") + 1, SMALL.count("\n") + 2]
    assert found[0].found == "`title` a second time; it stands in line 2 already"


def test_not_utf8(tmp_path):
    """Bytes that are no UTF-8 are a fault at the first of them."""
    path = tmp_path / "a.yaml"
    path.write_bytes("format: 2\ntitle: Öl ".encode() + b"\xff\n")
    with pytest.raises(LayoutError) as raised:
        load(path)
    (fault,) = raised.value.faults
    assert (fault.place.line, fault.place.column) == (2, 11)
    assert "0xff" in fault.found


@pytest.mark.parametrize("encoding", ["utf-16", "utf-32"])
def test_other_encodings(tmp_path, encoding):
    """A file in another encoding is a fault."""
    path = tmp_path / "a.yaml"
    path.write_bytes(SMALL.encode(encoding))
    with pytest.raises(LayoutError):
        load(path)


def test_byte_order_mark_and_line_ends(tmp_path):
    """A byte-order mark and lines ended as elsewhere change nothing, places included."""
    path = tmp_path / "a.yaml"
    path.write_bytes(b"\xef\xbb\xbf" + SMALL.replace("\n", "\r\n").encode())
    layout = load(path)
    assert layout == read(SMALL, str(path))
    assert layout.tanks["main"].place.line == read(SMALL).tanks["main"].place.line
    assert layout.place_of("format").column == 1


def test_large_file_is_not_read(tmp_path):
    """A file of 10 MB is refused by its size."""
    path = tmp_path / "a.yaml"
    path.write_bytes(b"a" * 10_000_000)
    with pytest.raises(LayoutError, match="a file of more than 256 kB"):
        load(path)


@pytest.mark.parametrize("name", ["missing.yaml", ".", "bad\0name"])
def test_unreadable_path(tmp_path, name):
    """A path that cannot be read is a fault of its own."""
    with pytest.raises(LayoutError, match="which cannot be read"):
        load(tmp_path / name)


@pytest.mark.parametrize("text", ["", "\n\n", "# only a comment\n", "---\n", "null\n"])
def test_empty(text):
    """An empty file is told how to begin."""
    (fault,) = faults_in(text)
    assert fault.found == "an empty file"
    assert "plumbing new" in fault.expected


@pytest.mark.parametrize(("text", "found"), [("- a\n- b\n", "a list"), ("words\n", "`words`")])
def test_not_a_mapping(text, found):
    """A file that is no mapping is one fault."""
    (fault,) = faults_in(text)
    assert fault.found == found
    assert fault.place.line == 1

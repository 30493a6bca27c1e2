"""Photos named in a layout: whole pictures beside it are read, everything else is told."""

import zlib

import pytest
from small_pictures import SIGN, chunk, jpeg, png

from plumbing import api
from plumbing.errors import LayoutError
from plumbing.layout.pictures import PictureError, kind_of


@pytest.mark.parametrize("content", [png(), jpeg(), jpeg(colours=1, frame=0xC2)])
def test_whole_pictures_are_taken(content):
    """Their kind is that of the content, not of the name."""
    assert kind_of(content) in ("png", "jpg")


HOSTILE = {
    "nothing": (b"", "neither PNG nor JPEG"),
    "a web page": (b"<svg onload='alert(1)'></svg>", "neither PNG nor JPEG"),
    "another kind": (b"GIF89a" + bytes(50), "neither PNG nor JPEG"),
    "a program": (b"MZ" + bytes(100), "neither PNG nor JPEG"),
    "PNG cut off": (png()[:-20], "cut off"),
    "PNG damaged": (png().replace(b"IDAT", b"IDAX"), "checksum"),
    "PNG bomb by size": (png(60_000, 60_000, b""), "60000 x 60000 pixels"),
    "PNG bomb by rows": (png(packed=zlib.compress(bytes(50_000_000))), "rows are damaged"),
    "PNG without pixels": (png(0, 2, b""), "0 x 2 pixels"),
    "PNG with rows missing": (png(rows=b"\x00\x01"), "rows are damaged"),
    "PNG with rows that are none": (png(packed=b"\x00\x01\x02"), "rows are damaged"),
    "PNG of no kind": (png(head=(7, 2, 0, 0, 0)), "unknown kind"),
    "PNG without its colours": (png(head=(8, 3, 0, 0, 0), rows=2 * bytes(4)), "colours"),
    "PNG without a head": (SIGN + chunk(b"IEND", b""), "without its head"),
    "JPEG cut off": (jpeg(end=b""), "cut off"),
    "JPEG without a picture": (b"\xff\xd8\xff\xe0\x00\x04\x00\x00\xff\xd9", "without a picture"),
    "JPEG with a length of nothing": (b"\xff\xd8\xff\xe0\x00\x00\xff\xd9", "damaged"),
    "JPEG bomb by size": (jpeg(65_000, 65_000), "65000 x 65000 pixels"),
    "JPEG for print": (jpeg(colours=4), "4 colours"),
    "JPEG of an unusual kind": (jpeg(frame=0xC9), "unusual kind"),
    "JPEG of twelve bits": (jpeg(depth=12), "unusual kind"),
    "too large": (png() + bytes(13_000_000), "more than 12 MB"),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_what_is_no_whole_picture_is_refused(name):
    """What was found is said; nothing is decoded beyond what the picture says it holds."""
    content, found = HOSTILE[name]
    with pytest.raises(PictureError, match=found):
        kind_of(content)


@pytest.mark.parametrize("content", [png(), jpeg()])
def test_every_cut_is_noticed(content):
    """A picture that ends before its end is not taken, wherever that is."""
    for length in range(len(content)):
        with pytest.raises(PictureError):
            kind_of(content[:length])


@pytest.fixture
def folder(pytestconfig, tmp_path):
    """A folder with a layout in it, two pictures, and one outside it."""
    place = tmp_path / "mine"
    (place / "sub").mkdir(parents=True)
    text = (pytestconfig.rootpath / "layouts/single-main.yaml").read_text(encoding="utf-8")
    (place / "mine.yaml").write_text(text, encoding="utf-8")
    (place / "bay.png").write_bytes(png())
    (place / "sub" / "pump.jpeg").write_bytes(jpeg())
    (tmp_path / "other.png").write_bytes(png())
    (place / "led.png").symlink_to(tmp_path / "other.png")
    return place


def with_photos(folder, text):
    """The layout with photos."""
    path = folder / "mine.yaml"
    path.write_text(f"{path.read_text(encoding='utf-8')}photos:\n{text}", encoding="utf-8")
    return path


def test_photos_are_read_from_the_folder(folder):
    """By relative names, with the part they show; they are inputs of every command."""
    text = "  bay: {file: bay.png, part: main, stage: built}\n  pump: {file: sub/pump.jpeg}\n"
    layout = api.load(with_photos(folder, text))
    assert layout.photos["bay"].content == png()
    assert layout.photos["pump"].part is None
    assert {"bay.png", "sub/pump.jpeg"} <= set(layout.files_named())


@pytest.mark.parametrize(
    ("file", "found"),
    [
        ("../other.png", "../other.png"),
        ("/etc/passwd", "/etc/passwd"),
        ("led.png", "leads out of the layout's folder"),
        ("none.png", "is not there"),
        ("mine.yaml", "mine.yaml"),
        ("C:\\\\bay.png", "bay.png"),
        ("sub", "sub"),
    ],
)
def test_other_files_are_refused_at_their_line(folder, file, found):
    """Outside the folder, not there, of another kind: one fault with its line, and an example."""
    path = with_photos(folder, f'  bay: {{file: "{file}"}}\n')
    with pytest.raises(LayoutError) as error:
        api.load(path)
    (fault,) = error.value.faults
    assert found in fault.found
    assert ".jpg" in fault.expected
    assert fault.place.line == len(path.read_text(encoding="utf-8").splitlines())


def test_all_faults_of_photos_come_at_once(folder):
    """A damaged picture, an unknown part and a missing file are told together."""
    (folder / "cut.png").write_bytes(png()[:-5])
    rows = ("cut: {file: cut.png}", "bay: {file: bay.png, part: oven}", "none: {file: none.png}")
    with pytest.raises(LayoutError) as error:
        api.load(with_photos(folder, "".join(f"  {row}\n" for row in rows)))
    assert len(error.value.faults) == 3


def test_too_many_photos_are_refused(folder):
    """Sixty are allowed: they all stand in one page."""
    rows = "".join(f"  view {number}: {{file: bay.png}}\n" for number in range(61))
    with pytest.raises(LayoutError, match="61 photos"):
        api.load(with_photos(folder, rows))

"""Pictures by their content: whole PNG and JPEG files of bounded size, nothing else.

Only what encloses the picture is read; nothing is decoded but the PNG's rows, which are counted
and thrown away. PNG: ISO/IEC 15948. JPEG: ITU-T T.81.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterator

MOST_BYTES = 12_000_000
MOST_PIXELS = 50_000_000
_PNG, _JPEG = b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff"
_SAMPLES = {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}  # of a pixel, by colour type
_DEPTHS = {0: (1, 2, 4, 8, 16), 2: (8, 16), 3: (1, 2, 4, 8), 4: (8, 16), 6: (8, 16)}
_PASSES = ((8, 8), (8, 8), (4, 8), (4, 4), (2, 4), (2, 2), (1, 2))  # columns, rows a pixel
_OFFSETS = ((0, 0), (4, 0), (0, 4), (2, 0), (0, 2), (1, 0), (0, 1))
_ALONE = {0x01, *range(0xD0, 0xD9)}  # markers without a length
_FRAMES = (0xC0, 0xC1, 0xC2)  # baseline, extended, progressive: what readers know


class PictureError(ValueError):
    """A file is no whole picture; the message says what was found."""


def kind_of(content: bytes) -> str:
    """Kind of a picture, `png` or `jpg`.

    Raises
    ------
    PictureError
        It is none, not whole, or too large.
    """
    if len(content) > MOST_BYTES:
        raise PictureError(f"a picture of more than {MOST_BYTES // 1_000_000} MB")
    if content.startswith(_PNG):
        _check_png(content)
        return "png"
    if content.startswith(_JPEG):
        _check_jpeg(content)
        return "jpg"
    raise PictureError("a file that is neither PNG nor JPEG")


def _check_size(wide: int, high: int) -> None:
    if not wide or not high:
        raise PictureError(f"a picture of {wide} x {high} pixels")
    if wide * high > MOST_PIXELS:
        raise PictureError(f"a picture of {wide} x {high} pixels")


def _check_png(content: bytes) -> None:
    chunks = list(_chunks(content))
    name, head = chunks[0] if chunks else (b"", b"")
    if name != b"IHDR" or len(head) != 13:
        raise PictureError("a PNG file without its head")
    if chunks[-1][0] != b"IEND":
        raise PictureError("a PNG file that is cut off")
    wide, high = int.from_bytes(head[:4]), int.from_bytes(head[4:8])
    depth, colour, interlaced = head[8], head[9], head[12]
    _check_size(wide, high)
    if depth not in _DEPTHS.get(colour, ()) or head[10] or head[11] or interlaced > 1:
        raise PictureError("a PNG file of an unknown kind")
    if colour == 3 and not any(one == b"PLTE" and rows for one, rows in chunks):
        raise PictureError("a PNG file without its colours")
    needed = _rows(wide, high, depth * _SAMPLES[colour], bool(interlaced))
    if _inflated(b"".join(rows for one, rows in chunks if one == b"IDAT"), needed) != needed:
        raise PictureError("a PNG file whose rows are damaged")


def _chunks(content: bytes) -> Iterator[tuple[bytes, bytes]]:
    """Names and contents of the chunks of a PNG file, to its end."""
    at = len(_PNG)
    while at < len(content):
        length, name = int.from_bytes(content[at : at + 4]), content[at + 4 : at + 8]
        end = at + 12 + length
        if end > len(content):
            raise PictureError("a PNG file that is cut off")
        if int.from_bytes(content[end - 4 : end]) != zlib.crc32(content[at + 4 : end - 4]):
            raise PictureError("a PNG file that is damaged: a checksum is wrong")
        yield name, content[at + 8 : end - 4]
        at = len(content) if name == b"IEND" else end


def _rows(wide: int, high: int, bits: int, interlaced: bool) -> int:
    """Bytes of all rows, each with the byte of its filter."""
    passes = zip(_OFFSETS, _PASSES, strict=True) if interlaced else [((0, 0), (1, 1))]
    total = 0
    for (right, down), (across, along) in passes:
        columns, rows = -(-(wide - right) // across), -(-(high - down) // along)
        if columns > 0 and rows > 0:
            total += rows * (1 + -(-columns * bits // 8))
    return total


def _inflated(packed: bytes, most: int) -> int:
    """Bytes that a stream holds, as far as one more than allowed."""
    stream, count = zlib.decompressobj(), 0
    try:
        while packed and count <= most:
            count += len(stream.decompress(packed, 1 << 20))
            packed = stream.unconsumed_tail
    except zlib.error:
        return -1
    return count if stream.eof else -1


def _check_jpeg(content: bytes) -> None:
    frame = None
    for marker, at, end in _segments(content):
        if marker in range(0xC0, 0xD0) and marker not in (0xC4, 0xC8, 0xCC):
            if marker not in _FRAMES or end - at < 8 or content[at] != 8:
                raise PictureError("a JPEG file of an unusual kind")
            frame = content[at:end]
    if frame is None:
        raise PictureError("a JPEG file without a picture")
    _check_size(int.from_bytes(frame[3:5]), int.from_bytes(frame[1:3]))
    if frame[5] not in (1, 3):
        raise PictureError(f"a JPEG file of {frame[5]} colours")


def _segments(content: bytes) -> Iterator[tuple[int, int, int]]:
    """Marker, begin and end of the segments of a JPEG file, to the end of its picture."""
    at = 2
    while True:
        if at + 2 > len(content) or content[at] != 0xFF:
            raise PictureError("a JPEG file that is cut off or damaged")
        marker = content[at + 1]
        if marker == 0xD9:
            return
        if marker in _ALONE or marker == 0xFF:
            at += 1 if marker == 0xFF else 2
            continue
        end = at + 2 + int.from_bytes(content[at + 2 : at + 4])
        if end < at + 4 or end > len(content):
            raise PictureError("a JPEG file that is cut off or damaged")
        yield marker, at + 4, end
        at = _after_scan(content, end) if marker == 0xDA else end


def _after_scan(content: bytes, at: int) -> int:
    """Where the coded rows of a scan end: at the next marker that is none of their own."""
    while True:
        at = content.find(b"\xff", at)
        if at < 0 or at + 1 >= len(content):
            raise PictureError("a JPEG file that is cut off")
        if content[at + 1] not in (0x00, 0xFF, *range(0xD0, 0xD8)):
            return at
        at += 1 if content[at + 1] == 0xFF else 2

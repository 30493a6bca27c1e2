"""Small helpers that write SVG text."""

import re
from collections.abc import Iterable

MARK = "made by plumbing"  # in every drawing and paper: such a file may be written over
FONT = "DejaVu Sans, Verdana, sans-serif"
Value = str | float | int | None

_ESCAPES = {"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;"}


def escape(text: str) -> str:
    """Text with the five characters of markup replaced."""
    return "".join(_ESCAPES.get(ch, ch) for ch in text)


def num(value: float) -> str:
    """A number with at most three decimals and no trailing zeros."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text


def tag(name: str, body: Value = "", **attributes: Value) -> str:
    """An element; `_` in attribute names stands for `-`, and None leaves an attribute out."""
    words = [name]
    for key, value in attributes.items():
        if value is None:
            continue
        shown = value if isinstance(value, str) else num(value)
        words.append(f'{key.rstrip("_").replace("_", "-")}="{escape(shown)}"')
    head = " ".join(words)
    return f"<{head}>{body}</{name}>" if body else f"<{head}/>"


def group(parts: Iterable[str], *, title: str = "", **attributes: Value) -> str:
    """A `<g>` with an optional `<title>`, which browsers show as a hint."""
    inner = "".join(parts)
    lead = tag("title", escape(title)) if title else ""
    return tag("g", lead + inner, **attributes)


def write(
    x: float,
    y: float,
    text: str,
    size: float,
    *,
    bold: bool = False,
    anchor: str = "start",
    fill: str | None = None,
) -> str:
    """A row of text; its direction is isolated so that a right-to-left name stays in place."""
    return tag(
        "text",
        escape(text),
        x=x,
        y=y,
        font_size=size,
        font_weight="bold" if bold else None,
        text_anchor=None if anchor == "start" else anchor,
        fill=fill,
        direction="ltr",
        unicode_bidi="isolate",
    )


def line(x1: float, y1: float, x2: float, y2: float, **attributes: Value) -> str:
    """A straight line."""
    return tag("line", x1=x1, y1=y1, x2=x2, y2=y2, **attributes)


def path(d: str, **attributes: Value) -> str:
    """A path; unfilled unless said otherwise."""
    attributes.setdefault("fill", "none")
    return tag("path", d=d, **attributes)


def rect(x: float, y: float, w: float, h: float, **attributes: Value) -> str:
    """A rectangle."""
    return tag("rect", x=x, y=y, width=w, height=h, **attributes)


def circle(x: float, y: float, r: float, **attributes: Value) -> str:
    """A circle."""
    return tag("circle", cx=x, cy=y, r=r, **attributes)


def polygon(points: Iterable[tuple[float, float]], **attributes: Value) -> str:
    """A closed polygon."""
    return tag("polygon", points=" ".join(f"{num(x)},{num(y)}" for x, y in points), **attributes)


def diamond(x: float, y: float, reach: float, **attributes: Value) -> str:
    """A square on its corner: a mark that nobody takes for a hole."""
    return polygon([(x, y - reach), (x + reach, y), (x, y + reach), (x - reach, y)], **attributes)


def slug(kind: str, name: str) -> str:
    """An element id from any name: letters, digits, hyphens; anything else by its code."""
    safe = re.sub(r"[^A-Za-z0-9-]", lambda m: f"_{ord(m[0]):x}_", name[:80])
    return f"{kind}-{safe}"


def page(w: float, h: float, body: Iterable[str], title: str) -> str:
    """A whole SVG document of `w` x `h` [mm], one user unit to the millimetre."""
    attributes = (
        f'xmlns="http://www.w3.org/2000/svg" width="{num(w)}mm" height="{num(h)}mm" '
        f'viewBox="0 0 {num(w)} {num(h)}" font-family="{FONT}" role="img"'
    )
    return f"<svg {attributes}><!-- {MARK} --><title>{escape(title)}</title>{''.join(body)}</svg>\n"

"""Plain text for a terminal: headings, wrapped paragraphs, aligned tables, a little colour."""

import textwrap
from collections.abc import Sequence
from io import StringIO
from typing import Self

from rich.console import Console
from rich.style import Style
from rich.text import Text

from plumbing.findings import Severity
from plumbing.model.layout import Layout
from plumbing.report.words import CAUTION, safe, sentence
from plumbing.results import NotComputed

_STYLES = {
    Severity.UNSAFE: Style(bold=True, reverse=True),
    Severity.FAULT: Style(bold=True),
    Severity.ADVICE: Style(italic=True),
}


class Page:
    """Collects lines and gives them back as one text.

    Attributes
    ----------
    width : int
        Columns.
    """

    def __init__(self, width: int, colour: bool) -> None:
        self.width = width
        self._out = StringIO()
        self._console = Console(
            file=self._out,
            width=width,
            force_terminal=colour,
            color_system="standard" if colour else None,
            no_color=not colour,
            highlight=False,
            markup=False,
            emoji=False,
            soft_wrap=True,
        )

    @classmethod
    def about(cls, layout: Layout, width: int, colour: bool) -> Self:
        """Begin a page on a layout with its title and its file."""
        page = cls(width, colour)
        page.line(layout.title, bold=True)
        page.line(layout.place.file)
        return page

    def text(self) -> str:
        """Everything written so far, without a final line break."""
        return self._out.getvalue().rstrip("\n")

    @property
    def height(self) -> int:
        """Lines written so far."""
        return self._out.getvalue().count("\n")

    def blank(self) -> None:
        """Leave a line empty."""
        self._console.print()

    def heading(self, words: str, aside: str = "") -> None:
        """Write a section's heading with an aside at the right margin, ruled below."""
        self.blank()
        gap = " " * max(2, self.width - len(words) - len(aside))
        line = words + gap + aside if aside else words
        self._console.print(Text(safe(line), style=Style(bold=True)))
        self._console.print("─" * self.width)

    def severity(self, severity: Severity, meaning: str) -> None:
        """Write a severity's heading."""
        self.blank()
        self._console.print(
            Text(f" {severity.upper()} ", style=_STYLES[severity]) + Text(f"  {meaning}")
        )

    def partial(self, stopped: bool) -> None:
        """Say that somebody stopped the computation, if so."""
        if stopped:
            self.blank()
            self.paragraph("Partial: it was stopped before all was computed.", bold=True)

    def not_computed(self, why: NotComputed) -> None:
        """Write, in the place of a result, why there is none."""
        self.heading(why.what[:1].upper() + why.what[1:], "not computed")
        self.paragraph(sentence(why.reason), indent=2)

    def caution(self, first: str = "") -> None:
        """Write the caution that ends a report, behind what is to be said there first."""
        self.heading("Caution")
        self.paragraph(f"{first} {CAUTION}".lstrip())

    def line(self, words: str, bold: bool = False) -> None:
        """Write one line as it is."""
        self._console.print(Text(safe(words), style=Style(bold=bold)))

    def paragraph(self, words: str, indent: int = 0, label: str = "", bold: bool = False) -> None:
        """Write a wrapped paragraph; continuation lines hang under the text."""
        first = " " * indent + (f"{label:<9}" if label else "")
        wrapped = textwrap.wrap(
            safe(words).replace("\n", " "),
            self.width,
            initial_indent=first,
            subsequent_indent=" " * len(first),
            break_long_words=True,
        )
        for line in wrapped:
            self.line(line, bold=bold)

    def table(
        self, header: Sequence[str], rows: Sequence[Sequence[str]], left: int = 1, indent: int = 2
    ) -> None:
        """Write an aligned table: the first `left` columns to the left, numbers to the right."""
        widths = [max(len(cell) for cell in column) for column in zip(header, *rows, strict=True)]
        spare = self.width - indent - sum(widths[1:]) - 2 * (len(widths) - 1)
        widths[0] = max(8, min(widths[0], spare))
        named = [header] if any(header) else []
        for number, row in enumerate([*named, *rows]):
            cells = [
                elided(cell, size).ljust(size) if index < left else cell.rjust(size)
                for index, (cell, size) in enumerate(zip(row, widths, strict=True))
            ]
            self.line((" " * indent + "  ".join(cells)).rstrip(), bold=number < len(named))


def cut(text: str, size: int) -> str:
    """Shorten a text at its end to a size."""
    return text if len(text) <= size else f"{text[: size - 1].rstrip()}…"


def elided(text: str, size: int) -> str:
    """Shorten a text in its middle to a size."""
    if len(text) <= size:
        return text
    head = (size - 1) // 2
    return f"{text[:head]}…{text[len(text) - (size - 1 - head) :]}"

# SPDX-License-Identifier: Apache-2.0
"""Sheets of a workbook: cells with typed values and with live formulas, set up to be printed.

Plain on purpose: one typeface, bold heads, thin rules; a column says what is typed and what is
worked. Words are always written as words, so that none of them is run as a formula.
"""

from collections.abc import Sequence
from io import BytesIO
from textwrap import wrap
from typing import Any

from tilewater.documents.money.live import Live, Plain

TRIGGERS = ("=", "+", "-", "@", "\t", "\r", "\n")
"""How a text begins that a spreadsheet may take for a formula."""
LEDGER, LETTER, A3, A4 = 17, 1, 8, 9
"""Codes of sizes of paper: 11x17 in, letter, A3, A4."""
LINE = 12.5
"""Height of a line of words. [pt]"""
WIDE = 1.35
"""Letters of words in the width of one digit, which columns are counted in. [-]"""
ROWS_OF_PAGE = 95
"""Rows that are still read when they are fitted on one page."""
UNWRAPPED = ("title", "part")
"""Styles whose words run on over the next columns."""
FORMATS: dict[str, dict[str, object]] = {
    "": {"text_wrap": True, "valign": "top", "align": "left", "indent": 1},
    "head": {
        "bold": True,
        "bottom": 1,
        "text_wrap": True,
        "valign": "bottom",
        "align": "left",
        "indent": 1,
    },
    "head right": {
        "bold": True,
        "bottom": 1,
        "text_wrap": True,
        "valign": "bottom",
        "align": "right",
    },
    "title": {"bold": True, "font_size": 14, "align": "left", "indent": 1},
    "part": {"bold": True, "font_size": 11, "top": 1, "align": "left", "indent": 1},
    "note": {
        "font_color": "#555555",
        "text_wrap": True,
        "valign": "top",
        "align": "left",
        "indent": 1,
    },
    "box": {"num_format": "#,##0.00", "valign": "top", "border": 1},
    "money": {"num_format": "#,##0.00", "valign": "top"},
    "sum": {"num_format": "#,##0.00", "bold": True, "top": 1, "valign": "top"},
    "number": {"num_format": "#,##0.###", "valign": "top"},
    "bid": {"num_format": "#,##0.#####", "valign": "top"},
    "length": {"num_format": "0.00##", "valign": "top"},
    "percent": {"num_format": "0.0 %", "valign": "top"},
    "times": {"num_format": '0.0 "x"', "valign": "top"},
    "verdict": {"bold": True, "valign": "top", "align": "right"},
    "bold": {"bold": True, "text_wrap": True, "valign": "top", "align": "left", "indent": 1},
}


def safe_text(text: str) -> str:
    """A text that no spreadsheet takes for a formula, wherever it is opened or pasted.

    Parameters
    ----------
    text : str

    Returns
    -------
    str
        With an apostrophe before it where it begins like a formula.
    """
    return f"'{text}" if text.startswith(TRIGGERS) else text


class Book:
    """A workbook in memory."""

    def __init__(self, title: str) -> None:
        from xlsxwriter import Workbook

        self._file = BytesIO()
        options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
        self._book = Workbook(self._file, options)
        self._book.set_properties({"title": title, "comments": "Made by Tilewater."})
        self._book.set_calc_mode("auto")
        self.title = title
        self.formats = {
            name: self._book.add_format({"font_name": "Arial", "font_size": 9, **settings})
            for name, settings in FORMATS.items()
        }

    def sheet(self, name: str, widths: Sequence[float], *, paper: int, lying: bool) -> "Sheet":
        """A new sheet; widths of its columns in letters."""
        return Sheet(self, self._book.add_worksheet(name), name, widths, paper, lying)

    def content(self) -> bytes:
        """The file."""
        self._book.close()
        return self._file.getvalue()


class Sheet:
    """One sheet: cells are put in and given back as what a formula can lean on."""

    def __init__(
        self, book: Book, page: Any, name: str, widths: Sequence[float], paper: int, lying: bool
    ) -> None:
        self._book, self._page, self.name = book, page, name
        self.row = 0
        self._widths = tuple(widths)
        self._lines: dict[int, int] = {}
        for column, width in enumerate(widths):
            page.set_column(column, column, width)
        page.set_paper(paper)
        if lying:
            page.set_landscape()
        page.set_margins(left=0.5, right=0.5, top=0.7, bottom=0.7)
        page.fit_to_pages(1, 0)
        page.hide_gridlines(2)
        head = book.title.replace("&", "&&")
        page.set_header(f"&L&9{head}&R&9{name}")
        page.set_footer("&L&9Tilewater&R&9page &P of &N")

    def words(self, column: int, text: str, style: str = "") -> None:
        """Words in a column of the row that is written, which is made high enough for them."""
        if style not in UNWRAPPED:
            self._make_room(text, self._widths[column])
        self._page.write_string(self.row, column, safe_text(text), self._book.formats[style])

    def put(self, column: int, value: Plain | Live | None, style: str = "number") -> Live:
        """A typed value or a formula in a column of the row that is written."""
        at = self._at(column)
        format_of = self._book.formats[style]
        if isinstance(value, Live):
            near = value.text.replace(f"'{self.name}'!", "")
            self._page.write_formula(self.row, column, f"={near}", format_of, value.value)
            return Live(at, value.value)
        if value is None or value == "":
            self._page.write_blank(self.row, column, None, format_of)
            return Live(at, "")
        if isinstance(value, str):
            self._page.write_string(self.row, column, safe_text(value), format_of)
        else:
            self._page.write_number(self.row, column, float(value), format_of)
        return Live(at, value)

    def _make_room(self, text: str, letters: float) -> None:
        """Make the row that is written as high as its words need in a column of that width."""
        lines = len(wrap(text, max(int(WIDE * letters) - 2, 1)))
        if lines > self._lines.get(self.row, 1):
            self._lines[self.row] = lines
            self._page.set_row(self.row, LINE * lines)

    def _at(self, column: int) -> str:
        from xlsxwriter.utility import xl_rowcol_to_cell

        return f"'{self.name}'!{xl_rowcol_to_cell(self.row, column)}"

    def heads(self, *heads: str, right: Sequence[int] = (), repeat: bool = False) -> None:
        """Heads of columns; repeated on each printed page where told to."""
        for column, head in enumerate(heads):
            self.words(column, head, "head right" if column in right else "head")
        if repeat:
            self._page.repeat_rows(self.row)
            self._page.freeze_panes(self.row + 1, 0)
        self.row += 1

    def line(self, text: str, style: str = "") -> None:
        """A line of words by itself."""
        self.words(0, text, style)
        self.row += 1

    def note(self, text: str) -> None:
        """A note over all columns."""
        last = len(self._widths) - 1
        style = self._book.formats["note"]
        if last:
            self._page.merge_range(self.row, 0, self.row, last, "", style)
        self._make_room(text, sum(self._widths))
        self._page.write_string(self.row, 0, safe_text(text), style)
        self.row += 1

    def fit_on_one_page(self) -> None:
        """Print the sheet on one page, where it is read there."""
        if self.row <= ROWS_OF_PAGE:
            self._page.fit_to_pages(1, 1)

    def skip(self, rows: int = 1) -> None:
        """Leave rows empty."""
        self.row += rows

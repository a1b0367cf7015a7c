# SPDX-License-Identifier: Apache-2.0
"""Values of a workbook that carry their formula: what a cell shows and how it is worked.

A formula is built from cells with ordinary arithmetic, and its value is worked along, so that a
viewer that works nothing sees the same numbers. Rounding is as a spreadsheet does it: a half goes
away from zero.
"""

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

Plain = float | str
"""What a cell may hold: a number, or words where there is none."""
ATOM, PRODUCT, SUM = 3, 2, 1
NOT_KNOWN = "not known"
LEAST_RUN = 3
"""Cells that are written as a range."""
_CELL = re.compile(r"((?:'[^']+'!)?[A-Z]{1,3})([0-9]+)")


@dataclass(frozen=True)
class Live:
    """A cell, or arithmetic with cells.

    Attributes
    ----------
    text : str
        Formula without the equals sign.
    value : float or str
        What it comes to.
    binds : int
        How tightly the outermost arithmetic binds, to know where brackets are needed.
    """

    text: str
    value: Plain
    binds: int = ATOM

    def __add__(self, other: "Term") -> "Live":
        return _joined(self, "+", live(other), SUM)

    def __radd__(self, other: float) -> "Live":
        return live(other) + self

    def __sub__(self, other: "Term") -> "Live":
        return _joined(self, "-", live(other), SUM)

    def __rsub__(self, other: float) -> "Live":
        return live(other) - self

    def __mul__(self, other: "Term") -> "Live":
        return _joined(self, "*", live(other), PRODUCT)

    def __rmul__(self, other: float) -> "Live":
        return live(other) * self

    def __truediv__(self, other: "Term") -> "Live":
        return _joined(self, "/", live(other), PRODUCT)

    @property
    def number(self) -> float:
        """Its value as a number; words count nothing."""
        return self.value if isinstance(self.value, int | float) else 0.0

    @property
    def is_number(self) -> bool:
        """Whether it holds a number."""
        return isinstance(self.value, int | float)


Term = Live | float


def live(term: Term) -> Live:
    """A number as it stands in a formula."""
    return term if isinstance(term, Live) else Live(f"{term:.12g}", float(term))


def _joined(left: Live, sign: str, right: Live, binds: int) -> Live:
    # a - (b - c) and a / (b * c) need their brackets, a + b + c does not
    loose = binds + 1 if sign in "-/" else binds
    first = left.text if left.binds >= binds else f"({left.text})"
    second = right.text if right.binds >= loose else f"({right.text})"
    a, b = left.number, right.number
    value = {"+": a + b, "-": a - b, "*": a * b, "/": a / b if b else 0.0}[sign]
    return Live(f"{first}{sign}{second}", value, binds)


def half_up(number: float, places: int) -> float:
    """A number rounded as a spreadsheet does it."""
    step = Decimal(1).scaleb(-places)
    return float(Decimal(f"{number:.15g}").quantize(step, ROUND_HALF_UP))


def rounded(term: Live, places: int = 2) -> Live:
    """A value to a number of places; to the cent where none is said."""
    return Live(f"ROUND({term.text},{places})", half_up(term.number, places))


def as_bid(term: Live) -> Live:
    """A quantity with the digits that it is bid with: three figures, or whole units."""
    text = term.text if term.binds == ATOM else f"({term.text})"
    places = f"MAX(0,2-INT(LOG10(ABS({text}))))"
    formula = f"IF({text}=0,0,ROUND({text},{places}))"
    number = term.number
    digits = max(0, 2 - math.floor(math.log10(abs(number)))) if number else 0
    return Live(formula, half_up(number, digits))


def square_root(term: Live) -> Live:
    """The square root of a value."""
    return Live(f"SQRT({term.text})", math.sqrt(term.number))


def least(*terms: Live) -> Live:
    """The least of some values."""
    return Live(f"MIN({','.join(t.text for t in terms)})", min(t.number for t in terms))


def not_below_zero(term: Live) -> Live:
    """A value, or zero where it would be less."""
    return Live(f"MAX(0,{term.text})", max(0.0, term.number))


def span(cells: Sequence[Live]) -> str:
    """A run of cells, one below the other, as a range."""
    first, last = cells[0].text, cells[-1].text
    return f"{first}:{last.rpartition('!')[2]}"


def sum_of_cells(cells: Sequence[Live]) -> Live:
    """The sum of a run of cells; words count nothing."""
    if not cells:
        return live(0.0)
    return Live(f"SUM({span(cells)})", half_up(sum(cell.number for cell in cells), 6))


def sum_if_whole(cells: Sequence[Live]) -> Live:
    """The sum of a run of cells where all are numbers; else it is not known."""
    run = span(cells)
    whole = all(cell.is_number for cell in cells)
    value: Plain = half_up(sum(cell.number for cell in cells), 6) if whole else NOT_KNOWN
    return Live(f'IF(COUNT({run})=ROWS({run}),SUM({run}),"{NOT_KNOWN}")', value)


def where_number(cell: Live, then: Live, otherwise: str = "") -> Live:
    """A value where a cell holds a number, and words where it does not."""
    value = then.value if cell.is_number else otherwise
    return Live(f'IF(ISNUMBER({cell.text}),{then.text},"{otherwise}")', value)


def where_all_numbers(cells: Sequence[Live], then: Live, otherwise: str = NOT_KNOWN) -> Live:
    """A value where every cell holds a number, and words where one does not."""
    value = then.value if all(cell.is_number for cell in cells) else otherwise
    listed = run_of(cells) or ",".join(cell.text for cell in cells)
    return Live(f'IF(COUNT({listed})={len(cells)},{then.text},"{otherwise}")', value)


def run_of(cells: Sequence[Live]) -> str:
    """Cells as a range where they stand one below the other without a gap; else ""."""
    places = [_CELL.fullmatch(cell.text) for cell in cells]
    if len(cells) < LEAST_RUN or None in places:
        return ""
    found = [(match[1], int(match[2])) for match in places if match is not None]
    columns, rows = {column for column, _ in found}, [row for _, row in found]
    if len(columns) > 1 or rows != list(range(rows[0], rows[0] + len(rows))):
        return ""
    return span(cells)


def sum_of_terms(terms: Sequence[Live]) -> Live:
    """The sum of cells; as a range where they stand together."""
    if not terms:
        return live(0.0)
    if run := run_of(terms):
        return Live(f"SUM({run})", half_up(sum(term.number for term in terms), 6))
    total = terms[0]
    for term in terms[1:]:
        total = total + term
    return total

# SPDX-License-Identifier: Apache-2.0
"""Bids as they come back, read against the schedule that went out.

Titles above the head, other orders of the columns, dollar signs and commas are taken as they are. A
price in words is a fault, since nobody may guess it. An item that is missing, that nobody asked for
or whose quantity was changed is told, and the schedule governs.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.basis.findings import Finding
from tilewater.basis.units import did_you_mean
from tilewater.economics.bids import Bid, BidLine
from tilewater.job.bid_files import Grid, bid_rows

BASE = "base"
HEADS = {
    "item": ("item", "bid item", "item name"),
    "description": ("description", "what it is"),
    "price": ("unit price", "price", "unit cost", "unit bid price"),
    "amount": ("amount", "extension", "extended amount", "ext", "total"),
    "quantity": ("quantity", "qty", "estimated quantity"),
    "unit": ("unit", "units"),
    "part": ("part", "alternate", "alt"),
}
"""Names of a column, by what it holds."""
TOTALS = ("total", "sum", "total of the base", "base bid", "total base bid")
NAMED = 4
"""Changed quantities that are named."""
NO_PRICE = ("", "-", "--", "no bid", "n/a", "na")
NO_HEAD = (
    "no row names the columns 'item' and 'unit price'. Name them in the row above the first item, "
    "as the schedule that went out does."
)
_MONEY = re.compile(r"\$?\s*(?:USD)?\s*(\d{1,3}(?:,\d{3})+|\d{1,12})(\.\d{0,6})?\s*(?:USD|\$)?")
_NUMBER = re.compile(r"(\d{1,3}(?:,\d{3})+|\d{1,12})(\.\d{0,9})?")


@dataclass(frozen=True)
class Asked:
    """An item that bidders were asked for: words, bid unit and quantity; None if not known."""

    title: str
    unit: str
    quantity: Decimal | None


@dataclass(frozen=True)
class Schedule:
    """What bidders were asked for.

    Attributes
    ----------
    base : mapping of str to Asked
        Items of the base.
    alternates : mapping of str to mapping
        Items that each alternate adds.
    """

    base: Mapping[str, Asked]
    alternates: Mapping[str, Mapping[str, Asked]] = field(default_factory=dict)

    def part(self, name: str) -> Mapping[str, Asked]:
        """Items of the base, or of an alternate."""
        return self.base if name == BASE else self.alternates[name]


def read_bid(
    path: Path, schedule: Schedule, *, name: str, title: str, set_aside: str = ""
) -> tuple[Bid, tuple[Finding, ...]]:
    """A bid as a file has it.

    Parameters
    ----------
    path : Path
        CSV or XLSX.
    schedule : Schedule
        What was asked for.
    name, title : str
        Name in the job file, and of the bidder.
    set_aside : str
        Why the owner sets it aside.

    Returns
    -------
    tuple of Bid and tuple of Finding
        The bid, and where it departs from the schedule.

    Raises
    ------
    BadInputFile
        With every fault of the file at once.
    """
    reader = _Reader(path.name, title, schedule)
    reader.read(bid_rows(path))
    if reader.faults:
        raise BadInputFile(*reader.faults)
    reader.tell_changed()
    reader.tell_missing()
    bid = Bid(
        name,
        title,
        path.name,
        reader.lines.pop(BASE),
        reader.lines,
        reader.total,
        set_aside,
    )
    return bid, tuple(reader.notes)


def lines_of_bid(path: Path) -> int:
    """Lines below the head of a bid, for a look before there is a schedule.

    Raises
    ------
    BadInputFile
        If the file cannot be read or has no head.
    """
    grid = bid_rows(path)
    for place, (_, cells) in enumerate(grid):
        if _is_head(cells):
            return len(grid) - place - 1
    raise BadInputFile(Fault(path.name, None, "", NO_HEAD))


def _is_head(cells: Sequence[str]) -> bool:
    heads = {_head_of(cell) for cell in cells}
    return "price" in heads and not {"item", "description"}.isdisjoint(heads)


def _folded(text: str) -> str:
    return " ".join(re.sub(r"[-_\s]+", " ", text.casefold()).split())


def _head_of(cell: str) -> str:
    """What a column holds, by its name without a unit; "" for none that is known."""
    plain = _folded(re.sub(r"[\[(].*?[\])]|,?\s*USD\b|\$|:", "", cell))
    return next((what for what, names in HEADS.items() if plain in names), "")


class _Reader:
    """Reads the rows of one bid and keeps what is wrong and what is to be told."""

    def __init__(self, file: str, title: str, schedule: Schedule) -> None:
        self.file, self.title, self.schedule = file, title, schedule
        self.faults: list[Fault] = []
        self.notes: list[Finding] = []
        self.changed: list[str] = []
        self.total: Decimal | None = None
        parts = (BASE, *schedule.alternates)
        self.lines: dict[str, dict[str, BidLine]] = {part: {} for part in parts}

    def read(self, grid: Grid) -> None:
        """Read every row below the head."""
        for place, (_, cells) in enumerate(grid):
            if not _is_head(cells):
                continue
            columns = {_head_of(cell): n for n, cell in enumerate(cells) if _head_of(cell)}
            for number, below in grid[place + 1 :]:
                self._row(number, {what: below[n] for what, n in columns.items() if n < len(below)})
            return
        self.faults.append(Fault(self.file, None, "", NO_HEAD))

    def _row(self, line: int, row: Mapping[str, str]) -> None:
        part = self._part(line, row.get("part", ""))
        word = row.get("item", "") or row.get("description", "")
        if part is None or not word:
            return
        if _folded(word) in TOTALS:
            if part == BASE and self.total is None:
                self.total = self._money(line, "amount", row.get("amount") or row.get("price", ""))
            return
        item = self._item(part, word, row.get("description", ""))
        if item is None:
            self._tell_extra(line, part, word, row)
        elif item in self.lines[part]:
            first = self.lines[part][item].line
            message = f"{item} is priced on line {first} already. Keep the one that was signed."
            self.faults.append(Fault(self.file, line, "item", message))
        else:
            asked = self.schedule.part(part)[item]
            self.lines[part][item] = self._line(line, item, asked, row)

    def _part(self, line: int, text: str) -> str | None:
        folded = _folded(text).replace("alternate ", "")
        found = {_folded(part): part for part in self.lines}
        if folded in found:
            return found[folded]
        if not folded:
            return BASE
        if any(character.isalpha() for character in folded):
            message = (
                f"'{text}' is no part of the bid. Write {', '.join(self.lines)}."
                f"{did_you_mean(folded, tuple(found))}"
            )
            self.faults.append(Fault(self.file, line, "part", message))
        return None

    def _item(self, part: str, word: str, description: str) -> str | None:
        asked = self.schedule.part(part)
        names = {_folded(item): item for item in asked}
        titles = {_folded(each.title): item for item, each in asked.items()}
        for text in (_folded(word), _folded(description)):
            if text and (found := names.get(text) or titles.get(text)):
                return found
        return None

    def _line(self, line: int, item: str, asked: Asked, row: Mapping[str, str]) -> BidLine:
        price = self._money(line, "unit price", row.get("price", ""))
        amount = self._money(line, "amount", row.get("amount", ""))
        quantity = self._quantity(row.get("quantity", ""))
        if quantity is not None and asked.quantity is not None and quantity != asked.quantity:
            self.changed.append(
                f"{item} {_plain(quantity)} for {_plain(asked.quantity)} {asked.unit}"
            )
        unit = row.get("unit", "").strip().rstrip(".").upper()
        if unit and unit != asked.unit:
            self._tell(
                "bid-unit-changed",
                f"{self.title} prices {item} per {unit}; the schedule asks for {asked.unit}. "
                "The price is not taken.",
            )
            price = None
        elif price is None and amount is not None and asked.quantity == 1:
            price = amount  # a lump sum, written as an amount alone
        return BidLine(item, price, amount, quantity, line)

    def _money(self, line: int, column: str, text: str) -> Decimal | None:
        """Money of a cell; None where there is none, a fault where it is no number."""
        plain = text.strip()
        if plain.casefold() in NO_PRICE:
            return None
        if (match := _MONEY.fullmatch(plain)) is not None:
            return Decimal(match[1].replace(",", "") + (match[2] or "").rstrip("."))
        message = (
            f"{column} '{text}' is no amount of money. Write it in digits, like 1,250.00; "
            "leave it blank where the bidder wrote none, and 0.00 where it is in another item."
        )
        self.faults.append(Fault(self.file, line, column, message))
        return None

    def _quantity(self, text: str) -> Decimal | None:
        match = _NUMBER.fullmatch(text.strip())
        if match is None:
            return None
        return Decimal(match[1].replace(",", "") + (match[2] or "").rstrip("."))

    def _tell_extra(self, line: int, part: str, word: str, row: Mapping[str, str]) -> None:
        """An item that nobody asked for; a line without a number is a heading."""
        price, amount = (row.get(column, "").strip() for column in ("price", "amount"))
        if not price and not amount:
            return
        near = did_you_mean(_folded(word).replace(" ", "-"), tuple(self.schedule.part(part)))
        self._tell(
            "bid-item-extra",
            f"{self.title} prices '{word}' on line {line}, which the schedule does not ask for. "
            f"It is not counted.{near}",
        )

    def tell_changed(self) -> None:
        """Tell which quantities are not those that were asked for."""
        if not self.changed:
            return
        more = len(self.changed) - NAMED
        named = "; ".join(self.changed[:NAMED]) + (f"; and {more} more" if more > 0 else "")
        self._tell(
            "bid-quantity-changed",
            f"{self.title} bids other quantities than were asked for: {named}. Those of the "
            "schedule count; where they changed since, ask the bidders again.",
        )

    def tell_missing(self) -> None:
        """Tell which items have no price."""
        for part, lines in self.lines.items():
            missing = [item for item in self.schedule.part(part) if _has_no_price(lines, item)]
            if not missing:
                continue
            if part == BASE:
                where = ""
                rest = "The total is not known; what becomes of the bid is the owner's to say."
            else:
                where = f" of alternate {part}"
                rest = "The total with that alternate is not known."
            self._tell(
                "bid-item-missing",
                f"{self.title} has no unit price for {', '.join(missing)}{where}. {rest}",
            )

    def _tell(self, code: str, message: str) -> None:
        self.notes.append(Finding(code, "caution", self.title, message))


def _plain(quantity: Decimal) -> str:
    """A quantity without zeros at its end."""
    return f"{quantity.normalize():f}"


def _has_no_price(lines: Mapping[str, BidLine], item: str) -> bool:
    return item not in lines or lines[item].price is None


def blank_schedule(schedule: Schedule) -> Iterator[tuple[str, ...]]:
    """Rows of the schedule for bidders: head, then every item with blank price and amount.

    Parameters
    ----------
    schedule : Schedule

    Returns
    -------
    iterator of tuple of str
    """
    yield "part", "item", "description", "unit", "quantity", "unit price [USD]", "amount [USD]"
    for part in (BASE, *schedule.alternates):
        for item, asked in schedule.part(part).items():
            quantity = "" if asked.quantity is None else _plain(asked.quantity)
            yield part, item, asked.title, asked.unit, quantity, "", ""
        if part == BASE:
            yield part, "total", "Total of the base", "", "", "", ""

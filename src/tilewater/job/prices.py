# SPDX-License-Identifier: Apache-2.0
"""Unit prices of an office, in the bid units of the trade.

A price keeps the unit, date and source that stand beside it. For the estimate it becomes a price
per coherent SI unit, or per piece for what is counted (EA, LS, HR, DAY). Items that no quantity
asks for and quantities that no item prices are both reported.
"""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Given, Origin
from tilewater.basis.units import did_you_mean, join_or, to_si
from tilewater.economics.price_items import COUNTED, MEASURED, allowed_units, near_item
from tilewater.job.rows import Row, Sheet, read_sheet

REQUIRED = ("item", "unit", "price", "date", "source")
OLD_YEARS = 2


@dataclass(frozen=True)
class Price:
    """Price of one item.

    Attributes
    ----------
    item : str
        As the quantities call it.
    unit : str
        Bid unit.
    price_usd : float
        Price of one bid unit. [USD]
    price_si : float
        Price of one coherent SI unit, or of one piece. [USD]
    date, source : date, str
        When and where the price was had.
    origin : Origin
        Line of the file.
    """

    item: str
    unit: str
    price_usd: float
    price_si: float
    date: date
    source: str
    origin: Origin

    @property
    def given(self) -> Given:
        """The price as an input of the estimate."""
        title = f"Unit price of {_folded(self.item).replace('-', ' ')}"
        return Given(f"inputs.price.{self.item}.usd", self.price_si, "USD", title, self.origin)


@dataclass(frozen=True)
class PriceFile:
    """The prices of a file by item, and what the engineer must know about them."""

    file: str
    prices: Mapping[str, Price]
    findings: tuple[Finding, ...]


def read_prices(
    path: Path, *, items: Collection[str] | None = None, year: int | None = None
) -> PriceFile:
    """Unit prices of a file.

    Parameters
    ----------
    path : Path
        The file.
    items : collection of str or None
        Items that the estimate asks for; hyphens, underscores and spaces are the same. None for
        all that a bed may have.
    year : int or None
        Year of the estimate, to report prices that are much older.

    Returns
    -------
    PriceFile
        Prices and findings.

    Raises
    ------
    BadInputFile
        With every fault of the file at once.
    """
    sheet = read_sheet(path, REQUIRED)
    known = {_folded(item): item for item in items or ()}
    prices: dict[str, Price] = {}
    for row in sheet.rows:
        price = _price(sheet, row, known)
        if price is None:
            continue
        if price.item in prices:
            sheet.fault(
                row.line,
                "item",
                f"{row['item']} is priced on line {prices[price.item].origin.line} already. "
                "Keep one.",
            )
        prices.setdefault(price.item, price)
    sheet.close()
    findings = (*_not_known(prices, items), *_not_priced(prices, items), *_old(prices, year))
    return PriceFile(path.name, prices, findings)


def _folded(item: str) -> str:
    return item.casefold().replace("_", "-").replace(" ", "-")


def _price(sheet: Sheet, row: Row, known: Mapping[str, str]) -> Price | None:
    day, value = sheet.day(row), sheet.number(row, "price")
    if sheet.units["price"] not in ("USD", "$"):
        sheet.units = {**sheet.units, "price": "USD"}
        message = "the column 'price' does not say in what money. Write price [USD]."
        sheet.fault(sheet.line, "price", message)
    for column in ("item", "source"):
        if not row[column]:
            sheet.fault(row.line, column, f"the row has no {column}. Write it.")
    unit = row["unit"].upper()
    if unit not in MEASURED and unit not in COUNTED:
        units = (*MEASURED, *COUNTED)
        sheet.fault(
            row.line,
            "unit",
            f"unit '{row['unit']}' of {row['item']} is no bid unit. Write {join_or(units)}."
            f"{did_you_mean(unit, units)}",
        )
        return None
    allowed = allowed_units(_folded(row["item"]))
    if allowed and unit not in allowed:
        message = (
            f"{row['item']} is priced per {unit}; it is measured in {allowed[0]}. "
            f"Write {join_or(allowed)}."
        )
        sheet.fault(row.line, "unit", message)
        return None
    if value is not None and value < 0:
        message = f"price {row['price']} of {row['item']} is negative. Write what one {unit} costs."
        sheet.fault(row.line, "price", message)
        return None
    if day is None or value is None or not row["item"]:
        return None
    item = known.get(_folded(row["item"]), _folded(row["item"]))
    per_si = value / to_si(1.0, MEASURED[unit]) if unit in MEASURED else value
    text, note = f"{row['price']} USD/{unit}", f"{row['source']}, {day}"
    origin = Origin(sheet.file, row.line, text, note=note)
    return Price(item, unit, value, per_si, day, row["source"], origin)


def _not_known(prices: Mapping[str, Price], items: Collection[str] | None) -> Iterator[Finding]:
    for item, price in prices.items():
        if not allowed_units(item) if items is None else item not in items:
            near = near_item(item) if items is None else did_you_mean(item, items)
            yield Finding(
                "price-item-unknown",
                "caution",
                item,
                f"{price.origin}: no quantity is called '{item}', so this price is not used. "
                f"Correct the name, or leave it for later.{near}",
            )


def _not_priced(prices: Mapping[str, Price], items: Collection[str] | None) -> Iterator[Finding]:
    missing = [item for item in items or () if item not in prices]
    if missing:
        yield Finding(
            "price-missing",
            "caution",
            "estimate",
            f"No price is given for {', '.join(missing)}. "
            "Add a row for each, or the total is not known.",
        )


def _old(prices: Mapping[str, Price], year: int | None) -> Iterator[Finding]:
    old = [p.item for p in prices.values() if year is not None and year - p.date.year > OLD_YEARS]
    if old:
        yield Finding(
            "price-old",
            "caution",
            "estimate",
            f"Prices more than {OLD_YEARS} years older than {year}: {', '.join(old)}. "
            "Ask for new ones.",
        )

# SPDX-License-Identifier: Apache-2.0
"""Pages of quantities and the estimate."""

from tilewater.chain.money import price_item
from tilewater.documents.paper.blocks import (
    Block,
    Cell,
    Column,
    Heading,
    Paragraph,
    Run,
    Table,
    number,
)
from tilewater.documents.report.governing import cost_per_mass
from tilewater.documents.report.reading import TWO, Reading
from tilewater.economics.price_items import allowed_units

BY_GROUND = frozenset({"seeding"})
SUMS = (
    ("subtotal_usd", "Sum"),
    ("contingency_usd", "Contingency"),
    ("total_usd", "Estimate"),
)


def money_pages(reading: Reading) -> tuple[Block, ...]:
    """Quantities with their prices, sums, and what a year costs."""
    items = [
        item
        for item in reading.trace.names("quantities")
        if f"quantities.{item}.quantity" in reading.trace
    ]
    rows = [_line(reading, item) for item in items]
    count = len(rows)
    rows += [
        (
            Run(label, "bold"),
            "",
            "",
            "",
            reading.cell(f"cost.{key}", "money"),
        )
        for key, label in SUMS
        if f"cost.{key}" in reading.trace
    ]
    chips = "new chips, " if "cost.renewals_usd" in reading.trace else ""
    year = reading.say("cost.annual_usd", "money", style=TWO)
    return (
        Heading("Quantities and estimate", 1, new_page=True),
        Paragraph(
            "Chips are paid neat in place; the quantity to order is for the contractor. Prices are "
            "those of the job's price file."
        ),
        Table(
            (
                Column("item", wide=True),
                Column("quantity", "point"),
                Column(""),
                Column("price", "point"),
                Column("amount", "point"),
            ),
            tuple(rows),
            ruled=(count,),
            small=True,
        ),
        Paragraph(
            (
                f"A year, {chips}upkeep and interest included, contingency not: {year}",
                *reading.marks("cost.annual_usd"),
                f". The nitrogen that it takes out costs {cost_per_mass(reading)}",
                *reading.marks("cost.usd_per_kg.p10", "cost.usd_per_kg.p90"),
                ".",
            )
        ),
    )


def _line(reading: Reading, item: str) -> tuple[Cell, ...]:
    key, words = f"quantities.{item}.quantity", reading.words
    step = reading.trace.steps[key]
    unit = "ground" if item in BY_GROUND else step.unit
    amount = f"cost.items.{item}.usd"
    priced = price_item(reading.trace, item) or item
    price, amount_cell = ("not bid", "") if amount not in reading.trace else ("", "")
    paid: Cell = price
    sum_cell: Cell = amount_cell
    if amount in reading.trace:
        value = reading.value(f"inputs.price.{priced}.usd")
        paid = number(words.unit_price(value, unit), reading.mark(f"inputs.price.{priced}.usd"))
        sum_cell = reading.cell(amount, "money")
    return (
        step.title,
        number(words.quantity(step.value, unit), reading.mark(key)),
        words.bid_unit(unit) if unit else _pieces(priced),
        paid,
        sum_cell,
    )


def _pieces(item: str) -> str:
    usual = next(iter(allowed_units(item)), "EA")
    return usual if usual in ("LS", "HR") else "each"

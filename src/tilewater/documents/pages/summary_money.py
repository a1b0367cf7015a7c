# SPDX-License-Identifier: Apache-2.0
"""Blocks of a design about what it does and costs: removal, life, quantities, money."""

from collections.abc import Callable

from tilewater.basis.trace import Trace
from tilewater.chain.money import price_item
from tilewater.documents.pages.numbers import keyed, number
from tilewater.documents.pages.said import Cell, Part, Said, Tone, block, dim, pairs, rows
from tilewater.documents.pages.summary_rules import removed, treated_words
from tilewater.documents.words import Words, folded, step_value
from tilewater.economics.price_items import allowed_units

RENEWALS = "cost.renewals_usd"
BY_GROUND = frozenset({"seeding"})
"""Items that are bid by the acre or hectare."""


def removal(trace: Trace, words: Words) -> Part:
    """What is removed in a mean year, as a range of two figures."""

    def span(group: str) -> str:
        low, high = (
            words.percent(step_value(trace, f"removal.{group}.{p}"), two_figures=True)
            for p in ("p10", "p90")
        )
        return low if low == high else f"{low.removesuffix(' %')} to {high}"

    middle = words.say(step_value(trace, "removal.removed_kg.p50"), "mass", style="two figures")
    return block(
        "Removal",
        _removal_rests_on(trace),
        pairs(
            (
                (
                    "nitrate-N",
                    keyed(
                        trace,
                        folded("{}, middle {}", removed(trace, words), middle),
                        "removal.removed_kg",
                        "strong",
                    ),
                ),
                _of_what_enters(trace, span),
                ("of the site's load", keyed(trace, span("site_percent"), "removal.site_percent")),
                ("treated", keyed(trace, _treated(trace, words), "removal.treated_volume_share")),
                *_brought(trace, words),
            )
        ),
    )


def _treated(trace: Trace, words: Words) -> str:
    """Share of the year's water that is treated, with its range where there is one."""
    here = "removal.treated_volume_share"
    middle = words.say(step_value(trace, f"{here}.p50"), "ratio", style="two figures")
    if not trace.known(f"{here}.p10", f"{here}.p90"):
        return folded(f"{{}} {treated_words(trace)}", middle)
    told = folded(f"{{}} {treated_words(trace)}", _span(trace, words, here, "ratio"))
    return f"{told}, {folded('middle {}', middle)}"


def _brought(trace: Trace, words: Words) -> tuple[tuple[str, str], ...]:
    """What the drains bring in a year, where days tell."""
    if "removal.load_kg.p10" not in trace or not trace.known("removal.load_kg.p10"):
        return ()
    return (("the drains bring", _span(trace, words, "removal.load_kg", "mass")),)


def _span(trace: Trace, words: Words, group: str, kind: str) -> str:
    low, high = (step_value(trace, f"{group}.{p}") for p in ("p10", "p90"))
    first = words.say(low, kind, style="two figures", unit=False)
    last = words.say(high, kind, style="two figures")
    return last if last.split()[0] == first else f"{first} to {last}"


def _of_what_enters(trace: Trace, span: Callable[[str], str]) -> tuple[str, Cell]:
    if "removal.diverted_percent.p50" in trace:
        what, group = "of what enters", "diverted_percent"
    else:
        what, group = "of the bed's load", "bed_percent"
    return what, keyed(trace, span(group), f"removal.{group}")


def _removal_rests_on(trace: Trace) -> str:
    if "days.sums" not in trace or not trace.known("days.sums"):
        if "removal.diverted_percent.p50" in trace:
            return "mean year, two laws and the range of the conductivity"
        return "mean year, low to high published rate"
    years = int(trace.value("days.whole_years").sum())
    basis = trace.value("water.basis")
    return f"a year of {years} {basis} years, P10 to P90 of {len(trace.value('days.draws'))} draws"


def life(trace: Trace, words: Words) -> Part:
    """The two clocks of the chips."""
    permeable = words.say(
        step_value(trace, "life.permeability_years"), "years", style="two figures"
    )
    carbon = words.say(step_value(trace, "life.carbon_years"), "years", style="two figures")
    return block(
        "Life",
        "two clocks; the first that runs out calls for new chips",
        pairs(
            (
                ("takes its share for", keyed(trace, permeable, "life.permeability_years")),
                ("has carbon for", keyed(trace, carbon, "life.carbon_years")),
            )
        ),
    )


def bid_unit_of(trace: Trace, item: str) -> str:
    """Unit in which an item is bid; "" for pieces."""
    return "ground" if item in BY_GROUND else trace.steps[f"quantities.{item}.quantity"].unit


def quantity_words(trace: Trace, item: str, words: Words) -> str:
    """The quantity of an item with the unit it is bid in."""
    unit = bid_unit_of(trace, item)
    what = words.bid_unit(unit) if unit else _pieces(price_item(trace, item) or item)
    return f"{words.quantity(trace.value(f'quantities.{item}.quantity'), unit)} {what}"


def quantities(trace: Trace, words: Words) -> Part:
    """Quantities in bid units with price and amount, and the sums."""
    lines: list[list[Cell]] = []
    for item in trace.names("quantities"):
        key = f"quantities.{item}.quantity"
        if key not in trace:
            continue
        step = trace.steps[key]
        unit = bid_unit_of(trace, item)
        amount = f"cost.items.{item}.usd"
        is_paid = amount in trace
        priced = price_item(trace, item) or item
        price = f"inputs.price.{priced}.usd"
        lines.append(
            [
                step.title,
                keyed(trace, words.quantity(step.value, unit), key),
                words.bid_unit(unit) if unit else _pieces(priced),
                keyed(trace, words.unit_price(trace.value(price), unit), price)
                if is_paid
                else dim("not bid"),
                number(trace, words, amount, "money") if is_paid else "",
            ]
        )
    for key, label in (
        ("subtotal_usd", "Sum"),
        ("contingency_usd", "Contingency"),
        ("total_usd", "Estimate"),
    ):
        style: Tone = "strong" if key == "total_usd" else ""
        amount = f"cost.{key}"
        sum_of = number(trace, words, amount, "money", tone=style)
        lines.append([Said(label, style), "", "", "", sum_of])
    return block(
        "Quantities and estimate",
        "",
        rows(("item", "quantity", "", "price", "amount"), lines, right=(1, 3, 4), wide=(0,)),
    )


def _pieces(item: str) -> str:
    """How an item that is counted is bid: by the lump sum, the hour or the piece."""
    usual = next(iter(allowed_units(item)), "EA")
    return usual if usual in ("LS", "HR") else "each"


def cost(trace: Trace, words: Words) -> Part:
    """What a year costs, and a pound or kilogram of nitrate."""
    annual = words.say(step_value(trace, "cost.annual_usd"), "money", style="two figures")
    chips = " with new chips" if RENEWALS in trace else ""
    kind = "USD/lb" if words.system == "us" else "USD/kg"
    low, high = (
        words.say(step_value(trace, f"cost.usd_per_kg.{p}"), kind, style="two figures")
        for p in ("p10", "p90")
    )
    return block(
        "Cost of a year",
        "",
        pairs(
            (
                (
                    "a year",
                    keyed(
                        trace,
                        folded(f"{{}}{chips}, contingency not included", annual),
                        "cost.annual_usd",
                    ),
                ),
                (
                    "removed for",
                    keyed(
                        trace,
                        folded("{} to {}", low.partition("/")[0], high),
                        "cost.usd_per_kg",
                    ),
                ),
            )
        ),
    )

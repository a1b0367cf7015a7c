# SPDX-License-Identifier: Apache-2.0
"""Bids side by side on paper: totals, unit prices, amounts, corrections, what to look at."""

from collections.abc import Callable, Iterator

from tilewater.basis.unknown import is_unknown
from tilewater.chain.bid import BidWork
from tilewater.chain.bid_looks import CHIPS, change_beside
from tilewater.chain.bid_tab import BIDS, Tab, amount_key, compared_key, errors_of, price_key
from tilewater.documents.pages.bid_words import NO_PRICE, dollars, percent, quantity
from tilewater.documents.paper.blocks import (
    Banner,
    Block,
    Cell,
    Column,
    Heading,
    Items,
    Paragraph,
    Run,
    Table,
    number,
)
from tilewater.documents.words import Words, step_value

ABREAST = 4
"""Bidders in one table of items."""
NEAREST = 5
"""Crossings that are told."""
BY_ARITHMETIC = (
    "The order is arithmetic. Who is a responsible bidder, and which bid is responsive, is a "
    "judgement of the owner."
)


def tab_blocks(work: BidWork, words: Words) -> Iterator[Block]:
    """Pages of the tabulation.

    Parameters
    ----------
    work : BidWork
        With bids.
    words : Words

    Returns
    -------
    iterator of Block
    """
    tab = work.tab
    if tab is None:
        return
    opened = work.text("inputs.bid.opened")
    count = f"{len(tab.bids)} bid{'' if len(tab.bids) == 1 else 's'}"
    yield Banner(
        "Bid tabulation",
        (work.title, f"{count}{f', opened {opened}' if opened else ''}"),
        lowest_words(work, tab),
        BY_ARITHMETIC,
    )
    yield Heading("Totals", 1)
    yield totals_table(work, tab)
    if corrected := tuple(corrections(work, tab)):
        yield Heading("Corrected", 1)
        yield Paragraph("The unit price governs: amounts and totals follow from it.")
        yield Items(corrected)
    if looked := tuple(looks(work, tab)):
        yield Heading("To look at", 1)
        yield Items(looked)
    for what, head, key, of_estimate in (
        ("Unit prices", "unit price, USD", price_key, lambda item: item.price),
        ("Amounts", "amount, USD", amount_key, lambda item: item.amount),
    ):
        for start in range(0, len(tab.bids), ABREAST):
            names = [bid.name for bid in tab.bids[start : start + ABREAST]]
            yield Heading(what, 1, new_page=True)
            yield _items_table(work, tab, names, head, key, of_estimate)


def lowest_words(work: BidWork, tab: Tab) -> str:
    """Which bid is lowest, in a sentence.

    Parameters
    ----------
    work : BidWork
    tab : Tab

    Returns
    -------
    str
    """
    if not work.low:
        return "No bid is lowest."
    total = dollars(work.trace, compared_key(work.low))
    return f"Lowest by arithmetic: {tab.bid(work.low).title}, {total}"


def totals_table(work: BidWork, tab: Tab) -> Table:
    """Each bid as written and corrected, beside the estimate, in the base and with alternates.

    Parameters
    ----------
    work : BidWork
    tab : Tab

    Returns
    -------
    Table
    """
    trace = work.trace
    ranked = tab.ranked(trace)
    rest = tuple(bid.name for bid in tab.bids if bid.name not in ranked)
    rows: list[tuple[Cell, ...]] = []
    for name in (*ranked, *rest):
        here, beside = f"{BIDS}.{name}", change_beside(trace, name)
        rows.append(
            (
                _named(work, tab, name),
                number(dollars(trace, f"{here}.written_total_usd", if_not_known="none")),
                number(dollars(trace, f"{here}.total_usd")),
                "" if beside is None else number(percent(beside, signed=True)),
                *(
                    number(dollars(trace, f"{here}.alternates.{each.name}.total_usd"))
                    for each in tab.alternates
                ),
            )
        )
    estimate: list[Cell] = [
        Run("Engineer's estimate", "muted"),
        "",
        number(dollars(trace, "bid.subtotal_usd")),
        "",
    ]
    estimate += [
        number(dollars(trace, f"bid.alternates.{each.name}.total_usd")) for each in tab.alternates
    ]
    rows.append(tuple(estimate))
    return Table(
        (
            Column("bidder", wide=True),
            Column("as written", "point"),
            Column("corrected", "point"),
            Column("beside estimate", "right"),
            *(Column(f"with {each.name}", "point") for each in tab.alternates),
        ),
        tuple(rows),
        ruled=(len(rows) - 1,),
        small=True,
    )


def _named(work: BidWork, tab: Tab, name: str) -> Cell:
    bid = tab.bid(name)
    if bid.set_aside:
        return f"{bid.title}, set aside by the owner: {bid.set_aside}"
    if not tab.is_whole(work.trace, name):
        return f"{bid.title}, not whole"
    return Run(bid.title, "bold") if name == work.low else bid.title


def corrections(work: BidWork, tab: Tab) -> Iterator[str]:
    """Amounts and totals that did not follow from their unit prices, in sentences.

    Parameters
    ----------
    work : BidWork
    tab : Tab

    Returns
    -------
    iterator of str
    """
    trace = work.trace
    for bid, item, _ in errors_of(trace, tab):
        here = f"{BIDS}.{bid.name}"
        if item is None:
            written = dollars(trace, f"{here}.written_total_usd")
            right = dollars(trace, f"{here}.total_usd")
            yield f"{bid.title}, total: written {written}, is {right}."
            continue
        line = f"{here}.items.{item.item}"
        yield (
            f"{bid.title}, {item.title.lower()}: {quantity(trace, item)} {item.unit} at "
            f"{dollars(trace, f'{line}.price_usd')} is {dollars(trace, f'{line}.amount_usd')}, "
            f"written {dollars(trace, f'{line}.written_usd')}."
        )


def looks(work: BidWork, tab: Tab, nearest: int = NEAREST) -> Iterator[str]:
    """Unbalanced prices, quantities and alternates that turn the order, in sentences.

    Parameters
    ----------
    work : BidWork
    tab : Tab
    nearest : int
        Crossings that are told. [-]

    Returns
    -------
    iterator of str
    """
    trace = work.trace
    if len(tab.bids) == 1:
        yield "A single bid came; it has only the estimate beside it."
    for each in work.unbalanced:
        here = f"{BIDS}.{each.bid.name}.items.{each.item.item}"
        word = "front-loaded" if each.is_front_loaded else "unbalanced"
        yield (
            f"{each.bid.title}, {each.item.title.lower()}: {word}, "
            f"{dollars(trace, f'{here}.price_usd')} is "
            f"{_times(work, f'{here}.ratio_to_estimate')} the estimate's price and "
            f"{_times(work, f'{here}.ratio_to_mean')} the mean of the bids."
        )
    for crossing in work.crossings[:nearest]:
        change = trace.value(crossing.change)
        share = percent(trace.value(crossing.share), signed=True)
        side = "more" if change > 0 else "fewer"
        yield (
            f"{crossing.item.title}: with {abs(change):,.1f} {crossing.item.unit} {side} ({share}) "
            f"{crossing.other.title} is as low as {tab.bid(work.low).title}."
        )
    if work.trial and work.low:
        more = 100.0 * float(trace.value("inputs.bid.quantity_change"))
        first = tab.bid(work.trial[0])
        stays = "stays" if first.name == work.low else "would be"
        yield f"With {more:g} % more {CHIPS} {first.title} {stays} lowest."
    for alternate in tab.alternates:
        if (lowest := tab.lowest(trace, alternate.name)) and lowest != work.low:
            yield f"With alternate {alternate.name} {tab.bid(lowest).title} is lowest."


def _times(work: BidWork, key: str) -> str:
    value = step_value(work.trace, key)
    return "not known beside" if is_unknown(value) else f"{float(value):.1f} times"


def _items_table(
    work: BidWork,
    tab: Tab,
    names: list[str],
    head: str,
    key: Callable[[str, str], str],
    of_estimate: Callable[..., str],
) -> Table:
    trace = work.trace
    rows: list[tuple[Cell, ...]] = [
        (
            item.title,
            number(quantity(trace, item)),
            item.unit,
            _plain(work, of_estimate(item)),
            *(_plain(work, key(name, item.item)) for name in names),
        )
        for item in tab.items
    ]
    count = len(rows)
    if key is amount_key:
        totals = (_plain(work, f"{BIDS}.{name}.total_usd") for name in names)
        rows.append((Run("Total", "bold"), "", "", _plain(work, "bid.subtotal_usd"), *totals))
    return Table(
        (
            Column(f"item ({head})", wide=True),
            Column("quantity", "point"),
            Column("unit"),
            Column("estimate", "point"),
            *(Column(tab.bid(name).title, "point") for name in names),
        ),
        tuple(rows),
        ruled=(count,) if key is amount_key else (),
        small=True,
    )


def _plain(work: BidWork, key: str) -> Cell:
    return number(dollars(work.trace, key, if_not_known=NO_PRICE).removeprefix("$"))

# SPDX-License-Identifier: Apache-2.0
"""The bid on the screen: estimate, alternates, bids side by side, what to look at, who pays."""

from collections.abc import Iterator

from tilewater.basis.unknown import is_unknown
from tilewater.chain.bid import BidWork
from tilewater.chain.bid_alternates import ALTERNATES
from tilewater.chain.bid_funding import CASES, FUNDING
from tilewater.chain.bid_items import without_price
from tilewater.chain.bid_looks import CHIPS, change_beside
from tilewater.chain.bid_tab import BIDS, Tab, compared_key, errors_of
from tilewater.documents.pages.bid_words import (
    NO_PRICE,
    built_beds_words,
    case_words,
    dollars,
    percent,
    quantity,
    turn_words,
)
from tilewater.documents.pages.numbers import keyed
from tilewater.documents.pages.said import Cell, Part, Said, Tone, block, dim, pairs, rows
from tilewater.documents.words import Words, step_value

SUMS = (
    ("bid.subtotal_usd", "Sum"),
    ("bid.contingency_usd", "Contingency"),
    ("bid.total_usd", "Estimate"),
)
TRADE = "Quantities of the bid stay in the units of the trade, in which they are bid and paid."
NEAREST = 5
"""Crossings that are told."""
MANY_ORDERS = 6
"""Orders of the sources that are told in full."""


def bid_page(work: BidWork, words: Words) -> Iterator[Part]:
    """Blocks of the page in their order."""
    yield Said(work.title, "strong").append("  bid", "quiet")
    yield _estimate(work, words)
    if work.alternates:
        yield _alternates(work)
    if work.tab is not None:
        yield _totals(work, work.tab)
        if list(errors_of(work.trace, work.tab)):
            yield _errors(work, work.tab)
        if work.unbalanced:
            yield _unbalanced(work)
        if work.crossings:
            yield _crossings(work, work.tab)
    if work.orders:
        yield _funding(work)
        yield _cash(work)
    if work.sources:
        yield _documents(work)


def _money(work: BidWork, key: str, tone: Tone = "", *, if_not_known: str = "not known") -> Said:
    return keyed(work.trace, dollars(work.trace, key, if_not_known=if_not_known), key, tone)


def _estimate(work: BidWork, words: Words) -> Part:
    lines: list[list[Cell]] = []
    for item in work.items:
        lines.append(
            [
                item.title,
                keyed(work.trace, quantity(work.trace, item), item.quantity),
                item.unit,
                _money(work, item.price, if_not_known=NO_PRICE),
                _money(work, item.amount, if_not_known=""),
            ]
        )
    for key, label in SUMS:
        tone: Tone = "strong" if key == "bid.total_usd" else ""
        lines.append([Said(label, tone), "", "", "", _money(work, key, tone)])
    if missing := without_price(work.trace, work.items):
        told = f"Sum of the {len(work.items) - len(missing)} items that have a price"
        lines.append([dim(told), "", "", "", _money(work, "bid.priced_usd")])
    note = "quantities as bid: three figures, or whole units; the contingency is set aside, no cost"
    table = rows(("item", "quantity", "", "price", "amount"), lines, right=(1, 3, 4), wide=(0,))
    trade = TRADE if words.system == "si" else ""
    beside = [dim(each) for each in (trade, built_beds_words(work)) if each]
    return block("Quantities and estimate", note, table, *beside)


def _alternates(work: BidWork) -> Part:
    lines: list[list[Cell]] = []
    for each in work.alternates:
        here = f"{ALTERNATES}.{each.name}"
        lines.append(
            [
                Said.assemble(each.title, (f"\n{_does(work, each.name)}", "quiet")),
                _money(work, f"{here}.change_usd"),
                _money(work, f"{here}.total_usd"),
                "taken" if each.name in work.taken else dim("not taken"),
            ]
        )
    heads = ("alternate", "changes", "estimate with it", "")
    return block("Alternates", "", rows(heads, lines, right=(1, 2), wide=(0,)))


def _does(work: BidWork, name: str) -> str:
    alternate = next(each for each in work.alternates if each.name == name)
    out = ", ".join(alternate.left_out)
    more = ", ".join(
        f"{item.item} {quantity(work.trace, item)} {item.unit}" for item in work.added[name]
    )
    parts = [f"leaves out {out}" if out else "", f"adds {more}" if more else ""]
    return "; ".join(part for part in parts if part)


def _totals(work: BidWork, tab: Tab) -> Part:
    ranked, trace = tab.ranked(work.trace), work.trace
    rest = [bid.name for bid in tab.bids if bid.name not in ranked]
    lines: list[list[Cell]] = []
    for name in (*ranked, *rest):
        bid, here = tab.bid(name), f"{BIDS}.{name}"
        beside = change_beside(trace, name)
        lowest: Tone = "strong" if name == work.low else ""
        lines.append(
            [
                Said.assemble(Said(bid.title, lowest), (_stands(work, tab, name), "quiet")),
                _money(work, f"{here}.written_total_usd", if_not_known="none"),
                _money(work, compared_key(name), lowest),
                keyed(
                    trace,
                    "" if beside is None else percent(beside, signed=True),
                    f"{here}.beside_estimate",
                ),
                *(
                    _money(work, f"{here}.alternates.{each.name}.total_usd")
                    for each in tab.alternates
                ),
            ]
        )
    heads = (
        "bidder",
        "as written",
        "corrected",
        "beside estimate",
        *(f"with {each.name}" for each in tab.alternates),
    )
    note = "by arithmetic; who is responsible and which bid is responsive the owner judges"
    table = rows(heads, lines, right=range(1, len(heads)), wide=(0,))
    return block(f"Bids: {len(tab.bids)}", note, table)


def _stands(work: BidWork, tab: Tab, name: str) -> str:
    if why := tab.bid(name).set_aside:
        return f"\nset aside by the owner: {why}"
    if not tab.is_whole(work.trace, name):
        return "\nnot whole: its total is not known"
    return "\nlowest" if name == work.low else ""


def _errors(work: BidWork, tab: Tab) -> Part:
    lines: list[list[Cell]] = []
    for bid, item, key in errors_of(work.trace, tab):
        if item is None:
            written, right = (f"{BIDS}.{bid.name}.{key}_usd" for key in ("written_total", "total"))
        else:
            here = f"{BIDS}.{bid.name}.items.{item.item}"
            written, right = f"{here}.written_usd", f"{here}.amount_usd"
        lines.append(
            [
                bid.title,
                "total" if item is None else item.title,
                _money(work, written),
                _money(work, right, "strong"),
                _money(work, key),
            ]
        )
    heads = ("bidder", "what", "as written", "corrected", "off by")
    table = rows(heads, lines, right=(2, 3, 4), wide=(1,))
    return block("Corrected", "the unit price governs", table)


def _unbalanced(work: BidWork) -> Part:
    lines: list[list[Cell]] = []
    for each in work.unbalanced:
        here = f"{BIDS}.{each.bid.name}.items.{each.item.item}"
        word = "front-loaded" if each.is_front_loaded else "above" if each.is_above else "below"
        lines.append(
            [
                each.bid.title,
                each.item.item,
                _money(work, f"{here}.price_usd"),
                _times(work, f"{here}.ratio_to_estimate"),
                _times(work, f"{here}.ratio_to_mean"),
                word,
            ]
        )
    limit = float(work.trace.value("inputs.bid.unbalanced_above"))
    note = f"unit price {limit:g} times the estimate's or more, or as far below; common practice"
    heads = ("bidder", "item", "price", "of estimate", "of mean", "")
    return block("Unbalanced", note, rows(heads, lines, right=(2, 3, 4), wide=(1,)))


def _times(work: BidWork, key: str) -> Said:
    value = step_value(work.trace, key)
    return dim("") if is_unknown(value) else keyed(work.trace, f"{float(value):.1f} x", key)


def _crossings(work: BidWork, tab: Tab) -> Part:
    lines: list[list[Cell]] = []
    for each in work.crossings[:NEAREST]:
        change = work.trace.value(each.change)
        side = "more" if change > 0 else "fewer"
        lines.append(
            [
                each.item.title,
                keyed(work.trace, f"{abs(change):,.1f} {each.item.unit} {side}", each.change),
                keyed(work.trace, percent(work.trace.value(each.share), signed=True), each.share),
                each.other.title,
            ]
        )
    heads = ("if this quantity comes out", "by", "", "as low is then")
    note = f"where {tab.bid(work.low).title} is no longer lowest, one quantity changed at a time"
    table = rows(heads, lines, right=(1, 2), wide=(0,))
    trial = _trial(work, tab)
    return block("What a quantity would turn", note, table, *([trial] if trial else []))


def _trial(work: BidWork, tab: Tab) -> Said | None:
    if not work.trial:
        return None
    share = float(work.trace.value("inputs.bid.quantity_change"))
    first = tab.bid(work.trial[0])
    key = f"bid.trial.{CHIPS}.{first.name}_usd"
    same = "stays" if first.name == work.low else "would be"
    words = f"With {100 * share:g} % more {CHIPS} {first.title} {same} lowest, at "
    return Said(words).append(_money(work, key, "strong"))


def _funding(work: BidWork) -> Part:
    """What each source pays and what is left, for every order and every case of the cost."""
    cases = [case for case, _ in CASES]
    cost = [_money(work, f"{FUNDING}.{case}.cost_usd") for case in cases]
    lines: list[list[Cell]] = [["cost", *cost]]
    told = work.orders if len(work.orders) <= MANY_ORDERS else work.orders[:1]
    for order in told:
        lines.append([Said(f"{turn_words(work, order)}:", "quiet"), "", "", ""])
        for name in order.sources:
            title = next(each.title for each in work.sources if each.name == name)
            lines.append([title, *(_money(work, order.paid(case, name)) for case in cases)])
        lines.append(
            [
                Said("owner", "strong"),
                *(_money(work, order.owner(case), "strong") for case in cases),
            ]
        )
    if len(told) < len(work.orders):
        lines.append([Said("owner, in every order:", "quiet"), "", "", ""])
        for order in work.orders:
            shares = (_money(work, order.owner(case)) for case in cases)
            lines.append([turn_words(work, order), *shares])
    note = f"worked with {work.cost_is}; contingency is no cost"
    heads = ("", *(case_words(case) for case in cases))
    return block("Who pays", note, rows(heads, lines, right=(1, 2, 3), wide=(0,)))


def _cash(work: BidWork) -> Part:
    lines: list[tuple[str, Cell]] = []
    for key in work.trace.names(f"{FUNDING}.cash"):
        here = f"{FUNDING}.cash.{key}"
        name = key.removesuffix("_usd")
        label = "when the bill is due" if name == "bill" else f"after {_after(work, name)}"
        lines.append((label, _money(work, here)))
    note = "what the owner must have at hand, in the first order"
    return block("Owner's cash", note, pairs(lines))


def _after(work: BidWork, name: str) -> str:
    source = next(each for each in work.sources if each.name == name)
    days = step_value(work.trace, f"{source.given}.pays_after")
    when = "day not said" if is_unknown(days) else f"{float(days):g} days"
    return f"{source.title} ({when})"


def _documents(work: BidWork) -> Part:
    lines: list[list[Cell]] = []
    for source in work.sources:
        document = work.text(f"{source.given}.document") or "no document named"
        dated = work.text(f"{source.given}.document_date") or "no date"
        signed = work.text(f"{source.given}.contract_signed")
        earliest = max(signed, work.text(f"{source.given}.no_construction_before"))
        lines.append(
            [
                source.title,
                f"{document}, {dated}",
                f"signed {signed}" if signed else dim("not signed"),
                earliest or dim("not before it is signed"),
            ]
        )
    heads = ("source", "document", "contract", "no construction before")
    return block("What the sources go by", "", rows(heads, lines, wide=(0, 1)))

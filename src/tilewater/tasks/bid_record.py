# SPDX-License-Identifier: Apache-2.0
"""The record of a bid, as other programs read it: money in USD, quantities in their bid units."""

from decimal import Decimal
from typing import Any

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.basis.unknown import is_unknown
from tilewater.chain.bid import BidWork
from tilewater.chain.bid_alternates import ALTERNATES
from tilewater.chain.bid_funding import CASES, FUNDING
from tilewater.chain.bid_items import ScheduleItem
from tilewater.chain.bid_looks import change_beside
from tilewater.chain.bid_tab import BIDS, Tab, errors_of
from tilewater.chain.plain import Record

SUMS = ("priced", "subtotal", "contingency", "total")


def bid_record(done: BidWork, job: str, findings: tuple[Finding, ...], version: str) -> Record:
    """What a bid comes to.

    Parameters
    ----------
    done : BidWork
    job : str
        Name of the job.
    findings : tuple of Finding
    version : str
        Of the program.
    """
    trace = done.trace
    return {
        "tilewater": version,
        "job": job,
        "day": done.day.isoformat(),
        "items": [_item(done, item) for item in done.items],
        "estimate": {f"{name}_usd": value_at(trace, f"bid.{name}_usd") for name in SUMS},
        "alternates": {each.name: _alternate(done, each.name) for each in done.alternates},
        "taken": list(done.taken),
        "funding": _funding(done) if done.sources else None,
        "bids": None if done.tab is None else _bids(done, done.tab),
        "findings": [finding.record for finding in findings],
    }


def value_at(trace: Trace, key: str) -> Any:
    """Value behind a key as JSON has it; None where it is not known or not there."""
    value = trace.value(key) if key in trace else None
    if value is None or is_unknown(value):
        return None
    return float(value) if isinstance(value, Decimal) else value


def _item(done: BidWork, item: ScheduleItem) -> Record:
    price = done.book.get(item.price_item)
    return {
        "item": item.item,
        "title": item.title,
        "unit": item.unit,
        "quantity": value_at(done.trace, item.quantity),
        "price_usd": value_at(done.trace, item.price),
        "amount_usd": value_at(done.trace, item.amount),
        "price_date": "" if price is None else price.date,
        "price_source": "" if price is None else price.source,
        "counted": list(item.counted),
    }


def _alternate(done: BidWork, name: str) -> Record:
    alternate = next(each for each in done.alternates if each.name == name)
    here = f"{ALTERNATES}.{name}"
    return {
        "title": alternate.title,
        "left_out": list(alternate.left_out),
        "added": [_item(done, item) for item in done.added[name]],
        "change_usd": value_at(done.trace, f"{here}.change_usd"),
        "total_usd": value_at(done.trace, f"{here}.total_usd"),
    }


def _funding(done: BidWork) -> Record:
    trace = done.trace
    return {
        "cost_usd": value_at(trace, f"{FUNDING}.cost_usd"),
        "cost_is": f"bid of {done.low}" if done.low else "estimate",
        "sources": {
            source.name: {
                "title": source.title,
                "pays": source.pays,
                "document": done.text(f"{source.given}.document"),
                "document_date": done.text(f"{source.given}.document_date"),
                "eligible_usd": value_at(trace, f"{FUNDING}.eligible.{source.name}_usd"),
            }
            for source in done.sources
        },
        "orders": {
            order.name: {
                case: {
                    "cost_usd": value_at(trace, f"{FUNDING}.{case}.cost_usd"),
                    "paid_usd": {
                        name: value_at(trace, order.paid(case, name)) for name in order.sources
                    },
                    "owner_usd": value_at(trace, order.owner(case)),
                }
                for case, _ in CASES
            }
            for order in done.orders
        },
        "cash_usd": {
            name.removesuffix("_usd"): value_at(trace, f"{FUNDING}.cash.{name}")
            for name in trace.names(f"{FUNDING}.cash")
        },
    }


def _bids(done: BidWork, tab: Tab) -> Record:
    trace = done.trace
    return {
        "ranked": list(tab.ranked(trace)),
        "lowest": done.low or None,
        "set_aside": {bid.name: bid.set_aside for bid in tab.bids if bid.set_aside},
        "not_whole": [bid.name for bid in tab.bids if not tab.is_whole(trace, bid.name)],
        "bidders": {bid.name: _bidder(done, tab, bid.name) for bid in tab.bids},
        "errors": [
            {
                "bidder": bid.name,
                "item": "total" if item is None else item.item,
                "error_usd": value_at(trace, key),
            }
            for bid, item, key in errors_of(trace, tab)
        ],
        "unbalanced": [
            {
                "bidder": each.bid.name,
                "item": each.item.item,
                "front_loaded": each.is_front_loaded,
                **{
                    f"ratio_to_{word}": value_at(
                        trace, f"{BIDS}.{each.bid.name}.items.{each.item.item}.ratio_to_{word}"
                    )
                    for word in ("estimate", "mean")
                },
            }
            for each in done.unbalanced
        ],
        "crossings": [
            {
                "item": each.item.item,
                "other": each.other.name,
                "change": value_at(trace, each.change),
                "unit": each.item.unit,
                "share": value_at(trace, each.share),
            }
            for each in done.crossings
        ],
        "lowest_with": {
            alternate.name: tab.lowest(trace, alternate.name) or None
            for alternate in tab.alternates
        },
    }


def _bidder(done: BidWork, tab: Tab, name: str) -> Record:
    trace, here = done.trace, f"{BIDS}.{name}"
    return {
        "title": tab.bid(name).title,
        "written_total_usd": value_at(trace, f"{here}.written_total_usd"),
        "total_usd": value_at(trace, f"{here}.total_usd"),
        "compared_usd": value_at(trace, f"{here}.compared_usd"),
        "beside_estimate": change_beside(trace, name),
        "alternates": {
            each.name: value_at(trace, f"{here}.alternates.{each.name}.total_usd")
            for each in tab.alternates
        },
        "items": {
            item.item: {
                "price_usd": value_at(trace, f"{here}.items.{item.item}.price_usd"),
                "amount_usd": value_at(trace, f"{here}.items.{item.item}.amount_usd"),
            }
            for item in tab.items
        },
    }

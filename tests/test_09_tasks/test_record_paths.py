# SPDX-License-Identifier: Apache-2.0
"""A number of a verb's record opens by its path in the record."""

import re
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from tilewater.basis.trace import Trace
from tilewater.chain.record_paths import key_of_path
from tilewater.tasks.bidding import bid_job
from tilewater.tasks.checking import check_job
from tilewater.tasks.inspecting import inspect_job
from tilewater.tasks.monitoring import monitor_job
from tilewater.tasks.operating import operate_job
from tilewater.tasks.renewing import renew_checked

BUILT = Path(__file__).parents[2] / "examples" / "corbel-built"

NOT_STEPS = {
    "renew": {},
    "monitor": {},
    "bid": {
        r"alternates\.": "sums of an alternate are made beside the trace",
        r"funding\.(sources|cash_usd)\.": "what a program counts, and cash by its days",
        r"bids\.bidders\.[\w-]+\.alternates\.": "a bid for an alternate, as read",
        r"bids\.(errors|unbalanced|crossings)\.": "looks at rows of a bid file",
    },
    "inspect": {
        r"parts\.supply\.(ordered_m3|tickets)": "tickets as read, and their sum as ordered",
        r".*\.shots$": "a count of rows",
        r".*\.line$": "a row of a file",
        r".*\.unmatched\.": "a shot as read",
        r"parts\.grade\.pipes\.[\w-]+\.shots\.": "a shot goes by its place along its pipe",
        r"parts\.built\.levels\.": "limits, and levels that are named after shots",
        r"parts\.built\.stacks\.\d+\.stack_in": "boards as read",
        r"parts\.built\.paid\.\d+\.": "what was not measured is paid as designed",
    },
    "operate": {
        r"log\.": "rows of the log as read",
        r"limits\.low_flow_outlet_in$": "a setting as asked for",
        r"rows\.\d+\.settings\.": "settings that a row tries",
        r"now\..*\.boards\.": "boards as the log says they stand",
    },
}
"""Paths that open nothing, each with the reason."""


def _leaves(value: Any, path: str = "") -> Iterator[tuple[str, float]]:
    if isinstance(value, dict):
        for name, inner in value.items():
            yield from _leaves(inner, f"{path}.{name}" if path else name)
    elif isinstance(value, list | tuple):
        for place, inner in enumerate(value):
            yield from _leaves(inner, f"{path}.{place}")
    elif isinstance(value, int | float) and not isinstance(value, bool):
        yield path, value


def _done(verb: str) -> tuple[dict[str, Any], list[Trace]]:
    """Record of a verb on the example of a built practice, and its traces."""
    if verb == "renew":
        renewed = renew_checked(check_job(BUILT), date(2031, 2, 1))
        return dict(renewed.record), [renewed.trace]
    if verb == "bid":
        bidding = bid_job(BUILT, date(2027, 2, 18))
        return dict(bidding.record), [bidding.bid.trace]
    if verb == "monitor":
        done = monitor_job(BUILT)
        return dict(done.record), [done.trace]
    if verb == "operate":
        run = operate_job(BUILT, on=date(2028, 5, 14))
        return dict(run.record), [run.design.trace]
    looked = inspect_job(BUILT, date(2027, 10, 6))
    return dict(looked.record), [part.trace for part in looked.parts]


def _opens(verb: str, trace: Trace, path: str, record: dict[str, Any]) -> bool:
    return key_of_path(verb, trace, path, record) in trace


@pytest.mark.works(of=(key_of_path,))
@pytest.mark.parametrize("verb", sorted(NOT_STEPS))
def test_every_number_of_a_record_opens_by_its_path(verb: str) -> None:
    record, traces = _done(verb)
    shut = [
        path
        for path, _ in _leaves(record)
        if not any(_opens(verb, trace, path, record) for trace in traces)
        and not any(re.match(each, path) for each in NOT_STEPS[verb])
    ]
    assert not shut


@pytest.mark.works(of=(key_of_path,))
def test_years_left_open_what_the_record_says_of_them() -> None:
    record, (trace,) = _done("renew")
    for path in ("left_years.p50", "options.renew-all.usd_per_kg.p50", "life_years.p10"):
        key = key_of_path("renew", trace, path, record)
        assert trace.value(key) == dict(_leaves(record))[path]


@pytest.mark.works(of=(key_of_path,))
def test_what_an_owner_pays_opens_by_the_order_of_the_record() -> None:
    record, (trace,) = _done("bid")
    path = "funding.orders.county-then-state.as-planned.owner_usd"
    key = key_of_path("bid", trace, path, record)
    assert key == "funding.as-planned.county-then-state.owner_usd"
    assert float(trace.value(key)) == dict(_leaves(record))[path]

# SPDX-License-Identifier: Apache-2.0
"""Parts of the result record: what decides, what to measure next, ranges updated, side effects."""

from itertools import pairwise

from tilewater.basis.trace import Trace
from tilewater.chain.advice import advice_in_order
from tilewater.chain.decides import HERE, OUTPUTS, SINGLE
from tilewater.chain.decides_numbers import YearShares, told_of
from tilewater.chain.measurement_numbers import NUMBERS
from tilewater.chain.measurements import Weighed, advice_words, cannot_tell
from tilewater.chain.nitrate_days import pattern_of
from tilewater.chain.plain import Record, plain, plain_group
from tilewater.chain.side_effects import HERE as SIDE
from tilewater.chain.side_effects import PHOSPHORUS
from tilewater.chain.variance_shares import VarianceShares, are_apart
from tilewater.nitrate.side_effects import PLACES

DECIDED = (SINGLE, *OUTPUTS, "share_of_peak", "usd_per_kg")


def decides_record(trace: Trace) -> Record:
    """Shares of the spread of each output by parameter; empty without draws enough."""
    return {
        output: _output(trace, output)
        for output in DECIDED
        if trace.known(f"{HERE}.{output}.shares")
    }


def advice_record(trace: Trace, practice: str) -> list[Record]:
    """Measurements in their order, each with its price and what it could change."""
    order = advice_in_order(trace)
    ties = [cannot_tell(a, b) for a, b in pairwise(order)] + [False] * bool(order)
    return [_advice(trace, each, practice, tied) for each, tied in zip(order, ties, strict=True)]


def updated_record(trace: Trace) -> list[Record]:
    """Ranges before and after what was measured."""
    return [
        {
            "name": name,
            "unit": trace.value(f"updated.{name}.prior").unit,
            "measured": trace.value(f"updated.{name}.measured").value,
            "error": trace.value(f"updated.{name}.measured").error,
            **{
                state: {place: plain(trace, f"updated.{name}.{state}.{place}") for place in PLACES}
                for state in ("prior", "posterior")
            },
        }
        for name in trace.names("updated")
        if trace.known(f"updated.{name}.posterior")
    ]


def nitrate_record(trace: Trace) -> Record:
    """How nitrate goes through the year, and the mean that loads are counted with."""
    record: Record = {"pattern": pattern_of(trace)}
    for name in ("flow_weighted_mg_per_l", "fit_error"):
        if f"nitrate.{name}" in trace:
            record[name] = plain(trace, f"nitrate.{name}")
    return record


def side_effects_record(trace: Trace) -> Record:
    """Counts of days and masses beside the nitrate removed; empty without routed days."""
    if f"{SIDE}.used_up_days" not in trace:
        return {}
    record: Record = {
        "used_up_days": plain(trace, f"{SIDE}.used_up_days"),
        "sulfide_days": plain(trace, f"{SIDE}.sulfide_days"),
        "season": {
            season: {"used_up_days": plain(trace, f"{SIDE}.season.{season}.used_up_days")}
            for season in trace.names(f"{SIDE}.season")
        },
    }
    if f"{SIDE}.flush_m3" in trace:
        record |= {name: plain(trace, f"{SIDE}.{name}") for name in ("flush_m3", "flush_share")}
        record["nitrous_oxide_kg"] = {
            place: plain(trace, f"{SIDE}.nitrous_oxide_kg.{place}") for place in PLACES
        }
        record["phosphorus_kg"] = {
            place: plain(trace, f"{SIDE}.phosphorus_kg.{place}") for place in PHOSPHORUS
        }
    return record


def untold_pairs(shares: VarianceShares | YearShares) -> list[tuple[str, str]]:
    """Neighbours in the order of their shares that cannot be told apart, both told from nothing."""
    told = [(name, shares.first[name]) for name in told_of(shares)]
    return [(a[0], b[0]) for a, b in pairwise(told) if not are_apart(a[1], b[1])]


def _output(trace: Trace, output: str) -> Record:
    here, shares = f"{HERE}.{output}", trace.value(f"{HERE}.{output}.shares")
    told = told_of(shares)
    return {
        **{
            name: plain_group(
                trace, f"{here}.{name}", "share", "share_error", "total", "total_error"
            )
            for name in (*told, "together")
        },
        "cannot_tell_apart": [list(pair) for pair in untold_pairs(shares)],
        "nothing_told": [name for name in shares.first if name not in told],
    }


def _advice(trace: Trace, each: Weighed, practice: str, tied: bool) -> Record:
    worth, measurement = each.worth, each.measurement
    return {
        "name": measurement.slug,
        "words": advice_words(each, practice),
        "settles": measurement.settles,
        "usd": each.usd,
        "time": measurement.time,
        "choice_now": None if worth is None else worth.choice,
        "was_settled": None if worth is None else worth.was_settled,
        **plain_group(trace, f"advice.{measurement.slug}", *NUMBERS),
        "cannot_tell_from_next": tied,
    }

# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: what decides the answer, by shares of its spread with their errors.

Rests on the draws of the routed days alone: what is not drawn decides nothing here, and a finding
says so. Shares of the long run leave weather out; those of single years
have it beside the parameters.
"""

from collections.abc import Callable

import numpy as np

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.chain.decides_numbers import (
    error_of_all,
    error_of_one,
    share_of_all,
    share_of_one,
    shares_of_single_years,
    told_of,
    total_error_of_one,
    total_of_one,
)
from tilewater.chain.redrawn import total_shares
from tilewater.chain.updated_draws import are_weighed, as_drawn
from tilewater.chain.variance_shares import DRAWS_PER_TERM, LEAST_DRAWS, Array, first_shares
from tilewater.practices.bed import year_sums

DRAWN, WHOLE = "days.drawn", "days.whole_years"
PAIRS_SUMS = "days.pairs_sums"
HERE = "decides"
OUTPUTS = {
    "long_run_removed_kg": ("removed in a mean year", year_sums.long_run_removed, "kg"),
    "long_run_share": ("share of the water treated", year_sums.long_run_share, "-"),
}
"""What decides is told of: words, function of the sums, unit."""
Number = dict[str, tuple[Callable[..., float], str]]
ALONE: Number = {"share": (share_of_one, "shares"), "share_error": (error_of_one, "shares")}
WITH_OTHERS: Number = {
    "total": (total_of_one, "totals"),
    "total_error": (total_error_of_one, "totals"),
}
"""Numbers of one parameter: function, and what it is read from."""
COST, PEAK, SINGLE = "usd_per_kg", "share_of_peak", "removed_kg"


def can_decide(trace: Trace) -> bool:
    """Whether there are draws enough of every parameter."""
    sums = as_drawn(trace, "days.sums")
    if not trace.known(DRAWN, WHOLE, sums):
        return False
    names, draws = len(trace.value(DRAWN)), trace.value(sums).shape[0]
    return bool(draws >= max(LEAST_DRAWS, DRAWS_PER_TERM * names))


def add_decides(trace: Trace) -> None:
    """Record the shares of every output under `decides.`, where there are draws enough."""
    if not can_decide(trace):
        return
    for name, (words, function, unit) in OUTPUTS.items():
        for key, sums in (("all", as_drawn(trace, "days.sums")), ("pairs", PAIRS_SUMS)):
            if sums in trace:
                trace.compute(
                    f"{HERE}.{key}.{name}",
                    function,
                    unit=unit,
                    title=f"{words.capitalize()}, by draw",
                    sums=sums,
                    whole=WHOLE,
                )
        _add_shares(trace, name, f"{HERE}.all.{name}", f"{HERE}.pairs.{name}", words)
    _add_cost(trace)
    if trace.known("days.all.share_of_peak") and not are_weighed(trace):
        _add_shares(trace, PEAK, "days.all.share_of_peak", "", "share of the peak treated")
    _add_single_years(trace)
    _tell(trace)


def _add_cost(trace: Trace) -> None:
    """Shares of the cost of a kilogram by its logarithm: some draws cost many times the middle."""
    removed = f"{HERE}.all.long_run_removed_kg"
    if not trace.known("cost.annual_usd", removed) or not np.all(trace.value(removed) > 0):
        return
    for key in ("all", "pairs"):
        if f"{HERE}.{key}.long_run_removed_kg" not in trace:
            continue
        trace.compute(
            f"{HERE}.{key}.{COST}",
            log_cost,
            unit="-",
            title="Cost of a kilogram by draw, its logarithm",
            annual_cost="cost.annual_usd",
            removed=f"{HERE}.{key}.long_run_removed_kg",
        )
    _add_shares(trace, COST, f"{HERE}.all.{COST}", f"{HERE}.pairs.{COST}", "cost of a kilogram")


def _add_shares(trace: Trace, name: str, output: str, pairs: str, words: str) -> None:
    if not np.ptp(trace.value(output)) > 0:
        return
    table = f"{HERE}.{name}.shares"
    trace.compute(
        table,
        first_shares,
        unit="",
        title=f"What decides: {words}",
        parameters=DRAWN,
        output=output,
    )
    if pairs in trace:
        trace.compute(
            f"{HERE}.{name}.totals",
            total_shares,
            unit="",
            title=f"What decides together with all else: {words}",
            drawn=DRAWN,
            output=output,
            redrawn_output=pairs,
        )
    _add_members(trace, name, words)


def _add_single_years(trace: Trace) -> None:
    if int(trace.value(WHOLE).sum()) < 3:
        return
    words = "removed in a single year"
    trace.compute(
        f"{HERE}.{SINGLE}.shares",
        shares_of_single_years,
        unit="",
        title=f"What decides: {words}",
        parameters=DRAWN,
        sums=as_drawn(trace, "days.sums"),
        whole=WHOLE,
    )
    _add_members(trace, SINGLE, words)


def _add_members(trace: Trace, output: str, words: str) -> None:
    """Numbers of what is told from nothing, and of all together."""
    shares, totals = f"{HERE}.{output}.shares", f"{HERE}.{output}.totals"
    if not trace.known(shares):
        return
    for name in told_of(trace.value(shares)):
        which = f"{HERE}.names.{name}"
        if which not in trace:
            trace.constant(which, name, "Name of what decides", source="derived")
        for number, (function, source) in (
            ALONE | (WITH_OTHERS if totals in trace else {})
        ).items():
            what = number.replace("_", " ").capitalize()
            trace.compute(
                f"{HERE}.{output}.{name}.{number}",
                function,
                unit="-",
                title=f"{what} of {name.replace('-', ' ')}: {words}",
                shares=f"{HERE}.{output}.{source}",
                name=which,
            )
    for number, together in (("share", share_of_all), ("share_error", error_of_all)):
        trace.compute(
            f"{HERE}.{output}.together.{number}",
            together,
            unit="-",
            title=f"{number.replace('_', ' ').capitalize()} of all together: {words}",
            shares=shares,
        )


def _tell(trace: Trace) -> None:
    trace.findings.append(
        Finding(
            "decides-of-what-is-drawn",
            "note",
            "What decides",
            "Shares are of what is drawn: the practice, its nitrate, and how much water the drains "
            "bring. How that is spread over the days, and how right survey and standard are, is "
            "not drawn, and no share speaks of it.",
            source="derived",
        )
    )


def log_cost(annual_cost: float, removed: Array) -> Array:
    """Logarithm of the cost of a kilogram, by draw.

    Parameters
    ----------
    annual_cost : float
        Cost of a year. [USD]
    removed : array
        Removed in a mean year, by draw. [kg]

    Returns
    -------
    array
        Logarithm of USD per kilogram. [-]

    Notes
    -----
    y = ln(A / M)    (derived)

    References
    ----------
    derived, a ratio; in logarithms no few draws make all of the variance
    """
    return np.asarray(np.log(annual_cost / removed))

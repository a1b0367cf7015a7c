# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: what decides the answer, by shares of its spread with their errors.

Rests on the draws of the routed days alone: what is not drawn, the drain flow above all, decides
nothing here, and a finding says so. Shares of the long run leave weather out; those of single years
have it beside the parameters.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.chain.redrawn import total_shares
from tilewater.chain.updated_draws import are_weighed, as_drawn
from tilewater.chain.variance_shares import (
    DRAWS_PER_TERM,
    LEAST_DRAWS,
    Array,
    Share,
    VarianceShares,
    first_shares,
    year_share,
)
from tilewater.practices.bed import year_sums
from tilewater.practices.bed.year_sums import REMOVED

DRAWN, WHOLE = "days.drawn", "days.whole_years"
PAIRS_SUMS = "days.pairs_sums"
HERE = "decides"
YEAR = "weather-year"
"""Name of the weather of the year among what decides."""
OUTPUTS = {
    "long_run_removed_kg": ("removed in a mean year", year_sums.long_run_removed, "kg"),
    "long_run_share": ("share of the water treated", year_sums.long_run_share, "-"),
}
"""What decides is told of: words, function of the sums, unit."""
COST, PEAK, SINGLE = "usd_per_kg", "share_of_peak", "removed_kg"


@dataclass(frozen=True)
class YearShares:
    """Where the variance of single years comes from.

    Attributes
    ----------
    first : mapping of str to Share
        What each parameter does alone, and the weather of the year, by name.
    together : Share
        What all of these do alone.
    """

    first: Mapping[str, Share]
    together: Share


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
    _add_members(trace, name, tuple(trace.value(DRAWN)), words)


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
    _add_members(trace, SINGLE, (*trace.value(DRAWN), YEAR), words)


def _add_members(trace: Trace, output: str, names: tuple[str, ...], words: str) -> None:
    for name in names:
        which = f"{HERE}.names.{name}"
        if which not in trace:
            trace.constant(which, name, "Name of what decides", source="derived")
        trace.compute(
            f"{HERE}.{output}.{name}.share",
            share_of_one,
            unit="-",
            title=f"Share of {name.replace('-', ' ')} in the spread: {words}",
            shares=f"{HERE}.{output}.shares",
            name=which,
        )


def _tell(trace: Trace) -> None:
    flow = str(trace.value("water.basis")) if "water.basis" in trace else "stated"
    trace.findings.append(
        Finding(
            "decides-of-what-is-drawn",
            "note",
            "What decides",
            "Shares are of what is drawn: the practice and its nitrate. How right the "
            f"{flow} drain flow, the survey and the standard are is not drawn, and no share "
            "speaks of it.",
            source="derived",
        )
    )


def shares_of_single_years(
    parameters: Mapping[str, Array], sums: Array, whole: np.ndarray
) -> YearShares:
    """Shares of the spread of what single years remove, with the weather of the year among them.

    Parameters
    ----------
    parameters : mapping of str to array of shape (draws,)
        Draws by name. [-]
    sums : array of shape (draws, years, 6)
        Sums by year. [-]
    whole : array of bool
        Years that are whole. [-]

    Returns
    -------
    YearShares
        Of single years of the record. [-]

    Notes
    -----
    S_i = S_i of the mean year V_means / V_years;  S_year of the means of the years    (derived)

    The age of the chips goes with the years of the record and is counted with their weather.

    References
    ----------
    derived, a table of draws and years
    """
    table = np.asarray(sums[:, whole, REMOVED], dtype=np.float64)
    mean_year = first_shares(parameters, table.mean(axis=1))
    part = float(table.mean(axis=1).var() / table.var())
    first = {
        name: Share(part * each.share, part * each.error) for name, each in mean_year.first.items()
    }
    year = year_share(table)
    alone = Share(
        part * mean_year.together.share + year.share,
        float(np.hypot(part * mean_year.together.error, year.error)),
    )
    return YearShares({**first, YEAR: year}, alone)


def share_of_one(shares: VarianceShares | YearShares, name: str) -> float:
    """Share of one parameter.

    Parameters
    ----------
    shares : VarianceShares or YearShares
        Of all. [-]
    name : str
        Which. [-]

    Returns
    -------
    float
        Share of the variance; near 0 on either side where it does nothing. [-]

    Notes
    -----
    S = S of that name    (derived)

    References
    ----------
    derived, one of many
    """
    return shares.first[name].share


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

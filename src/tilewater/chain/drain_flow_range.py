# SPDX-License-Identifier: Apache-2.0
"""How far the drain flow of the days may be off, as a factor that every practice draws alike.

A simulated flow spreads as the field model missed the water of measured plots; a measured one as a
gauge does. The factor moves all days together; how the water is spread over the days is not drawn.
"""

from math import exp, log1p, sqrt

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.tables import read_table
from tilewater.basis.trace import Trace
from tilewater.nitrate.parameter_ranges import NORMAL, QUANTILES, ParameterRange

SLUG = "drain-flow"
DRAIN_FLOW = "days.drain_flow_range"
"""Key of the range."""
TABLE = ("tilewater.hydrology", "simulated_flow_misses")
GAUGE = 0.10
"""Error of a year's water by a weir or meter in the field, judgement. [-]"""


def add_drain_flow_range(trace: Trace) -> None:
    """Record the range of the factor on the drain flow."""
    trace.compute(
        DRAIN_FLOW,
        drain_flow_range,
        unit="",
        title="Factor on the drain flow of the days",
        basis="water.basis",
    )


def flow_words(trace: Trace) -> str:
    """What the spread of the drain flow rests on, as a sentence."""
    drawn = trace.value(DRAIN_FLOW)
    span = f"{drawn.low:.2f} to {drawn.high:.2f} times"
    if trace.value("water.basis") == "measured":
        return f"The measured flow is drawn at {span}, as a gauge errs (judgement)."
    return (
        f"The simulated flow is drawn at {span}, as the model missed the water of four measured "
        "plots. That a capacity caught a larger share of their water on 7 of 8 tries is not drawn."
    )


def drain_flow_range(basis: str) -> ParameterRange:
    """Range of the factor on the drain flow of the days.

    Parameters
    ----------
    basis : str
        "simulated" or "measured". [-]

    Returns
    -------
    ParameterRange
        Its middle is 1: the misses lean to neither side by more than chance. [-]

    Raises
    ------
    OutOfDomain
        If the flow rests on something else.

    Notes
    -----
    simulated: s^2 = mean of ln(1 + miss)^2;  measured: s^2 = ln(1 + e^2)    (derived)
    ends: exp(-1.28 s) and exp(1.28 s), 10 and 90 percent    (derived)

    References
    ----------
    missing-drainage, measured water of eight halves of four plots
    practice, error of a gauge
    derived, a lognormal factor about 1
    """
    if basis == "measured":
        spread = sqrt(log1p(GAUGE**2))
        return _factor(spread, "practice", "practice", "a gauge in the field, 10 percent")
    if basis != "simulated":
        raise OutOfDomain(
            f"basis is {basis}. Daily drain flow is simulated or measured. Give one of them."
        )
    words = "water of the field model beside eight halves of the years of four measured plots"
    return _factor(spread_of_misses(), "missing-drainage", "derived", words)


def spread_of_misses() -> float:
    """Spread of the logarithm of simulated over measured water.

    Returns
    -------
    float
        Root of the mean square about no miss. [-]

    Notes
    -----
    s = (mean of ln(1 + miss)^2)^(1/2)    (derived)

    References
    ----------
    missing-drainage, measured water of eight halves of four plots
    derived, a root mean square
    """
    misses = [row.number("miss") / 100.0 for row in read_table(*TABLE).rows]
    return sqrt(sum(log1p(miss) ** 2 for miss in misses) / len(misses))


def _factor(spread: float, source: str, honesty: str, basis: str) -> ParameterRange:
    end = exp(NORMAL.inv_cdf(QUANTILES["p90"]) * spread)
    return ParameterRange(
        SLUG,
        "lognormal",
        1.0 / end,
        1.0,
        end,
        "p10",
        "p90",
        "-",
        least=0.0,
        source=source,
        honesty=honesty,
        basis=basis,
    )

# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: what to measure next, by what it costs and what it could change.

The choice of one practice is to build it where it fits and costs no more than a kilogram may, else
to leave it. It fits where the middle of the draws keeps every rule that draws decide; rules that
they do not decide stand as they are. Several practices are weighed by `measuring`, with the costs
of each by the same draws.
"""

import numpy as np

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace, argument_name
from tilewater.chain.compare_draws import cost_of_draws
from tilewater.chain.decides import DRAWN, can_decide
from tilewater.chain.measurement_numbers import NUMBERS
from tilewater.chain.measurements import (
    Weighed,
    advice_words,
    in_order,
    measurement_of,
    measurements_of,
    settled_by,
    spread_taken,
    unknown_names,
    weighed_of,
)
from tilewater.chain.measuring import Settled, Worth, worth_of_measuring
from tilewater.chain.practice import Practice
from tilewater.chain.updated_draws import are_weighed
from tilewater.chain.variance_shares import Array, Share, VarianceShares
from tilewater.criteria.standards import CriterionRow
from tilewater.nitrate.parameter_ranges import ParameterRange

HERE = "advice"
SHARES = "decides.long_run_removed_kg.shares"
REMOVED = "days.all.long_run_removed_kg"
MOST = "inputs.money.most_usd_per_kg"
BUILD, LEAVE = "build", "leave"
RANGES = ("updated.ranges", "updated.regional", "days.ranges")
"""Keys of the ranges that were drawn from, the narrowest first."""


def add_advice(trace: Trace, rows: tuple[CriterionRow, ...], practice: Practice) -> None:
    """Record every measurement with its price and worth under `advice.`, the order, and a note."""
    _tell_unknown_names(trace)
    if not can_decide(trace) or SHARES not in trace or not trace.known(SHARES):
        return
    has_choice = _add_options(trace, rows, practice)
    ranges = next(key for key in RANGES if key in trace and trace.known(key))
    keys = {}
    for each in measurements_of(practice.name, tuple(trace.value(DRAWN))):
        keys[argument_name(each.slug)] = _add_one(trace, each.slug, ranges, has_choice)
    if not keys:
        return
    trace.compute(
        f"{HERE}.order",
        ordered,
        unit="",
        title="What to measure next, the first first",
        **keys,
    )
    if trace.known(f"{HERE}.order"):
        _tell(trace, practice)


def advice_in_order(trace: Trace) -> tuple[Weighed, ...]:
    """Measurements in the order of what they change for their price; none without draws."""
    key = f"{HERE}.order"
    return tuple(trace.value(key)) if trace.known(key) else ()


def _add_options(trace: Trace, rows: tuple[CriterionRow, ...], practice: Practice) -> bool:
    """Cost of a kilogram by draw, and whether each draw fits; False where no choice is weighed."""
    if are_weighed(trace) or not trace.known("cost.annual_usd", REMOVED):
        return False
    binding = {r.key: r.binding for r in trace.requirements}
    judged: dict[str, str] = {}
    for row in rows:
        values = practice.by_draw.get(row.value, "")
        if binding.get(f"criteria.{row.code}") and row.operator == ">=" and values in trace:
            word = argument_name(row.code)
            judged |= {f"value_{word}": values, f"limit_{word}": f"criteria.{row.code}.limit"}
    trace.compute(
        f"{HERE}.margins",
        margins_of,
        unit="",
        title="By how much each draw keeps each rule that draws decide",
        **judged,
    )
    trace.compute(
        f"{HERE}.build_usd_per_kg",
        cost_of_draws,
        unit="USD/kg",
        title="Cost of a kilogram by draw",
        annual_cost="cost.annual_usd",
        removed=REMOVED,
    )
    trace.compute(
        f"{HERE}.probability_of_fitting",
        share_that_fits,
        unit="-",
        title="Share of the draws that keep all rules at once which draws decide",
        margins=f"{HERE}.margins",
    )
    return trace.known(f"{HERE}.build_usd_per_kg", f"{HERE}.margins")


def _add_one(trace: Trace, slug: str, ranges: str, has_choice: bool) -> str:
    here, each = f"{HERE}.{slug}", measurement_of(slug)
    which = trace.constant(f"{here}.name", slug, "Name of the measurement", source="derived")
    trace.compute(
        f"{here}.measurement", measurement_of, unit="", title="What would be measured", slug=which
    )
    price = f"inputs.measure.{slug}.cost_usd"
    if not trace.known(price):
        price = trace.constant(
            f"{here}.usual_usd",
            each.usd,
            f"Usual price: {each.words}",
            unit="USD",
            source="practice",
        )
    trace.compute(
        f"{here}.settled",
        settled_of,
        unit="",
        title=f"What it would know: {each.settles.replace('-', ' ')}",
        drawn=DRAWN,
        ranges=ranges,
        slug=which,
    )
    trace.compute(
        f"{here}.narrows",
        narrowing_of,
        unit="",
        title="Share of the spread of what is removed that it takes away",
        shares=SHARES,
        settled=f"{here}.settled",
        slug=which,
    )
    weighed = {"usd": price, "narrows": f"{here}.narrows"}
    if has_choice:
        most = {"most": MOST} if trace.known(MOST) else {}
        trace.compute(
            f"{here}.worth",
            worth_for_one_practice,
            unit="",
            title="What it could change in the choice",
            build=f"{HERE}.build_usd_per_kg",
            margins=f"{HERE}.margins",
            settled=f"{here}.settled",
            **most,
        )
        weighed["worth"] = f"{here}.worth"
    else:
        trace.constant(f"{here}.worth", None, "No choice is weighed", source="derived")
        weighed["worth"] = f"{here}.worth"
    trace.compute(
        f"{here}.weighed",
        weighed_of,
        unit="",
        title=f"{each.words.capitalize()}: price and what it could change",
        measurement=f"{here}.measurement",
        **weighed,
    )
    _add_numbers(trace, here)
    return f"{here}.weighed"


def _add_numbers(trace: Trace, here: str) -> None:
    for name, (function, title) in NUMBERS.items():
        trace.compute(f"{here}.{name}", function, unit="-", title=title, weighed=f"{here}.weighed")


def _tell(trace: Trace, practice: Practice) -> None:
    first = advice_in_order(trace)[0]
    trace.findings.append(
        Finding(
            "measure-next",
            "note",
            "What to measure next",
            advice_words(first, practice.words),
            value=first.usd,
            unit="USD",
            source="practice",
        )
    )


def _tell_unknown_names(trace: Trace) -> None:
    for name in unknown_names(trace.names("inputs.measure")):
        trace.findings.append(
            Finding(
                "measure-of-no-name",
                "caution",
                f"measure.{name}",
                f"[measure.{name}] prices no measurement of the list, so it is not used. Take the "
                "name that the advice of the --json result gives.",
            )
        )


def margins_of(**rules: Array | float) -> tuple[Array, ...]:
    """By how much each draw keeps each rule.

    Parameters
    ----------
    **rules : array or float
        `value_<rule>` by draw and `limit_<rule>`, in the same unit. [-]

    Returns
    -------
    tuple of array
        By rule; negative where a draw does not keep it. [-]

    Notes
    -----
    m = value - limit    (derived)

    References
    ----------
    derived, a difference
    """
    return tuple(
        np.asarray(values) - rules[f"limit_{name.removeprefix('value_')}"]
        for name, values in rules.items()
        if name.startswith("value_")
    )


def share_that_fits(margins: tuple[Array, ...]) -> float:
    """Share of the draws that keep every rule at once.

    Parameters
    ----------
    margins : tuple of array
        By how much each draw keeps each rule. [-]

    Returns
    -------
    float
        Share; 1 where no rule is decided by draws. [-]

    Notes
    -----
    P = n(every m >= 0) / n    (derived)

    References
    ----------
    derived, a count of draws
    """
    return float(np.mean(np.all([m >= 0.0 for m in margins], axis=0))) if margins else 1.0


def worth_for_one_practice(
    build: Array, settled: Settled, margins: tuple[Array, ...], most: float = np.inf
) -> Worth:
    """What a measurement could change in building a practice or leaving it.

    Parameters
    ----------
    build : array
        Cost of a kilogram by draw. [USD]
    settled : Settled
        What the measurement would know. [-]
    margins : tuple of array
        By how much each draw keeps each rule. [-]
    most : float
        Most that a kilogram may cost. [USD]

    Returns
    -------
    Worth

    Notes
    -----
    options: leave at the most that a kilogram may cost, build at its cost    (derived)

    References
    ----------
    derived, two options of `worth_of_measuring`
    """
    options = {LEAVE: np.full(build.size, float(most)), BUILD: build}
    return worth_of_measuring(options, [settled], {BUILD: margins})


def settled_of(drawn: dict[str, Array], ranges: dict[str, ParameterRange], slug: str) -> Settled:
    """What a measurement would know, by the draws of its parameter.

    Parameters
    ----------
    drawn : dict of str to array
        Draws by name. [-]
    ranges : dict of str to ParameterRange
        What they were drawn from. [-]
    slug : str
        Name of the measurement. [-]

    Returns
    -------
    Settled
    """
    each = measurement_of(slug)
    return settled_by(drawn[each.settles], ranges[each.settles], each.error)


def narrowing_of(shares: VarianceShares, settled: Settled, slug: str) -> Share:
    """Share of the spread of what is removed that a measurement takes away.

    Parameters
    ----------
    shares : VarianceShares
        Of what is removed in a mean year. [-]
    settled : Settled
        What the measurement would know. [-]
    slug : str
        Name of the measurement. [-]

    Returns
    -------
    Share
    """
    return spread_taken(shares, measurement_of(slug).settles, settled)


def ordered(**weighed: Weighed) -> tuple[Weighed, ...]:
    """Measurements by what they could change for their price.

    Parameters
    ----------
    **weighed : Weighed
        By name.

    Returns
    -------
    tuple of Weighed
        The first first.

    Raises
    ------
    OutOfDomain
        If there is none.
    """
    if not weighed:
        raise OutOfDomain("0 measurements stand to choose. At least one does. Name one.")
    return in_order(tuple(weighed.values()))

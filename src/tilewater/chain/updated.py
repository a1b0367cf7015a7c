# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: ranges narrowed by what was measured, what was thought before beside them.

Nothing is narrowed in silence: prior, measurement and what came of both stand under `updated.`, and
a finding tells each. What was measured of no parameter is the business of `updated_draws`.
"""

from collections.abc import Mapping

import numpy as np

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace, argument_name
from tilewater.chain.nitrate_days import FIT_ERROR, REGIONAL, nitrate_key
from tilewater.nitrate.parameter_ranges import ParameterRange
from tilewater.nitrate.range_update import Measured, updated_range

MEASURED = "inputs.measured"
RANGES = "updated.ranges"
FIELDS = {
    "conductivity-new": ("conductivity_m_s", "conductivity_error"),
    "porosity-effective": ("porosity", "porosity_error"),
    "removal-rate": ("removal_rate_g_per_m3_day", "removal_rate_error"),
    "nitrate-factor": ("nitrate_mg_per_l", "nitrate_error"),
}
"""Parameters that the job may state as measured: value and error."""
YEARS_DIFFER = 0.10
"""How far the nitrate of years to come is from that of the years of the samples, judgement. [-]"""
NITRATE = "nitrate-factor"
PLACES = ("low", "mid", "high")


def add_updates(trace: Trace, ranges: str) -> str:
    """Record what was measured of the ranges under a key, and return the key to draw from."""
    if not trace.known(ranges):
        return ranges
    prior = _regional(trace, ranges)
    posteriors = {}
    for slug in FIELDS:
        if slug in trace.value(prior) and _give_measured(trace, slug):
            posteriors[argument_name(slug)] = _add_one(trace, prior, slug)
    if not posteriors:
        return prior
    trace.compute(
        RANGES,
        with_ranges,
        unit="",
        title="Ranges after what was measured",
        ranges=prior,
        **posteriors,
    )
    return RANGES if trace.known(RANGES) else prior


def _regional(trace: Trace, ranges: str) -> str:
    if REGIONAL not in trace or not trace.known(REGIONAL) or NITRATE not in trace.value(ranges):
        return ranges
    trace.compute(
        "updated.regional",
        with_regional_nitrate,
        unit="",
        title="Ranges with the nitrate of the region",
        ranges=ranges,
        regional=REGIONAL,
    )
    return "updated.regional"


def _give_measured(trace: Trace, slug: str) -> bool:
    value, error = FIELDS[slug]
    here = f"updated.{slug}.measured"
    if is_stated(trace, value, error):
        inputs = {"value": f"{MEASURED}.{value}", "error": f"{MEASURED}.{error}"}
        if slug == NITRATE:
            inputs["over"] = nitrate_key(trace)
        trace.compute(
            here, measured_of, unit="", title=f"Measured: {slug.replace('-', ' ')}", **inputs
        )
        return trace.known(here)
    if slug != NITRATE or FIT_ERROR not in trace:
        return False
    trace.constant(
        "nitrate.years_differ", YEARS_DIFFER, "How far years differ", unit="-", source="practice"
    )
    trace.compute(
        here,
        measured_by_samples,
        unit="",
        title="Nitrate by the samples, with what years differ",
        fit_error=FIT_ERROR,
        years_differ="nitrate.years_differ",
    )
    return trace.known(here)


def is_stated(trace: Trace, value: str, error: str) -> bool:
    """Whether a measurement and its error are stated; a finding tells of one without error."""
    key, spread = f"{MEASURED}.{value}", f"{MEASURED}.{error}"
    if not trace.known(key):
        return False
    if trace.known(spread):
        return True
    trace.findings.append(
        Finding(
            "measured-without-error",
            "caution",
            "Measured",
            f"measured.{value.split('_m_s')[0]} is given without its error, so no range is "
            f"narrowed by it. Write {error}.",
        )
    )
    return False


def _add_one(trace: Trace, ranges: str, slug: str) -> str:
    here = f"updated.{slug}"
    which = trace.constant(f"{here}.name", slug, "Name of the range", source="derived")
    title = slug.replace("-", " ")
    trace.compute(
        f"{here}.prior",
        range_of,
        unit="",
        title=f"Thought before: {title}",
        ranges=ranges,
        name=which,
    )
    trace.compute(
        f"{here}.posterior",
        updated_range,
        unit="",
        title=f"After the measurement: {title}",
        prior=f"{here}.prior",
        measured=f"{here}.measured",
    )
    for state in ("prior", "posterior"):
        for place in PLACES:
            trace.compute(
                f"{here}.{state}.{place}",
                END_OF[place],
                unit=trace.value(f"{here}.prior").unit,
                title=f"{title.capitalize()}, {state}, {place}",
                parameter=f"{here}.{state}",
            )
    _tell(trace, slug)
    return f"{here}.posterior"


def _tell(trace: Trace, slug: str) -> None:
    here = f"updated.{slug}"
    if not trace.known(f"{here}.posterior"):
        return
    before, after = trace.value(f"{here}.prior"), trace.value(f"{here}.posterior")
    measured = trace.value(f"{here}.measured")
    unit = f" {before.unit}" if before.unit != "-" else ""
    trace.findings.append(
        Finding(
            "range-updated",
            "note",
            slug.replace("-", " ").capitalize(),
            f"Thought before {before.low:.3g} to {before.high:.3g}, measured {measured.value:.3g} "
            f"with an error of {measured.error:.2g}{' of it' if before.kind == 'lognormal' else ''}"
            f"; now {after.low:.3g} to {after.high:.3g}, middle {after.mid:.3g}{unit}. Only the "
            "draws are changed by it, not the values that the job states.",
            value=after.mid,
            unit=before.unit,
            source="lindley1972",
        )
    )


def range_of(ranges: Mapping[str, ParameterRange], name: str) -> ParameterRange:
    """Range of one parameter.

    Parameters
    ----------
    ranges : mapping of str to ParameterRange
        By name. [-]
    name : str
        Which. [-]

    Returns
    -------
    ParameterRange
    """
    return ranges[name]


def with_ranges(
    ranges: Mapping[str, ParameterRange], **changed: ParameterRange
) -> dict[str, ParameterRange]:
    """Ranges with some of them replaced.

    Parameters
    ----------
    ranges : mapping of str to ParameterRange
        By name. [-]
    **changed : ParameterRange
        Those in their place.

    Returns
    -------
    dict of str to ParameterRange
        By name.
    """
    return dict(ranges) | {each.slug: each for each in changed.values()}


def with_regional_nitrate(
    ranges: Mapping[str, ParameterRange], regional: ParameterRange
) -> dict[str, ParameterRange]:
    """Ranges with the spread of nitrate that is remembered of the region.

    Parameters
    ----------
    ranges : mapping of str to ParameterRange
        By name. [-]
    regional : ParameterRange
        Flow-weighted nitrate of such fields. [mg/L]

    Returns
    -------
    dict of str to ParameterRange
        By name; the factor of the nitrate spreads as the region does.

    Notes
    -----
    factor = C / C_middle    (derived)

    References
    ----------
    derived, a ratio
    """
    factor = ParameterRange(
        NITRATE,
        "lognormal",
        regional.low / regional.mid,
        1.0,
        regional.high / regional.mid,
        regional.low_means,
        regional.high_means,
        "-",
        least=0.0,
        source=regional.source,
        honesty=regional.honesty,
        basis=regional.basis,
    )
    return dict(ranges) | {NITRATE: factor}


def measured_of(value: float, error: float, over: float = 1.0) -> Measured:
    """A measurement with its error.

    Parameters
    ----------
    value : float
        As measured. [-]
    error : float
        As a share of it, or in its unit. [-]
    over : float
        What the value is counted against. [-]

    Returns
    -------
    Measured

    Notes
    -----
    x = value / over    (derived)

    References
    ----------
    derived, a ratio
    """
    return Measured(value / over, error)


def measured_by_samples(fit_error: float, years_differ: float) -> Measured:
    """The fit to the samples as a measurement of the nitrate of years to come.

    Parameters
    ----------
    fit_error : float
        Error of the flow-weighted mean, as a share. [-]
    years_differ : float
        How far years to come differ from those of the samples, as a share. [-]

    Returns
    -------
    Measured
        A factor of 1 with both errors.

    Notes
    -----
    e^2 = e_fit^2 + e_years^2    (derived)

    References
    ----------
    derived, two errors apart from each other
    practice, how far years differ
    """
    return Measured(1.0, float(np.hypot(fit_error, years_differ)))


def low_end(parameter: ParameterRange) -> float:
    """Low end of a range.

    Parameters
    ----------
    parameter : ParameterRange
        The range. [-]

    Returns
    -------
    float
        In its unit. [-]
    """
    return parameter.low


def middle(parameter: ParameterRange) -> float:
    """Middle of a range.

    Parameters
    ----------
    parameter : ParameterRange
        The range. [-]

    Returns
    -------
    float
        In its unit. [-]
    """
    return parameter.mid


def high_end(parameter: ParameterRange) -> float:
    """High end of a range.

    Parameters
    ----------
    parameter : ParameterRange
        The range. [-]

    Returns
    -------
    float
        In its unit. [-]
    """
    return parameter.high


END_OF = {"low": low_end, "mid": middle, "high": high_end}

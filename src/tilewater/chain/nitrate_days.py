# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: nitrate of the drain water through the year, as the job wants it known.

Where the job says nothing the stated mean holds every day. Else the days come from one value for
each month, from samples against flow and season, or from the rotation of the region; loads are then
counted with the flow-weighted mean of these days.
"""

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Given, Trace
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.nitrate import concentration
from tilewater.nitrate.parameter_ranges import ParameterRange
from tilewater.practices.bed.days import dates_of, even_series

PATTERN, MEAN = "inputs.nitrate.pattern", "inputs.nitrate.mean_mg_per_l"
WEIGHTED, SERIES = "nitrate.flow_weighted_mg_per_l", "nitrate.series_mg_per_l"
FIT_ERROR, REGIONAL = "nitrate.fit_error", "nitrate.regional_range"
DATES, FLOW = "nitrate.date", "water.flow_m3_s"
SAMPLES = "inputs.samples"


def pattern_of(trace: Trace) -> str:
    """How the job wants nitrate known; "same every day" where it does not say."""
    if PATTERN not in trace or is_unknown(trace.value(PATTERN)):
        return "same every day"
    return str(trace.value(PATTERN))


def nitrate_key(trace: Trace) -> str:
    """Key of the nitrate that loads are counted with."""
    return WEIGHTED if WEIGHTED in trace else MEAN


def add_nitrate(trace: Trace) -> None:
    """Record nitrate by the day and its flow-weighted mean, where the job asks for more than one.

    Needs the daily flow of `water`, where there is one.
    """
    pattern = pattern_of(trace)
    if pattern == "same every day":
        return
    if pattern == "by region":
        _add_regional(trace)
        return
    if not trace.known("water.day", FLOW):
        _without_flow(trace, pattern)
        return
    trace.compute(DATES, dates_of, unit="", title="Days of the record", day="water.day")
    if pattern == "by month":
        _needs(trace, "inputs.nitrate.by_month_mg_per_l", "by_month", "write by_month")
        trace.compute(
            SERIES,
            concentration.nitrate_by_month,
            unit="mg/L",
            title="Nitrate of the drain water, by month",
            day=DATES,
            by_month="inputs.nitrate.by_month_mg_per_l",
        )
    else:
        _add_fit(trace)
    trace.compute(
        WEIGHTED,
        concentration.flow_weighted_nitrate,
        unit="mg/L",
        title="Nitrate of the drain water, flow-weighted",
        flow=FLOW,
        nitrate_mg_per_l=SERIES,
    )


def add_daily_nitrate(trace: Trace, key: str) -> None:
    """Record the nitrate of each routed day under a key."""
    if SERIES in trace:
        step = trace.steps[SERIES]
        trace.compute(key, as_it_is, unit="mg/L", title=step.title, series=SERIES)
        return
    trace.compute(
        key,
        even_series,
        unit="mg/L",
        title="Nitrate of the drain water, the same every day",
        day="days.date",
        value=nitrate_key(trace),
    )


def _add_fit(trace: Trace) -> None:
    for name in ("day", "nitrate_mg_per_l", "is_below"):
        _needs(trace, f"{SAMPLES}.{name}", "samples", "name the file of samples")
    days = {"day": DATES, "flow": FLOW}
    trace.compute(
        "nitrate.fit",
        concentration.fit_nitrate,
        unit="",
        title="Nitrate of the samples against flow and season",
        sample_day=f"{SAMPLES}.day",
        sample_mg_per_l=f"{SAMPLES}.nitrate_mg_per_l",
        is_below=f"{SAMPLES}.is_below",
        **days,
    )
    trace.compute(
        SERIES,
        concentration.nitrate_of_fit,
        unit="mg/L",
        title="Nitrate of the drain water, by samples, flow and season",
        fit="nitrate.fit",
        **days,
    )
    trace.compute(
        FIT_ERROR,
        concentration.error_of_fit,
        unit="-",
        title="Error of the flow-weighted mean by the samples, as a share",
        fit="nitrate.fit",
        **days,
    )


def _add_regional(trace: Trace) -> None:
    _needs(trace, "inputs.nitrate.rotation", "rotation", "say what grows on the field")
    trace.compute(
        REGIONAL,
        concentration.regional_range,
        unit="",
        title="Range of nitrate by rotation and region",
        rotation="inputs.nitrate.rotation",
    )
    trace.compute(
        WEIGHTED,
        middle_of,
        unit="mg/L",
        title="Nitrate of the drain water, middle of the region",
        parameter=REGIONAL,
    )
    if trace.known(REGIONAL):
        held: ParameterRange = trace.value(REGIONAL)
        trace.findings.append(
            Finding(
                "nitrate-by-region",
                "caution",
                "Nitrate",
                f"No sample stands behind the nitrate: {held.low:g} to {held.high:g} mg/L is "
                f"remembered of such fields, {held.mid:g} in the middle. Four samples with flow, "
                "April to June, would say more.",
                value=held.mid,
                unit="mg/L",
                source=held.source,
            )
        )


def _without_flow(trace: Trace, pattern: str) -> None:
    why = f"nitrate {pattern} is weighed by daily flow, and none is known"
    trace.give(
        Given(
            WEIGHTED,
            Unknown(why, "give weather or a record of flow, or state the mean"),
            "mg/L",
            "Nitrate of the drain water, flow-weighted",
        )
    )


def _needs(trace: Trace, key: str, field: str, measure: str) -> None:
    if key not in trace:
        why = f"the pattern of nitrate needs {field}, which is not given"
        trace.give(Given(key, Unknown(why, measure), "", f"Nitrate: {field}"))


def middle_of(parameter: ParameterRange) -> float:
    """Middle of a range.

    Parameters
    ----------
    parameter : ParameterRange
        The range. [-]

    Returns
    -------
    float
        Its middle. [mg/L]

    Notes
    -----
    x = the median of the range    (derived)

    References
    ----------
    derived, one of three values
    """
    return parameter.mid


def as_it_is(series: concentration.Array) -> concentration.Array:
    """A series of days as it stands.

    Parameters
    ----------
    series : array
        By the day. [mg/L]

    Returns
    -------
    array
        The same. [mg/L]

    Notes
    -----
    C = C of the day    (derived)

    References
    ----------
    derived, a series
    """
    return series

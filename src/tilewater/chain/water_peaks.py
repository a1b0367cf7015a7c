# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: the drain flow of a day of ten years, beside the other peaks.

From the measured record where it has ten whole years, else from the simulated series, else from
what was measured. It is the mean of a calendar day, with the main as the most that it carries.
"""

from dataclasses import replace

from tilewater.basis.errors import UnknownName
from tilewater.basis.trace import Given, Trace
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.chain.water import BASIS, DAYS, SIMULATED
from tilewater.chain.water import FLOW as SERIES
from tilewater.chain.water_field import RUN
from tilewater.chain.water_series import Ordinals
from tilewater.chain.water_year import calendar
from tilewater.hydrology.annual_maxima import AnnualMaxima, annual_maxima
from tilewater.hydrology.daily_weather import Series
from tilewater.hydrology.drain_peak import (
    DRY,
    GEV,
    LIMIT,
    LOG_PEARSON3,
    DrainPeak,
    PeakEstimate,
    drain_peak,
)
from tilewater.practices.bed.capacity import share_of_flow

PEAK = "water.ten_year"
FLOW = f"{PEAK}.flow_m3_s"
SHARE = "capacity.criterion.share_of_ten_year_peak"
ENOUGH = 10
"""Whole years from which a measured record is used before a simulated one; practice."""
LEAST = 4
"""Years with flow below which no distribution can be fitted."""
LIMITED = "drain-peak-limited"
"""Finding of maxima that something holds down."""
METHODS = {GEV: "gev", LOG_PEARSON3: "log_pearson3", LIMIT: "limit", DRY: "dry"}
"""Names of the ways of estimating in the keys."""


def add_ten_year_peak(trace: Trace) -> None:
    """Record the largest days of the years and the flow of a day of ten years with its band."""
    series = _series(trace)
    if series is None:
        return
    basis, day, flow = series
    trace.constant(f"{PEAK}.basis", basis, "Peak of ten years rests on", source="derived")
    trace.compute(
        f"{PEAK}.maxima",
        largest_days,
        unit="",
        title="Largest day of each water year",
        day=day,
        flow=flow,
    )
    trace.compute(
        f"{PEAK}.years",
        years_with_maximum,
        unit="years",
        title="Water years with a largest day",
        maxima=f"{PEAK}.maxima",
    )
    _add_peak(trace)
    _add_estimate(trace, PEAK, "Drain flow of a day of ten years, 24-hour mean")
    if trace.known(f"{PEAK}.peak"):
        for estimate in trace.value(f"{PEAK}.peak").estimates:
            here = f"{PEAK}.by_method.{METHODS[estimate.method]}"
            method = trace.constant(
                f"{here}.method", estimate.method, "Way of estimating", source="derived"
            )
            _add_estimate(trace, here, f"Flow of a day of ten years, {estimate.method}", method)
    trace.compute(
        f"{PEAK}.share_of_main",
        share_of_flow,
        unit="-",
        title="Drain flow of a day of ten years over what the main carries full",
        flow=FLOW,
        peak="drain_flow.candidates_m3_s.main_full",
    )
    _tell(trace, basis)


def _add_peak(trace: Trace) -> None:
    """Record the estimates; not known where too few years have a largest day to fit any."""
    key, title = f"{PEAK}.peak", "Drain flow of a day of ten years, by each method"
    maxima = trace.value(f"{PEAK}.maxima")
    if not is_unknown(maxima) and int((maxima.values > 0.0).sum()) < LEAST:
        count = int((maxima.values > 0.0).sum())
        why = f"of {LEAST} whole water years with flow the series has {count}"
        trace.give(
            Given(key, Unknown(why, "give the weather of the place, or record on"), "", title)
        )
        return
    trace.compute(key, peak_of_ten_years, unit="", title=title, maxima=f"{PEAK}.maxima")


def _tell(trace: Trace, basis: str) -> None:
    """What the engineer must know; where the series is simulated it is known what limits it."""
    if not trace.known(f"{PEAK}.peak"):
        return
    for finding in trace.value(f"{PEAK}.peak").findings:
        if finding.code == LIMITED and basis == "simulated":
            finding = replace(
                finding,
                code="drain-peak-limited-by-main",
                severity="note",
                message="In several years the largest simulated day is what the main carries full, "
                "or the pump lifts. The laterals would give more; it waits in the field. A larger "
                "main would bring a larger day of ten years.",
            )
        trace.findings.append(finding)


def _add_estimate(trace: Trace, here: str, title: str, method: str = "") -> None:
    for name, function, words in (
        ("flow_m3_s", peak_flow, title),
        ("low_m3_s", peak_low, f"{title}, lower end of its 90 percent band"),
        ("high_m3_s", peak_high, f"{title}, upper end of its 90 percent band"),
    ):
        trace.compute(
            f"{here}.{name}",
            function,
            unit="m3/s",
            title=words,
            peak=f"{PEAK}.peak",
            **({"method": method} if method else {}),
        )


def _series(trace: Trace) -> tuple[str, str, str] | None:
    """What the peak rests on, with the keys of its days and its flows."""
    measured = trace.known(DAYS) and trace.value(BASIS) == "measured"
    simulated = trace.known(RUN)
    if measured and (not simulated or _whole_years(trace) >= ENOUGH):
        return "measured", DAYS, SERIES
    if simulated:
        return "simulated", f"{SIMULATED}.day", f"{SIMULATED}.flow_m3_s"
    return None


def _whole_years(trace: Trace) -> int:
    return len(trace.value("water.years"))


def add_share_of_ten_year_peak(trace: Trace) -> None:
    """Record the share of that flow which is treated; not known without a series of years.

    Boards alone treat nothing, and have no such share.
    """
    title = "Share of the 10-year, 24-hour drain flow"
    if "capacity.criterion.flow_m3_s" not in trace:
        return
    if FLOW in trace:
        trace.compute(
            SHARE,
            share_of_flow,
            unit="-",
            title=title,
            flow="capacity.criterion.flow_m3_s",
            peak=FLOW,
        )
        return
    why = "no flow of a 10-year, 24-hour event is known"
    unknown = Unknown(why, "give the weather of the place, or a long record of flow")
    trace.give(Given(SHARE, unknown, "-", title))


def largest_days(day: Ordinals, flow: Series) -> AnnualMaxima:
    """Largest day of each water year that has nine days of ten.

    Parameters
    ----------
    day : array of int
        Days, counted from the year 1. [-]
    flow : array
        Flow of each day. [m3/s]

    Returns
    -------
    AnnualMaxima
        Years, largest flows and their days. [m3/s]

    Notes
    -----
    x_j = max(Q of water year j)    (practice)

    References
    ----------
    practice, years from October, with nine days of ten
    """
    return annual_maxima(calendar(day), flow)


def years_with_maximum(maxima: AnnualMaxima) -> float:
    """Water years with a largest day.

    Parameters
    ----------
    maxima : AnnualMaxima
        Largest day of each water year. [m3/s]

    Returns
    -------
    float
        Number. [years]

    Notes
    -----
    n = years with nine days of ten    (derived)

    References
    ----------
    derived, a count
    """
    return float(maxima.years.size)


def peak_of_ten_years(maxima: AnnualMaxima) -> DrainPeak:
    """Drain flow of the day that one year of ten passes, by each method with its band.

    Parameters
    ----------
    maxima : AnnualMaxima
        Largest day of each water year. [m3/s]

    Returns
    -------
    DrainPeak
        Estimates, the one to use first; here they are flows. [m3/s]

    Raises
    ------
    OutOfDomain
        If fewer than four years have flow.

    Notes
    -----
    GEV by L-moments, log-Pearson III beside it; the limit itself where years reach it    (derived)

    References
    ----------
    hosking1997, GEV by L-moments
    iacwd1982, log-Pearson III
    """
    return drain_peak(maxima.values)


def peak_flow(peak: DrainPeak, method: str = "") -> float:
    """Drain flow of a day of ten years.

    Parameters
    ----------
    peak : DrainPeak
        Estimates. [m3/s]
    method : str
        Way of estimating; "" for the estimate to use first. [-]

    Returns
    -------
    float
        Flow. [m3/s]

    Raises
    ------
    UnknownName
        If the peak was not estimated so.

    Notes
    -----
    estimate of the method    (derived)

    References
    ----------
    derived, a choice
    """
    return _estimate(peak, method).daily_depth


def peak_low(peak: DrainPeak, method: str = "") -> float:
    """Lower end of the band of the flow of a day of ten years.

    Parameters
    ----------
    peak : DrainPeak
        Estimates. [m3/s]
    method : str
        Way of estimating; "" for the estimate to use first. [-]

    Returns
    -------
    float
        Flow. [m3/s]

    Raises
    ------
    UnknownName
        If the peak was not estimated so.

    Notes
    -----
    5 percent end of the band    (derived)

    References
    ----------
    derived, a choice
    """
    return _estimate(peak, method).low


def peak_high(peak: DrainPeak, method: str = "") -> float:
    """Upper end of the band of the flow of a day of ten years.

    Parameters
    ----------
    peak : DrainPeak
        Estimates. [m3/s]
    method : str
        Way of estimating; "" for the estimate to use first. [-]

    Returns
    -------
    float
        Flow; infinite where the record is too short to close the band. [m3/s]

    Raises
    ------
    UnknownName
        If the peak was not estimated so.

    Notes
    -----
    95 percent end of the band    (derived)

    References
    ----------
    derived, a choice
    """
    return _estimate(peak, method).high


def _estimate(peak: DrainPeak, method: str) -> PeakEstimate:
    if not method:
        return peak.estimates[0]
    for estimate in peak.estimates:
        if estimate.method == method:
            return estimate
    known = ", ".join(estimate.method for estimate in peak.estimates)
    raise UnknownName(f"The peak was not estimated by '{method}'. Known: {known}.")

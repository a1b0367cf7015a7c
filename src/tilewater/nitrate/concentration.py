# SPDX-License-Identifier: Apache-2.0
"""Nitrate of the drain water day by day: by month, fitted to samples, or by region and rotation.

The fit is a straight line of the logarithm on that of flow, with a wave of one year. It tells what
is usual at a flow and season, not what a storm of one week brought. It is used within the flows
that were sampled; beyond them the nearest sampled flow stands in, and a finding says for how much
of the water.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.domain import refuse
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.findings import Finding
from tilewater.basis.tables import Row, read_table
from tilewater.nitrate.parameter_ranges import ParameterRange

Array = NDArray[np.float64]
Days = NDArray[np.datetime64]

YEAR_DAYS = 365.25
LEAST_SAMPLES = 8
"""Days with sample and flow: twice the four numbers of the fit."""
BEYOND = 0.2
"""Share of the water outside the sampled flows from which a finding cautions."""


@dataclass(frozen=True)
class NitrateFit:
    """Nitrate against flow and season.

    Attributes
    ----------
    slopes : tuple of float
        Of 1, ln(flow / middle flow), sine and cosine of the year, for the logarithm of mg/L. [-]
    covariance : array of shape (4, 4)
        Of the slopes. [-]
    spread : float
        Standard deviation of the logarithms about the fit. [-]
    smearing : float
        Mean of what the fit leaves, as a factor: a fit of logarithms meets the median. [-]
    least, middle, most : float
        Flows that were sampled. [m3/s]
    days : int
        Days with sample and flow.
    """

    slopes: tuple[float, ...]
    covariance: Array
    spread: float
    smearing: float
    least: float
    middle: float
    most: float
    days: int


def nitrate_by_month(day: Days, by_month: tuple[float, ...]) -> Array:
    """Nitrate of each day from one value for each month.

    Parameters
    ----------
    day : array of datetime64
        Days. [-]
    by_month : tuple of float
        January to December, as N. [mg/L]

    Returns
    -------
    array
        Nitrate by the day. [mg/L]

    Raises
    ------
    OutOfDomain
        If there are not 12 values.

    Notes
    -----
    C = C_month    (derived)

    References
    ----------
    derived, a calendar
    """
    if len(by_month) != 12:
        raise refuse(
            "by_month", float(len(by_month)), "values", "There are 12 months", "Give one for each"
        )
    month = day.astype("datetime64[M]").astype(np.int64) % 12
    return np.asarray(np.array(by_month, dtype=np.float64)[month])


def flow_weighted_nitrate(flow: Array, nitrate_mg_per_l: Array) -> float:
    """Mean nitrate of the water that left, each day by its flow.

    Parameters
    ----------
    flow : array
        Drain flow by the day. [m3/s]
    nitrate_mg_per_l : array
        Nitrate by the day, as N. [mg/L]

    Returns
    -------
    float
        Load over volume. [mg/L]

    Raises
    ------
    OutOfDomain
        If no water left.

    Notes
    -----
    C = sum of Q_i C_i / sum of Q_i    (derived)

    References
    ----------
    derived, load over volume
    """
    if not flow.sum() > 0.0:
        raise refuse("flow", float(flow.sum()), "m3/s", "Some water leaves", "Check the record")
    return float((flow * nitrate_mg_per_l).sum() / flow.sum())


def fit_nitrate(
    day: Days, flow: Array, sample_day: Days, sample_mg_per_l: Array, is_below: NDArray[np.bool_]
) -> NitrateFit:
    """Nitrate of samples against the flow and the season of their days.

    Parameters
    ----------
    day : array of datetime64
        Days of the record of flow. [-]
    flow : array
        Drain flow of those days, measured or simulated. [m3/s]
    sample_day : array of datetime64
        Days of the samples; several of one day count as their mean. [-]
    sample_mg_per_l : array
        Nitrate, or the detection limit where it was below, as N. [mg/L]
    is_below : array of bool
        Whether less than the limit was found; half of it then stands in. [-]

    Returns
    -------
    NitrateFit

    Raises
    ------
    OutOfDomain
        If fewer than 8 days have both a sample and flow.

    Notes
    -----
    ln C = b0 + b1 ln(Q / Q_m) + b2 sin(2 pi t) + b3 cos(2 pi t) + e    (derived)
    smearing: mean of exp(e)    (duan1983)

    References
    ----------
    duan1983, the mean of what logarithms leave
    derived, least squares
    """
    dates, means = _by_day(sample_day, np.where(is_below, 0.5 * sample_mg_per_l, sample_mg_per_l))
    known = dict(zip(_numbers(day), flow.tolist(), strict=True))
    there = np.array([known.get(number, 0.0) for number in _numbers(dates)])
    usable = (there > 0.0) & (means > 0.0)
    if usable.sum() < LEAST_SAMPLES:
        raise OutOfDomain(
            f"{int(usable.sum())} of {dates.size} days of samples have drain flow in the record. "
            f"The fit needs {LEAST_SAMPLES}. Sample more days with flow, or state nitrate by month."
        )
    flows, middle = there[usable], float(np.exp(np.log(there[usable]).mean()))
    terms = _terms(dates[usable], flows, middle)
    logs = np.log(means[usable])
    inverse = np.linalg.inv(terms.T @ terms)
    slopes = inverse @ (terms.T @ logs)
    left = logs - terms @ slopes
    variance = float(left @ left) / (logs.size - terms.shape[1])
    return NitrateFit(
        slopes=tuple(float(b) for b in slopes),
        covariance=np.asarray(variance * inverse),
        spread=math.sqrt(variance),
        smearing=float(np.exp(left).mean()),
        least=float(flows.min()),
        middle=middle,
        most=float(flows.max()),
        days=int(usable.sum()),
    )


def nitrate_of_fit(day: Days, flow: Array, fit: NitrateFit) -> Array:
    """Nitrate of each day by the fit to the samples.

    Parameters
    ----------
    day : array of datetime64
        Days. [-]
    flow : array
        Drain flow of each day. [m3/s]
    fit : NitrateFit
        Of the samples. [-]

    Returns
    -------
    array
        Nitrate by the day, as N. [mg/L]

    Notes
    -----
    C = s exp(b0 + b1 ln(Q / Q_m) + b2 sin(2 pi t) + b3 cos(2 pi t))    (duan1983)

    A mean over water needs the smearing s; in one set of Midwest rivers load by such lines came out
    too high, and with a correction of the logarithm higher still (guo2002).

    References
    ----------
    duan1983, smearing
    guo2002, abstract
    """
    slopes = np.array(fit.slopes)
    terms = _terms(day, _within(flow, fit), fit.middle)
    return np.asarray(fit.smearing * np.exp(terms @ slopes))


def nitrate_of_fit_range(day: Days, flow: Array, fit: NitrateFit) -> tuple[Finding, ...]:
    """Say how much of the water ran outside the flows that were sampled, and the smearing.

    Parameters
    ----------
    day : array of datetime64
        Days. [-]
    flow : array
        Drain flow of each day. [m3/s]
    fit : NitrateFit
        Of the samples. [-]

    Returns
    -------
    tuple of Finding
        A caution where more than a fifth of it did.
    """
    outside = (flow < fit.least) | (flow > fit.most)
    share = float(flow[outside].sum() / flow.sum()) if flow.sum() > 0.0 else 0.0
    return (
        Finding(
            "nitrate-fit",
            "caution" if share > BEYOND else "note",
            "Nitrate",
            f"Nitrate is fitted to {fit.days} days of samples against flow and season; the days "
            f"lie {100 * math.expm1(fit.spread):.0f} percent about the line. {100 * share:.0f} "
            "percent of the water ran outside the flows that were sampled, where the nearest "
            f"sampled flow stands in. The mean is the fit times {fit.smearing:.2f}, since a fit of "
            "logarithms meets the median; such lines have come out too high on Midwest rivers.",
            value=share,
            operator="<=",
            limit=BEYOND,
            unit="-",
            source="guo2002",
        ),
    )


def error_of_fit(day: Days, flow: Array, fit: NitrateFit) -> float:
    """Standard error of the flow-weighted mean of the fit, as a share of it.

    Parameters
    ----------
    day : array of datetime64
        Days. [-]
    flow : array
        Drain flow of each day. [m3/s]
    fit : NitrateFit
        Of the samples. [-]

    Returns
    -------
    float
        Share; of the line alone, without the scatter of single days. [-]

    Notes
    -----
    u^2 = g' V g,  g = sum of Q C x / sum of Q C, x the terms of the fit    (derived)

    References
    ----------
    derived, first-order propagation
    """
    weight = flow * nitrate_of_fit(day, flow, fit)
    slope = weight @ _terms(day, _within(flow, fit), fit.middle) / weight.sum()
    return float(np.sqrt(slope @ fit.covariance @ slope))


def rotations() -> tuple[str, ...]:
    """Rotations that a regional range is kept for, in the words of the table."""
    return tuple(row.text("rotation") for row in _regional())


def regional_range(rotation: str) -> ParameterRange:
    """Range of flow-weighted nitrate of a rotation, where there is no sample.

    Parameters
    ----------
    rotation : str
        In the words of the table. [-]

    Returns
    -------
    ParameterRange
        10, 50 and 90 percent of fields. [mg/L]

    Raises
    ------
    OutOfDomain
        If the table has no such rotation.

    Notes
    -----
    lognormal through three quantiles of `regional_nitrate`    (practice)

    References
    ----------
    practice, remembered ranges
    """
    row = next((r for r in _regional() if r.text("rotation") == rotation), None)
    if row is None:
        raise OutOfDomain(
            f"'{rotation}' is no rotation of the table. Known: {'; '.join(rotations())}. "
            "Choose one, or state the nitrate."
        )
    low, mid, high = (row.number(name) for name in ("low", "mid", "high"))
    return ParameterRange(
        "regional-nitrate",
        "lognormal",
        low,
        mid,
        high,
        "p10",
        "p90",
        "mg/L",
        least=0.0,
        source=row.text("source_key"),
        honesty=row.text("honesty"),
        basis=row.text("basis"),
    )


def _regional() -> tuple[Row, ...]:
    return read_table("tilewater.nitrate", "regional_nitrate").rows


def _within(flow: Array, fit: NitrateFit) -> Array:
    """Flow, held to what was sampled; `nitrate_of_fit_range` says how much water that moves."""
    return np.clip(flow, fit.least, fit.most)


def _numbers(day: Days) -> list[int]:
    numbers: list[int] = day.astype("datetime64[D]").astype(np.int64).tolist()
    return numbers


def _terms(day: Days, flow: Array, middle: float) -> Array:
    days = day.astype("datetime64[D]")
    turn = 2.0 * np.pi * (days - days.astype("datetime64[Y]")).astype(np.float64) / YEAR_DAYS
    return np.column_stack([np.ones(days.size), np.log(flow / middle), np.sin(turn), np.cos(turn)])


def _by_day(day: Days, values: Array) -> tuple[Days, Array]:
    dates, place = np.unique(day.astype("datetime64[D]"), return_inverse=True)
    return dates, np.bincount(place, weights=values) / np.bincount(place)

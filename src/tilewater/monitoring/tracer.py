# SPDX-License-Identifier: Apache-2.0
"""What a tracer test tells of a bed: how long the water stays, and how much of the bed it uses.

Time counts from the middle of the injection; the background is taken off before. The mean time is
biased low where much of the tracer was not found, so the tail beyond the last sample is a summary
of its own (`tracer_summary_with_tail`) that stands beside the first and never in its place. What
volume of pores the test is held against is the caller's business.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.domain import Number, require_positive
from tilewater.basis.errors import NoSolution, OutOfDomain

Floats = NDArray[np.float64]

TAIL_FROM = 0.5
"""The tail is fitted to samples after the peak below this share of it. [-]"""
FEWEST = 4
"""Samples that a tail is fitted to, at least. [-]"""


@dataclass(frozen=True)
class TracerSummary:
    """What the curve of a tracer says.

    Attributes
    ----------
    mean_residence, variance : float
        First moment and second moment about it. [s, s2]
    tanks, tanks_by_peak : float
        Equal tanks in series, from the spread and from the peak. [-]
    dispersion_number : float
        Of a plug with little dispersion. [-]
    t10, t16, t50, t84, t90 : float
        Time by which that share of what was found had left. [s]
    peak_time : float
        Time of the largest concentration. [s]
    morrill_index : float
        t90 over t10; 1 is a plug. [-]
    short_circuit_index : float
        t16 over t50; 1 is none. [-]
    recovery : float
        Tracer found over tracer put in. [-]
    nominal_residence : float
        Pore volume over the mean flow. [s]
    baffle_factor, peak_ratio : float
        t10 and the time of the peak over the nominal time. [-]
    effective_volume_ratio, dead_share : float
        Mean over nominal time, and what is missing to 1. [-]
    effective_volume_by_volume : float
        The same counted in water that passed; it differs where the flow was not steady. [-]
    hydraulic_efficiency : float
        Effective volume ratio times 1 - 1/N. [-]
    last_share : float
        Last concentration over the largest. [-]
    """

    mean_residence: float
    variance: float
    tanks: float
    tanks_by_peak: float
    dispersion_number: float
    t10: float
    t16: float
    t50: float
    t84: float
    t90: float
    peak_time: float
    morrill_index: float
    short_circuit_index: float
    recovery: float
    nominal_residence: float
    baffle_factor: float
    peak_ratio: float
    effective_volume_ratio: float
    dead_share: float
    effective_volume_by_volume: float
    hydraulic_efficiency: float
    last_share: float


@dataclass(frozen=True)
class Tail:
    """A decline beyond the last sample.

    Attributes
    ----------
    decay : float
        Of the concentration. [1/s]
    concentration : float
        At the last sample, as the line has it. [kg/m3]
    samples : int
        Samples that it was fitted to. [-]
    """

    decay: float
    concentration: float
    samples: int


def tracer_summary(
    time: Floats, concentration: Floats, *, flow: Number, mass_injected: float, pore_volume: float
) -> TracerSummary:
    """Summary of a tracer curve as it was sampled.

    Parameters
    ----------
    time : array
        Since the middle of the injection, ascending. [s]
    concentration : array
        At the outlet, background taken off. [kg/m3]
    flow : float or array
        Through the bed, one for all or one for each sample. [m3/s]
    mass_injected : float
        Tracer put in. [kg]
    pore_volume : float
        Water that stands in the bed. [m3]

    Returns
    -------
    TracerSummary

    Raises
    ------
    OutOfDomain
        If there are fewer than three samples, times do not ascend, a flow, mass or volume is not
        above zero, or no tracer was found.

    Notes
    -----
    tau = sum t C Q dt / sum C Q dt    (levenspiel1999)
    s2 = sum (t - tau)^2 C Q dt / sum C Q dt,  N = tau^2 / s2    (levenspiel1999)
    e = tau / (V / Q),  efficiency = e (1 - 1/N)    (persson1999)
    Morrill index = t90 / t10    (morrill1932)

    Sums by trapezoid of the products; t10 to t90 on the straight-line cumulative curve of what was
    found. N by the peak is tau / (tau - tp); the dispersion number is s2 / (2 tau^2). The nominal
    time takes the mean flow of the test.

    References
    ----------
    levenspiel1999, moments of a pulse, tanks in series, small dispersion
    persson1999, hydraulic efficiency, from memory
    morrill1932, dispersion index, from memory
    tracer-truncation, indices that a cut-off tail changes least
    """
    time, concentration, flows = _held(time, concentration, flow, mass_injected, pore_volume)
    return _summary(time, concentration, flows, mass_injected, pore_volume, None)


def tracer_summary_with_tail(
    time: Floats,
    concentration: Floats,
    *,
    flow: Number,
    mass_injected: float,
    pore_volume: float,
    tail: Tail,
) -> TracerSummary:
    """Summary of a tracer curve with an exponential tail beyond the last sample.

    Parameters
    ----------
    time : array
        Since the middle of the injection, ascending. [s]
    concentration : array
        At the outlet, background taken off. [kg/m3]
    flow : float or array
        Through the bed; the last one holds for the tail. [m3/s]
    mass_injected : float
        Tracer put in. [kg]
    pore_volume : float
        Water that stands in the bed. [m3]
    tail : Tail
        From `tracer_tail`. [-]

    Returns
    -------
    TracerSummary
        As `tracer_summary`, the integrals taken to the end of time.

    Raises
    ------
    OutOfDomain
        As `tracer_summary`.

    Notes
    -----
    C = Ce exp(-k (t - te)) beyond the last sample at te    (levenspiel1999)

    References
    ----------
    levenspiel1999, extrapolation of a tail
    """
    time, concentration, flows = _held(time, concentration, flow, mass_injected, pore_volume)
    return _summary(time, concentration, flows, mass_injected, pore_volume, tail)


def tracer_tail(time: Floats, concentration: Floats) -> Tail:
    """Exponential decline that the end of a tracer curve shows.

    Parameters
    ----------
    time : array
        Since the middle of the injection, ascending. [s]
    concentration : array
        At the outlet, background taken off. [kg/m3]

    Returns
    -------
    Tail

    Raises
    ------
    NoSolution
        If fewer than four samples lie on the falling side, or they do not fall.

    Notes
    -----
    ln C = a - k t, by least squares    (derived)

    Taken are samples after the peak above zero and below half of it; where those are fewer than
    four, all after the peak.

    References
    ----------
    derived, straight line through logarithms
    """
    time, concentration = np.asarray(time, np.float64), np.asarray(concentration, np.float64)
    peak = int(np.argmax(concentration))
    falling = (np.arange(time.size) > peak) & (concentration > 0.0)
    low = falling & (concentration < TAIL_FROM * concentration[peak])
    taken = low if int(low.sum()) >= FEWEST else falling
    count = int(taken.sum())
    if count < FEWEST:
        raise NoSolution(
            f"{count} samples lie after the peak. A tail takes {FEWEST} or more. "
            "Sample until the tracer is back at its background."
        )
    slope, at_zero = np.polyfit(time[taken], np.log(concentration[taken]), 1)
    if not slope < 0.0:
        raise NoSolution(
            "The last samples do not fall. A tail is a decline. Sample longer, or look for a "
            "second pulse or a background that rises."
        )
    return Tail(float(-slope), float(np.exp(at_zero + slope * time[-1])), count)


def _held(
    time: Floats, concentration: Floats, flow: Number, mass_injected: float, pore_volume: float
) -> tuple[Floats, Floats, Floats]:
    """Times, concentrations and flows of one length, fit to be summed."""
    times, found = np.asarray(time, np.float64), np.asarray(concentration, np.float64)
    require_positive("flow", flow, "m3/s", "Give the flow through the bed")
    require_positive("mass_injected", mass_injected, "kg", "Give the mass of tracer put in")
    require_positive("pore_volume", pore_volume, "m3", "Give wet media times porosity")
    flows = np.broadcast_to(np.asarray(flow, np.float64), times.shape) + 0.0
    if times.size < 3 or times.shape != found.shape:
        raise OutOfDomain(
            f"{times.size} times and {found.size} concentrations are given. A curve takes three "
            "or more, as many of each. Check the file of the test."
        )
    if np.any(np.diff(times) <= 0.0) or not np.all(np.isfinite(found)):
        raise OutOfDomain(
            "The times of the tracer do not ascend, or a concentration is no number. "
            "Each sample has a time of its own. Sort the rows and take out what is missing."
        )
    if (
        np.trapezoid(found * flows, times) <= 0.0
        or np.trapezoid(times * found * flows, times) <= 0.0
    ):
        raise OutOfDomain(
            "No tracer was found above its background after the injection. A curve needs some. "
            "Check the background and the unit."
        )
    return times, found, flows


def _summary(
    time: Floats,
    found: Floats,
    flow: Floats,
    mass_injected: float,
    pore_volume: float,
    tail: Tail | None,
) -> TracerSummary:
    rate = found * flow
    before = float(flow[0] * time[0])  # let through before the first sample
    passed = _running(flow, time) + before
    shape = _Beyond.of(tail, float(time[-1]), float(flow[-1]))
    mass = float(np.trapezoid(rate, time)) + shape.mass
    mean = (float(np.trapezoid(time * rate, time)) + shape.first) / mass
    second = float(np.trapezoid((time - mean) ** 2 * rate, time)) + shape.second_about(mean)
    variance = second / mass
    by_volume = (float(np.trapezoid(passed * rate, time)) + shape.volume(float(passed[-1]))) / mass
    mean_flow = float((passed[-1] - before) / (time[-1] - time[0]))
    nominal = pore_volume / mean_flow
    tanks = mean**2 / variance if variance > 0.0 else float("inf")
    t10, t16, t50, t84, t90 = (
        _time_of(share, time, _running(rate, time), mass, shape)
        for share in (0.10, 0.16, 0.50, 0.84, 0.90)
    )
    peak = float(time[int(np.argmax(found))])
    effective = mean / nominal
    return TracerSummary(
        mean_residence=mean,
        variance=variance,
        tanks=tanks,
        tanks_by_peak=mean / (mean - peak) if peak < mean else float("inf"),
        dispersion_number=variance / (2.0 * mean**2),
        t10=t10,
        t16=t16,
        t50=t50,
        t84=t84,
        t90=t90,
        peak_time=peak,
        morrill_index=t90 / t10 if t10 > 0.0 else float("inf"),
        short_circuit_index=t16 / t50 if t50 > 0.0 else float("nan"),
        recovery=mass / mass_injected,
        nominal_residence=nominal,
        baffle_factor=t10 / nominal,
        peak_ratio=peak / nominal,
        effective_volume_ratio=effective,
        dead_share=1.0 - effective,
        effective_volume_by_volume=by_volume / pore_volume,
        hydraulic_efficiency=effective * (1.0 - 1.0 / tanks),
        last_share=float(found[-1] / found.max()),
    )


@dataclass(frozen=True)
class _Beyond:
    """What lies beyond the last sample: `mass` [kg], its decay [1/s], end [s] and flow [m3/s]."""

    mass: float
    decay: float
    end: float
    flow: float

    @classmethod
    def of(cls, tail: Tail | None, end: float, flow: float) -> "_Beyond":
        if tail is None:
            return cls(0.0, 1.0, end, flow)
        return cls(tail.concentration * flow / tail.decay, tail.decay, end, flow)

    @property
    def first(self) -> float:
        return self.mass * (self.end + 1.0 / self.decay)

    def second_about(self, mean: float) -> float:
        away = self.end - mean
        return self.mass * (away**2 + 2.0 * away / self.decay + 2.0 / self.decay**2)

    def volume(self, passed: float) -> float:
        return self.mass * (passed + self.flow / self.decay)


def _running(values: Floats, time: Floats) -> Floats:
    steps = 0.5 * (values[1:] + values[:-1]) * np.diff(time)
    return np.concatenate(([0.0], np.cumsum(steps)))


def _time_of(share: float, time: Floats, running: Floats, mass: float, beyond: _Beyond) -> float:
    """First time by which a share of the mass had left."""
    wanted = share * mass
    if wanted > running[-1]:
        left = (mass - wanted) / beyond.mass
        return float(beyond.end - np.log(left) / beyond.decay)
    # A reading below the background lets the sum sink; the first time that it is reached counts.
    place = max(int(np.argmax(running >= wanted)), 1)
    before, after = running[place - 1], running[place]
    part = (wanted - before) / (after - before) if after > before else 0.0
    return float(time[place - 1] + part * (time[place] - time[place - 1]))

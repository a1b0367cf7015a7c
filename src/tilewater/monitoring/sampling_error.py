# SPDX-License-Identifier: Apache-2.0
"""How far a load may be off because nobody sampled between the samples.

Between samples the concentration is taken to wander: around a mean that may follow the flow, with
a memory of hours to months that the samples themselves tell as far as they can, and with noise of
bottle and laboratory on top. Every likely combination counts by how well it explains the samples,
so few samples give a wide answer. A load is a weighted sum of that wandering, so its mean and its
spread follow without drawing a single day.

What it cannot know: a kind of event that no sample caught at any flow. Flows beyond the sampled
ones by more than a factor of two are given the mean of that factor, and their share is told.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import NoSolution
from tilewater.monitoring.series import DAY, Floats

MEMORIES_DAYS = (0.5, 2.0, 7.0, 25.0, 90.0, 300.0)
"""Memories that are tried. [days]"""
NOISE_SHARES = (0.03, 0.2, 0.5, 0.95)
"""Shares of the variance that are noise of a single sample. [-]"""
FEWEST = 4
"""Samples from which a spread can be told."""
BEYOND = 2.0
"""Factor beyond the sampled flows up to which a mean that follows the flow is led on. [-]"""
VARIED = 0.1
"""Spread of the logarithms of sampled flows, from which a mean may follow the flow. [-]"""
LEAST_FLOW = 0.01
"""Share of the mean flow below which flows count as alike. [-]"""
SHAPES = ("soft", "sharp")
DROPS = tuple(
    f"{shape} {share:g}" for shape in SHAPES for share in (0.03, 0.06, 0.12, 0.25, 0.5, 1.0, 2.0)
)
"""Drops that fall with the flow as those in a bed do: their shape, and the share of the mean flow
up to which a bed takes all that comes."""
WIDER = 1.2
"""How much wider a spread is made for all that no way tried holds; by invented years. [-]"""


@dataclass(frozen=True)
class Explained:
    """One way to explain the samples, with what it says of the loads.

    Attributes
    ----------
    weight : float
        How much it counts; all add up to 1. [-]
    follows : str
        "", "log" or one of `DROPS`: how the mean follows the flow.
    memory_days : float
    middle : array
        Loads. [kg]
    factor : array
        Square root of their covariance for one unit of freedom. [kg]
    freedom : int
        Samples less means.
    """

    weight: float
    follows: str
    memory_days: float
    middle: Floats
    factor: Floats
    freedom: int


@dataclass(frozen=True)
class Wandering:
    """Everything that the samples leave open about some loads.

    Attributes
    ----------
    ways : tuple of Explained
    """

    ways: tuple[Explained, ...]

    def draws(self, count: int, seed: int) -> Floats:
        """Loads as they may have been: one row for each draw."""
        random = np.random.default_rng(seed)
        weights = np.array([way.weight for way in self.ways])
        chosen = random.multinomial(count, weights / weights.sum())
        drawn = [
            way.middle
            + (random.standard_normal((n, way.middle.size)) @ way.factor.T)
            / np.sqrt(random.chisquare(way.freedom, n) / way.freedom)[:, None]
            for way, n in zip(self.ways, chosen, strict=True)
            if n > 0
        ]
        return np.asarray(random.permutation(np.concatenate(drawn)))


def loads_between_samples(
    sample_s: Floats,
    value: Floats,
    flow_at_sample: Floats,
    *,
    time_s: Floats,
    flow: Floats,
    carried: tuple[Floats, ...],
    follows: tuple[str, ...] = ("", "log"),
) -> Wandering:
    """What samples leave open about loads, between the samples and at flows not sampled.

    Parameters
    ----------
    sample_s : array
        When each sample was taken. [s]
    value : array
        Concentration, or the difference of two. [mg/L]
    flow_at_sample : array
        Flow that a mean may follow, when each was taken. [m3/s]
    time_s : array
        Middle of each step. [s]
    flow : array
        Flow that a mean may follow, at each step. [m3/s]
    carried : tuple of array
        Volume of each step whose load is asked, for each load. [m3]
    follows : tuple of str
        How a mean may follow the flow: "" not, "log" by its logarithm, one of `DROPS` as the drop
        in a bed does.

    Returns
    -------
    Wandering
        Loads in kg, in the order of `carried`. [kg]

    Raises
    ------
    NoSolution
        If there are fewer than four samples.

    Notes
    -----
    C(t) = sum b_j x_j(Q) + w(t) + e;  cov w = s^2 (1 - g) exp(-|t - t'|/T);  L = sum(C Q dt)
    (cressie1993)

    x = 1;  x = 1, ln Q;  x = 1 - exp(-q Q_mean / Q);  x = min(1, q Q_mean / Q): the last two are a
    drop that is whole at low flow and goes as one over the flow at high, where a bed takes out the
    same mass at any flow.

    Each T, share of noise g and mean counts by exp(l) n^(-p/2), with l the log of its greatest
    likelihood and p its means (schwarz1978). For one of them the load is a Student variable: the
    kriged load, with the error of the means in it, and a fifth wider: in years invented by other
    laws than these, eight of ten then held the truth (derived).

    References
    ----------
    cressie1993, kriging with a mean, from memory
    schwarz1978, weight of a model by its likelihood and its number of parameters, from memory
    """
    n = sample_s.size
    if n < FEWEST:
        message = (
            f"There are {n} samples. The spread of a load needs {FEWEST} or more. "
            "Take the error of sampling from experience, or sample more."
        )
        raise NoSolution(message)
    day, which = np.unique(np.floor(time_s / DAY), return_inverse=True)
    by_day = np.column_stack([np.bincount(which, each) for each in carried])
    middle_s = (day + 0.5) * DAY
    scale = float(np.nanmean(flow)) or 1.0
    low, high = _sampled_range(flow_at_sample, scale)
    apart = np.abs(sample_s[:, None] - sample_s[None, :]) / DAY
    to_days = np.abs(middle_s[:, None] - sample_s[None, :]) / DAY
    between_days = np.abs(middle_s[:, None] - middle_s[None, :]) / DAY
    means = []
    is_varied = float(np.std(np.log(np.clip(np.nan_to_num(flow_at_sample), low, high)))) >= VARIED
    for name in follows:
        if name == "" or (n >= FEWEST + 2 and is_varied):
            at_samples = _regressors(name, flow_at_sample, scale, (low, high))
            at_steps = _regressors(name, flow, scale, (low, high))
            sums = np.column_stack([np.einsum("i,ij->j", each, at_steps) for each in carried])
            means.append((name, at_samples, sums))
    ways = []
    for memory in MEMORIES_DAYS:
        alike, reach = np.exp(-apart / memory), np.exp(-to_days / memory)
        own = by_day.T @ np.exp(-between_days / memory) @ by_day
        joint = reach.T @ by_day
        for noise in NOISE_SHARES:
            cov = (1.0 - noise) * alike + noise * np.eye(n)
            to_loads = np.asarray((1.0 - noise) * joint), np.asarray((1.0 - noise) * own)
            for name, at_samples, sums in means:
                ways.append(_explained(name, memory, value, at_samples, sums, cov, to_loads))
    highest = max(log for log, _ in ways)
    weighed = [(np.exp(log - highest), way) for log, way in ways]
    total = sum(weight for weight, _ in weighed)
    kept = tuple(
        Explained(float(weight / total), w.follows, w.memory_days, w.middle, w.factor, w.freedom)
        for weight, w in weighed
        if weight / total > 1e-4
    )
    return Wandering(kept)


def share_beyond_sampled(flow_at_sample: Floats, flow: Floats, carried: Floats) -> float:
    """Share of the water at flows that no sample came near.

    Parameters
    ----------
    flow_at_sample : array
        Flow when each sample was taken. [m3/s]
    flow : array
        Flow at each step. [m3/s]
    carried : array
        Volume of each step. [m3]

    Returns
    -------
    float
        Of the volume, at flows more than twice or less than half any sampled. [-]

    Notes
    -----
    sum of the volume beyond / sum of the volume    (derived)

    References
    ----------
    derived, a share
    """
    low, high = _sampled_range(flow_at_sample, float(np.nanmean(flow)) or 1.0)
    beyond = ((flow < low) & (flow > 0.0)) | (flow > high)
    return float(carried[beyond].sum() / max(float(carried.sum()), 1e-30))


def _sampled_range(flow_at_sample: Floats, scale: float) -> tuple[float, float]:
    """Flows up to which the mean is led: twice beyond those that were sampled."""
    floor = LEAST_FLOW * scale
    sampled = np.maximum(np.nan_to_num(flow_at_sample), floor)
    return float(sampled.min()) / BEYOND, float(sampled.max()) * BEYOND


def _regressors(name: str, flow: Floats, scale: float, sampled: tuple[float, float]) -> Floats:
    """What a mean is made of, one column each."""
    ones = np.ones(flow.size)
    if name.startswith(SHAPES):
        shape, _, share = name.partition(" ")
        reach = float(share) * scale / np.maximum(np.nan_to_num(flow), 1e-9 * scale)
        drop = -np.expm1(-reach) if shape == "soft" else np.minimum(reach, 1.0)
        return np.asarray(drop)[:, None]
    if name == "log":
        led = np.clip(np.nan_to_num(flow), *sampled)
        return np.column_stack((ones, np.log(np.maximum(led / scale, LEAST_FLOW / BEYOND))))
    return ones[:, None]


def _explained(
    name: str,
    memory: float,
    value: Floats,
    at_samples: Floats,
    sums: Floats,
    cov: Floats,
    to_loads: tuple[Floats, Floats],
) -> tuple[float, Explained]:
    """One way, with the logarithm of its weight."""
    joint, own = to_loads
    n, p = at_samples.shape
    solved = np.linalg.solve(cov, np.column_stack((at_samples, value, joint)))
    by_means, by_value, by_joint = solved[:, :p], solved[:, p], solved[:, p + 1 :]
    inner = at_samples.T @ by_means + 1e-12 * np.eye(p)
    spread = np.linalg.inv(inner)
    beta = spread @ (at_samples.T @ by_value)
    rest = value - at_samples @ beta
    misfit = max(float(rest @ (by_value - by_means @ beta)), 1e-12 * float(value @ value) + 1e-30)
    _, log_determinant = np.linalg.slogdet(cov)
    log_weight = -0.5 * (n * np.log(misfit / n) + log_determinant) - 0.5 * p * np.log(n)
    freedom = n - p
    lead = sums - at_samples.T @ by_joint
    middle = sums.T @ beta + by_joint.T @ rest
    variance = own - joint.T @ by_joint + lead.T @ spread @ lead
    factor = WIDER * _root(variance * misfit / freedom)
    return float(log_weight), Explained(1.0, name, memory, middle / 1e3, factor / 1e3, freedom)


def _root(matrix: Floats) -> NDArray[np.float64]:
    """A square root of a covariance; what is below zero by rounding counts as zero."""
    values, vectors = np.linalg.eigh(0.5 * (matrix + matrix.T))
    return np.asarray(vectors * np.sqrt(np.maximum(values, 0.0)))

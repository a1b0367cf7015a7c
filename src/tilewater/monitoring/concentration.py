# SPDX-License-Identifier: Apache-2.0
"""Nitrate between samples: the ways to fill the time from one bottle to the next.

None of them knows what happened between two samples; how far they lie apart is printed beside the
load, and `sampling_error` says how much the load could differ. Duplicates count as one sample,
below the detection limit a share of it is put in.
"""

from dataclasses import dataclass

import numpy as np

from tilewater.basis.domain import require_share
from tilewater.basis.errors import NoSolution
from tilewater.monitoring.series import Floats, Samples

METHODS = {
    "linear": "straight line between samples",
    "nearest": "nearest sample held",
    "period": "each sample stands for the time before it",
    "mean": "flow-weighted mean of the samples",
}
"""Ways to fill the time between samples, with their words; the first is the headline."""
SUBSTITUTES = {"zero": 0.0, "half": 0.5, "limit": 1.0}
"""Share of the detection limit that stands for what is below it."""


@dataclass(frozen=True)
class Nitrate:
    """Samples of a place made ready: duplicates averaged, detection limits substituted.

    Attributes
    ----------
    place : str
    time_s : array
        Middle of what the sample stands for, ascending. [s]
    mg_per_l : array
        As N. [mg/L]
    start_s, end_s : array
        Of composites; both the time itself for a grab sample. [s]
    """

    place: str
    time_s: Floats
    mg_per_l: Floats
    start_s: Floats
    end_s: Floats


def nitrate_of(samples: Samples, substitute: float) -> Nitrate:
    """Samples of a place as they are used: duplicates averaged, limits put in.

    Parameters
    ----------
    samples : Samples
        As the laboratory gave them. [-]
    substitute : float
        Share of the detection limit that stands for what is below it; 0.5 is usual. [-]

    Returns
    -------
    Nitrate
        Ascending in time. [mg/L]

    Raises
    ------
    OutOfDomain
        If the share is no share.
    NoSolution
        If no sample has a value.

    Notes
    -----
    C = s DL below detection; C = mean of a sample and its duplicates    (practice)

    References
    ----------
    practice, half of the limit; the spread from 0 to the limit is shown beside it
    """
    require_share("substitute", substitute, "Take 0, 0.5 or 1")
    limits = np.where(np.isnan(samples.detection_mg_per_l), 0.0, samples.detection_mg_per_l)
    value = np.where(samples.censored, substitute * limits, samples.nitrate_mg_per_l)
    own = np.where(samples.duplicate_of >= 0, samples.duplicate_of, np.arange(samples.size))
    kept = ~np.isnan(value)
    if not kept.any():
        message = (
            f"No sample of {samples.place} has a value. A load needs at least one. "
            "Check the column of nitrate and its detection limit."
        )
        raise NoSolution(message)
    middle = 0.5 * (samples.start_s + samples.time_s)
    time, where = np.unique(middle[own][kept], return_inverse=True)
    where = where.reshape(-1)
    mean = np.bincount(where, value[kept]) / np.bincount(where)
    start, end = np.empty(time.size), np.empty(time.size)
    start[where], end[where] = samples.start_s[own][kept], samples.time_s[own][kept]
    return Nitrate(samples.place, time, mean, start, end)


def concentration_linear(nitrate: Nitrate, time_s: Floats) -> Floats:
    """Nitrate by straight lines between samples.

    Parameters
    ----------
    nitrate : Nitrate
        Samples made ready. [mg/L]
    time_s : array
        When it is wanted. [s]

    Returns
    -------
    array
        Held at the first and the last sample beyond them; flat over a composite. [mg/L]

    Notes
    -----
    C = C1 + (C2 - C1) (t - t1)/(t2 - t1)    (williams2015)

    References
    ----------
    williams2015, the least uncertain at tile sites with continuous flow; it tends to underestimate
    """
    nodes = np.concatenate((nitrate.start_s, nitrate.end_s))
    values = np.tile(nitrate.mg_per_l, 2)
    order = np.argsort(nodes, kind="stable")
    return np.asarray(np.interp(time_s, nodes[order], values[order]))


def concentration_nearest(nitrate: Nitrate, time_s: Floats) -> Floats:
    """Nitrate of the nearest sample.

    Parameters
    ----------
    nitrate : Nitrate
        Samples made ready. [mg/L]
    time_s : array
        When it is wanted. [s]

    Returns
    -------
    array
        Steps halfway between samples. [mg/L]

    Notes
    -----
    C = C_i of the least |t - t_i|    (derived)

    References
    ----------
    derived, a step between samples
    """
    halfway = 0.5 * (nitrate.time_s[1:] + nitrate.time_s[:-1])
    return nitrate.mg_per_l[np.searchsorted(halfway, time_s)]


def concentration_period(nitrate: Nitrate, time_s: Floats) -> Floats:
    """Nitrate of the next sample: each stands for the time since the one before it.

    Parameters
    ----------
    nitrate : Nitrate
        Samples made ready. [mg/L]
    time_s : array
        When it is wanted. [s]

    Returns
    -------
    array
        The last sample also stands for what follows it. [mg/L]

    Notes
    -----
    C = C_i for t_(i-1) < t <= t_i    (derived)

    References
    ----------
    derived, what a composite over the period would be
    """
    place = np.searchsorted(nitrate.end_s, time_s)
    return nitrate.mg_per_l[np.minimum(place, nitrate.time_s.size - 1)]


def concentration_flow_weighted_mean(nitrate: Nitrate, flow_at_samples: Floats) -> float:
    """Flow-weighted mean of samples.

    Parameters
    ----------
    nitrate : Nitrate
        Samples made ready. [mg/L]
    flow_at_samples : array
        Flow when each was taken. [m3/s]

    Returns
    -------
    float
        The plain mean where nothing flowed at any of them. [mg/L]

    Notes
    -----
    C = sum(C_i Q_i) / sum(Q_i)    (derived)

    References
    ----------
    derived, weights by flow
    """
    weights = np.nan_to_num(flow_at_samples)
    if weights.sum() <= 0.0:
        return float(nitrate.mg_per_l.mean())
    return float(np.average(nitrate.mg_per_l, weights=weights))

# SPDX-License-Identifier: Apache-2.0
"""Loads of each way of the water by each way to fill the time between samples.

The glue between a water record and samples made ready: which steps count, which flow carries what.
The arithmetic is in `loads` and `concentration`. Read `load_draws` next.
"""

import numpy as np

from tilewater.basis.errors import NoSolution
from tilewater.monitoring.concentration import (
    Nitrate,
    concentration_flow_weighted_mean,
    concentration_linear,
    concentration_nearest,
    concentration_period,
)
from tilewater.monitoring.loads import load_of
from tilewater.monitoring.series import Floats
from tilewater.monitoring.water_record import WaterRecord, Way


def load_into(water: WaterRecord, inlet: Nitrate, method: str) -> float:
    """Load into the practice.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]
    inlet : Nitrate
        Samples of the inlet. [mg/L]
    method : str
        linear, nearest, period or mean.

    Returns
    -------
    float
        Load of nitrogen on the steps where both ways are known. [kg]

    Notes
    -----
    L_in = sum(Q_treated C_in dt)    (williams2015)

    References
    ----------
    williams2015, continuous flow and interpolated samples
    """
    return _load(water, water.treated, inlet, method)


def load_out_of(water: WaterRecord, outlet: Nitrate, method: str) -> float:
    """Load out of the practice.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]
    outlet : Nitrate
        Samples of its outlet. [mg/L]
    method : str
        linear, nearest, period or mean.

    Returns
    -------
    float
        Load of nitrogen. [kg]

    Notes
    -----
    L_out = sum(Q_treated C_out dt)    (williams2015)

    References
    ----------
    williams2015, continuous flow and interpolated samples
    """
    return _load(water, water.treated, outlet, method)


def load_past(water: WaterRecord, past: Nitrate, method: str) -> float:
    """Load past the practice.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]
    past : Nitrate
        Samples of the bypass; those of the inlet where it was not sampled. [mg/L]
    method : str
        linear, nearest, period or mean.

    Returns
    -------
    float
        Load of nitrogen. [kg]

    Notes
    -----
    L_bypass = sum(Q_bypass C dt)    (williams2015)

    References
    ----------
    williams2015, continuous flow and interpolated samples
    """
    return _load(water, water.bypass, past, method)


def load_by_main(water: WaterRecord, inlet: Nitrate, method: str) -> float:
    """Load that came by the main, where its flow was logged by itself.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]
    inlet : Nitrate
        Samples of the inlet. [mg/L]
    method : str
        linear, nearest, period or mean.

    Returns
    -------
    float
        Load of nitrogen. [kg]

    Raises
    ------
    NoSolution
        If the flow of the main was not logged.

    Notes
    -----
    L = sum(Q_total C_in dt)    (williams2015)

    References
    ----------
    williams2015, continuous flow and interpolated samples
    """
    if water.total is None:
        message = "The flow of the main was not logged. Its load is what both ways carry."
        raise NoSolution(message)
    return _load(water, water.total, inlet, method)


def concentration_of(water: WaterRecord, nitrate: Nitrate, method: str, flow: Floats) -> Floats:
    """Nitrate at each step by a way to fill the time between samples.

    Parameters
    ----------
    water : WaterRecord
        Its axis of time. [s]
    nitrate : Nitrate
        Samples of a place. [mg/L]
    method : str
        linear, nearest, period or mean.
    flow : array
        By which a mean is weighed. [m3/s]

    Returns
    -------
    array
        As N. [mg/L]

    Notes
    -----
    by the method named    (derived)

    References
    ----------
    derived, see `concentration`
    """
    if method == "mean":
        at = flow_at(nitrate.time_s, water.time_s, flow)
        return np.full(water.time_s.size, concentration_flow_weighted_mean(nitrate, at))
    ways = {
        "linear": concentration_linear,
        "nearest": concentration_nearest,
        "period": concentration_period,
    }
    return ways[method](nitrate, water.time_s)


def _load(water: WaterRecord, way: Way, nitrate: Nitrate, method: str) -> float:
    held = concentration_of(water, nitrate, method, way.flow)
    return load_of(np.nan_to_num(way.flow), held, water.step_s, water.known)


def flow_at(sample_s: Floats, time_s: Floats, flow: Floats) -> Floats:
    """Flow of the step in which each sample was taken.

    Parameters
    ----------
    sample_s : array
        When each was taken. [s]
    time_s : array
        Middle of each step. [s]
    flow : array
        At each step. [m3/s]

    Returns
    -------
    array
        NaN where it is not known. [m3/s]

    Notes
    -----
    Q of the nearest step    (derived)

    References
    ----------
    derived, nearest step
    """
    halfway = 0.5 * (time_s[1:] + time_s[:-1])
    return np.asarray(flow[np.searchsorted(halfway, sample_s)])


def within(nitrate: Nitrate, water: WaterRecord) -> Nitrate:
    """Samples of the period and the nearest ones on both sides of it.

    Parameters
    ----------
    nitrate : Nitrate
        Samples of a place. [mg/L]
    water : WaterRecord
        Its axis of time. [s]

    Returns
    -------
    Nitrate
        Those that bear on the period. [mg/L]
    """
    low = max(int(np.searchsorted(nitrate.time_s, water.time_s[0], "right")) - 1, 0)
    high = int(np.searchsorted(nitrate.time_s, water.time_s[-1], "left")) + 1
    kept = slice(low, high)
    return Nitrate(
        nitrate.place,
        nitrate.time_s[kept],
        nitrate.mg_per_l[kept],
        nitrate.start_s[kept],
        nitrate.end_s[kept],
    )

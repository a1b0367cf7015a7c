# SPDX-License-Identifier: Apache-2.0
"""Loads of each way of the water by each way to fill the time between samples.

The glue between a water record and samples made ready: which steps count, which flow carries what.
The arithmetic is in `loads`, `concentration`, `sampling_error` and `load_uncertainty`.
"""

import numpy as np

from tilewater.basis.errors import NoSolution
from tilewater.basis.findings import Finding
from tilewater.monitoring.concentration import (
    Nitrate,
    concentration_flow_weighted_mean,
    concentration_linear,
    concentration_nearest,
    concentration_period,
)
from tilewater.monitoring.load_uncertainty import DRAWS, SEED, MeasurementErrors, Shares
from tilewater.monitoring.loads import load_of
from tilewater.monitoring.sampling_error import FEWEST, Wandering, loads_between_samples
from tilewater.monitoring.series import Floats
from tilewater.monitoring.water_record import WaterRecord, Way, gap_error_of_volume, volume_of


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


def inlet_wandering(water: WaterRecord, inlet: Nitrate) -> Wandering:
    """What the samples of the inlet leave open about the loads into and past the practice.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]
    inlet : Nitrate
        Samples of the inlet. [mg/L]

    Returns
    -------
    Wandering
        Two loads. [kg]

    Notes
    -----
    see `sampling_error.loads_between_samples`    (cressie1993)

    References
    ----------
    cressie1993, kriging with a mean, from memory
    """
    near = within(inlet, water)
    both = np.nan_to_num(water.treated.flow + water.bypass.flow)
    return loads_between_samples(
        near.time_s,
        near.mg_per_l,
        flow_at(near.time_s, water.time_s, both),
        time_s=water.time_s,
        flow=both,
        carried=(_carried(water, water.treated), _carried(water, water.bypass)),
    )


def removed_wandering(water: WaterRecord, inlet: Nitrate, outlet: Nitrate) -> Wandering:
    """What the samples of both places leave open about what was removed.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]
    inlet : Nitrate
        Samples of the inlet. [mg/L]
    outlet : Nitrate
        Samples of the outlet. [mg/L]

    Returns
    -------
    Wandering
        One load. [kg]

    Notes
    -----
    d = C_in - C_out at each sample of the outlet; R = sum(Q_treated d dt)    (cressie1993)

    The drop may follow the flow by its logarithm or as one over it: a bed that takes out the same
    mass at any flow lowers the concentration by one over the flow.

    References
    ----------
    cressie1993, kriging with a mean, from memory
    """
    near = within(outlet, water)
    drop = concentration_linear(inlet, near.time_s) - near.mg_per_l
    flow = np.nan_to_num(water.treated.flow)
    return loads_between_samples(
        near.time_s,
        drop,
        flow_at(near.time_s, water.time_s, flow),
        time_s=water.time_s,
        flow=flow,
        carried=(_carried(water, water.treated),),
        follows=("", "log", "inverse"),
    )


def _carried(water: WaterRecord, way: Way) -> Floats:
    return np.where(water.known, np.nan_to_num(way.flow), 0.0) * water.step_s


def inlet_draws(water: WaterRecord, inlet: Nitrate, errors: MeasurementErrors) -> Floats:
    """Loads into and past the practice as the samples leave them open.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]
    inlet : Nitrate
        Samples of the inlet. [mg/L]
    errors : MeasurementErrors
        For fewer than four samples. [-]

    Returns
    -------
    array
        Two columns. [kg]

    Notes
    -----
    see `sampling_error.loads_between_samples`; L (1 + u z) with fewer than four samples
    (cressie1993)

    References
    ----------
    cressie1993, kriging with a mean, from memory
    harmel2006, error of sampling, from memory
    """
    if within(inlet, water).time_s.size >= FEWEST:
        return inlet_wandering(water, inlet).draws(DRAWS, SEED)
    loads = np.array([load_into(water, inlet, "linear"), load_past(water, inlet, "linear")])
    apart = np.random.default_rng(SEED).standard_normal((DRAWS, 1))
    return np.asarray(loads * (1.0 + errors.sampling * apart))


def removed_draws(
    water: WaterRecord, inlet: Nitrate, outlet: Nitrate, errors: MeasurementErrors
) -> Floats:
    """What was removed as the samples leave it open.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]
    inlet : Nitrate
        Samples of the inlet. [mg/L]
    outlet : Nitrate
        Samples of the outlet. [mg/L]
    errors : MeasurementErrors
        For fewer than four samples. [-]

    Returns
    -------
    array
        One for each draw. [kg]

    Notes
    -----
    see `sampling_error.loads_between_samples`; both loads apart with fewer than four samples
    (cressie1993)

    References
    ----------
    cressie1993, kriging with a mean, from memory
    harmel2006, error of sampling, from memory
    """
    if within(outlet, water).time_s.size >= FEWEST:
        return removed_wandering(water, inlet, outlet).draws(DRAWS, SEED + 1)[:, 0]
    load_in, load_out = load_into(water, inlet, "linear"), load_out_of(water, outlet, "linear")
    apart = np.random.default_rng(SEED + 1).standard_normal((2, DRAWS)) * errors.sampling
    return np.asarray(load_in * (1.0 + apart[0]) - load_out * (1.0 + apart[1]))


def removed_draws_range(
    water: WaterRecord, inlet: Nitrate, outlet: Nitrate, errors: MeasurementErrors
) -> tuple[Finding, ...]:
    """Say where samples are few, or where much water came at flows that none caught.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]
    inlet : Nitrate
        Samples of the inlet. [mg/L]
    outlet : Nitrate
        Samples of the outlet. [mg/L]
    errors : MeasurementErrors
        For fewer than four samples. [-]

    Returns
    -------
    tuple of Finding
    """
    counts = [within(each, water).time_s.size for each in (inlet, outlet)]
    if min(counts) < FEWEST:
        return (
            Finding(
                "monitor-few-samples",
                "caution",
                "Samples",
                f"{min(counts)} samples of one place bear on the period. From {FEWEST} on they tell "
                f"their own error; here {errors.sampling:.0%} of each load is taken, from memory. "
                "Sample every 3 to 17 days while it flows.",
                float(min(counts)),
                ">=",
                float(FEWEST),
                source="williams2015",
            ),
        )
    beyond = removed_wandering(water, inlet, outlet).beyond_share
    if beyond <= 0.1:
        return ()
    return (
        Finding(
            "monitor-flows-not-sampled",
            "caution",
            "Samples",
            f"{beyond:.0%} of the treated water came at flows more than twice as high, or less than "
            "half as high, as any that was sampled. What the bed does there is led on from the "
            "nearest flows. Sample a storm, and a day of little flow.",
            beyond,
            "<=",
            0.1,
            source="derived",
        ),
    )


def shares_of(water: WaterRecord, way: Way, rating: float, zero_m: float) -> Shares:
    """Errors that are common to one way of the water, as shares of its volume.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]
    way : Way
        Which of them. [m3/s]
    rating : float
        Standard error of its rating, as a share. [-]
    zero_m : float
        Standard error of the zero of its logger. [m]

    Returns
    -------
    Shares
        Of rating, zero and gaps. [-]

    Notes
    -----
    zero: e sum(dQ/dh dt) / sum(Q dt);  gaps: see `gap_error_of_volume`    (derived)

    References
    ----------
    derived, a small step of level through the rating
    """
    volume = volume_of(way.flow, water.step_s)
    if volume <= 0.0:
        return Shares(rating, 0.0, 0.0)
    by_zero = zero_m * volume_of(way.per_metre, water.step_s) / volume
    gaps = gap_error_of_volume(way, water.step_s) / volume
    return Shares(rating, float(by_zero), float(gaps))

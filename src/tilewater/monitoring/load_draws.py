# SPDX-License-Identifier: Apache-2.0
"""Loads as the samples leave them open, and the errors that are common to a way of the water.

Beside `load_ways`, which holds the loads themselves: here is what `load_uncertainty` draws from.
"""

import numpy as np

from tilewater.basis.findings import Finding
from tilewater.monitoring.concentration import Nitrate, concentration_linear
from tilewater.monitoring.load_uncertainty import DRAWS, SEED, MeasurementErrors, Shares
from tilewater.monitoring.load_ways import flow_at, load_into, load_out_of, load_past, within
from tilewater.monitoring.sampling_error import (
    DROPS,
    FEWEST,
    Wandering,
    loads_between_samples,
    share_beyond_sampled,
)
from tilewater.monitoring.sensor_end import RELATIVE_ERROR
from tilewater.monitoring.series import Floats
from tilewater.monitoring.water_record import WaterRecord, Way, gap_error_of_volume, volume_of


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

    The drop may follow the flow as it does in a bed: whole at low flow, and as one over the flow
    where the bed takes out the same mass at any flow.

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
        follows=("", "log", *DROPS),
    )


def _carried(water: WaterRecord, way: Way) -> Floats:
    return np.where(water.known, np.nan_to_num(way.flow), 0.0) * water.step_s


def inlet_draws(
    water: WaterRecord, inlet: Nitrate, past: Nitrate, errors: MeasurementErrors
) -> Floats:
    """Loads into and past the practice as the samples leave them open.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]
    inlet : Nitrate
        Samples of the inlet. [mg/L]
    past : Nitrate
        Samples of the bypass; those of the inlet where it was not sampled. [mg/L]
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
    if past.place != inlet.place:
        into, by = (inlet_draws(water, each, each, errors) for each in (inlet, past))
        return np.column_stack((into[:, 0], by[:, 1]))
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
                f"{min(counts)} samples of one place bear on the period. From {FEWEST} on they "
                f"tell their own error; here {errors.sampling:.0%} of each load is taken, from "
                "memory. Sample every 3 to 17 days while it flows.",
                float(min(counts)),
                ">=",
                float(FEWEST),
                source="williams2015",
            ),
        )
    flow = np.nan_to_num(water.treated.flow)
    at = flow_at(within(outlet, water).time_s, water.time_s, flow)
    beyond = share_beyond_sampled(at, flow, _carried(water, water.treated))
    if beyond <= 0.1:
        return ()
    return (
        Finding(
            "monitor-flows-not-sampled",
            "caution",
            "Samples",
            f"{beyond:.0%} of the treated water came at flows more than twice as high, or less "
            "than half as high, as any that was sampled. What the bed does there is led on from "
            "the nearest flows. Sample a storm, and a day of little flow.",
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
        Of rating, zero and gaps; what came beyond the end of a logger counts with the gaps. [-]

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
    gaps = gap_error_of_volume(way, water.step_s)
    beyond = RELATIVE_ERROR * way.beyond * float(np.sum(water.step_s[way.at_least]))
    return Shares(rating, float(by_zero), float(np.hypot(gaps, beyond) / volume))

# SPDX-License-Identifier: Apache-2.0
"""Numbers of the measured record, each as a function of the records that stand in the trace."""

import numpy as np

from tilewater.basis.findings import Finding
from tilewater.chain.monitor_water_parts import (
    flow_days_of,
    volume_bypassed,
    volume_treated,
)
from tilewater.monitoring.closure import closure_error_of, closure_error_of_range
from tilewater.monitoring.concentration import Nitrate, concentration_linear, nitrate_of
from tilewater.monitoring.load_draws import shares_of
from tilewater.monitoring.load_uncertainty import Drawn, MeasurementErrors, drawn_loads
from tilewater.monitoring.quality import (
    censored_share,
    duplicates_apart,
    gaps_found,
    outlet_above_inlet,
    samples_bear,
)
from tilewater.monitoring.removal_rate import limited_steps, removal_rate_of, retention_of
from tilewater.monitoring.series import DAY, Floats, Samples
from tilewater.monitoring.water_record import WaterRecord


def nitrate_ready(samples: Samples, substitute: float) -> Nitrate:
    """Samples of a place as they are used: duplicates averaged, limits put in.

    Parameters
    ----------
    samples : Samples
        As the laboratory gave them. [-]
    substitute : float
        Share of the detection limit for what is below it. [-]

    Returns
    -------
    Nitrate
        Ascending in time. [mg/L]

    Notes
    -----
    C = s DL below detection; C = mean of a sample and its duplicates    (practice)

    References
    ----------
    practice, half of the limit
    """
    return nitrate_of(samples, substitute)


def load_kept(bed_in_kg: float, bypass_kg: float) -> float:
    """Load that came to the site, by both ways.

    Parameters
    ----------
    bed_in_kg : float
        Into the practice. [kg]
    bypass_kg : float
        Past it. [kg]

    Returns
    -------
    float
        Load. [kg]

    Notes
    -----
    L = L_in + L_bypass    (derived)

    References
    ----------
    derived, a sum
    """
    return bed_in_kg + bypass_kg


def closed_by_main(total: float, treated: float, bypass: float) -> float:
    """How far the loads of both ways are from the load that came by the main.

    Parameters
    ----------
    total : float
        By the main. [kg]
    treated : float
        Into the practice. [kg]
    bypass : float
        Past it. [kg]

    Returns
    -------
    float
        Above zero where both ways carry more. [-]

    Notes
    -----
    e = (L_in + L_bypass) / L_total - 1    (derived)

    References
    ----------
    derived, a balance
    """
    return closure_error_of(total, treated, bypass)


def closed_by_main_range(total: float, treated: float, bypass: float) -> tuple[Finding, ...]:
    """Say where the loads do not close.

    Parameters
    ----------
    total : float
        By the main. [kg]
    treated : float
        Into the practice. [kg]
    bypass : float
        Past it. [kg]

    Returns
    -------
    tuple of Finding
    """
    return closure_error_of_range(total, treated, bypass)


def drawn_of(
    water: WaterRecord, inlet: Floats, removed: Floats, errors: MeasurementErrors, only: str
) -> Drawn:
    """Loads with every error in them, or with one of them alone.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]
    inlet : array
        Loads of the inlet as the samples leave them open. [kg]
    removed : array
        What was removed as the samples leave it open. [kg]
    errors : MeasurementErrors
        Standard errors. [-]
    only : str
        One error alone; "" for all.

    Returns
    -------
    Drawn
        See `monitoring.load_uncertainty.drawn_loads`. [kg]

    Notes
    -----
    L = f_lab f_Q (1 + z + g) X;  R = f_lab f_Q (1 + z + g) (X_in - X_out)    (harmel2006)

    References
    ----------
    harmel2006, errors combined, from memory
    """
    return drawn_loads(
        volumes_m3=(volume_treated(water), volume_bypassed(water)),
        inlet_draws=inlet,
        removed_draws=removed,
        treated=shares_of(water, water.treated, errors.flow_treated, errors.zero_m),
        bypass=shares_of(water, water.bypass, errors.flow_bypass, errors.zero_m),
        errors=errors,
        only=only,
    )


def percentile(draws: Drawn, member: str, share: float) -> float:
    """Value below which a share of the draws lies.

    Parameters
    ----------
    draws : Drawn
        Loads as they may have been. [kg]
    member : str
        Which of them.
    share : float
        Share below. [-]

    Returns
    -------
    float
        In the unit of what is asked. [-]

    Notes
    -----
    quantile of the draws    (derived)

    References
    ----------
    derived, a quantile
    """
    return float(np.quantile(getattr(draws, member), share))


def spread_alone(draws: Drawn) -> float:
    """Standard error of what was removed by one error alone.

    Parameters
    ----------
    draws : Drawn
        With that error alone. [kg]

    Returns
    -------
    float
        Half of the distance between the draws of one standard deviation on each side. [kg]

    Notes
    -----
    s = (q_0.841 - q_0.159) / 2    (derived)

    References
    ----------
    derived, a normal one has its standard deviation there
    """
    low, high = np.quantile(draws.removed_kg, (0.158655, 0.841345))
    return float(0.5 * (high - low))


def limited_days_of(water: WaterRecord, outlet: Nitrate) -> float:
    """Days on which nitrate ran out in the practice.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]
    outlet : Nitrate
        Samples of the outlet. [mg/L]

    Returns
    -------
    float
        Sum of the steps with flow and an outlet below 0.5 mg/L. [days]

    Notes
    -----
    t = sum of dt where C_out < 0.5 mg/L    (practice)

    References
    ----------
    practice, below it a rate falls with the nitrate that is left
    """
    short = limited_steps(water.treated.flow, concentration_linear(outlet, water.time_s))
    return float(water.step_s[short & water.known].sum()) / DAY


def limited_removed(water: WaterRecord, inlet: Nitrate, outlet: Nitrate, volume_m3: float) -> float:
    """Removal rate with the days left out on which nitrate ran out.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]
    inlet : Nitrate
        Samples of the inlet. [mg/L]
    outlet : Nitrate
        Samples of the outlet. [mg/L]
    volume_m3 : float
        Mean volume of media under water. [m3]

    Returns
    -------
    float
        Nitrogen per volume and day with nitrate left. [g/m3/day]

    Notes
    -----
    r = sum(Q (C_in - C_out) dt) / (V t), both where C_out >= 0.5 mg/L    (derived)

    References
    ----------
    derived, a mass over a volume and a time
    """
    came, left = (concentration_linear(each, water.time_s) for each in (inlet, outlet))
    flow = np.nan_to_num(water.treated.flow)
    counted = water.known & (flow > 0.0) & ~limited_steps(flow, left)
    removed = float(np.sum((flow * (came - left) * water.step_s)[counted])) / 1e3
    return removal_rate_of(removed, volume_m3, float(water.step_s[counted].sum()) / DAY)


def mean_retention(water: WaterRecord, volume_m3: float, porosity: float) -> float:
    """Time that water stays in the practice, at the mean flow while it flows.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]
    volume_m3 : float
        Mean volume of media under water. [m3]
    porosity : float
        Effective porosity. [-]

    Returns
    -------
    float
        Retention. [s]

    Notes
    -----
    t = n V / Q    (derived)

    References
    ----------
    derived, pore volume over flow
    """
    mean = volume_treated(water) / (flow_days_of(water) * DAY)
    return retention_of(porosity * volume_m3, mean)


def quality_of(
    water: WaterRecord, inlet: Samples, outlet: Samples, errors: MeasurementErrors
) -> tuple[Finding, ...]:
    """What a careful reader asks of the record.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]
    inlet : Samples
        Of the inlet. [mg/L]
    outlet : Samples
        Of the outlet. [mg/L]
    errors : MeasurementErrors
        Standard errors. [-]

    Returns
    -------
    tuple of Finding
    """
    ready = nitrate_of(inlet, 0.5), nitrate_of(outlet, 0.5)
    found = [*gaps_found(water), *outlet_above_inlet(*ready, errors.laboratory)]
    for each in (inlet, outlet):
        found += [*duplicates_apart(each), *censored_share(each)]
    found += samples_bear(ready[0], water)
    ways = [way for way in (water.treated, water.bypass) if way.at_least.any()]
    if ways:
        beyond = (
            "What came beyond is taken from the tail of the high flows that were read, with an "
            "error of 70 %."
            if all(way.beyond > 0.0 for way in ways)
            else "Loads are lower bounds: too few high flows were read to say what came beyond."
        )
        found.append(
            Finding(
                "monitor-at-least",
                "caution",
                "Loads",
                f"Some flow was at the end of what its logger reads. {beyond} Hang the sensor so "
                "that it cannot happen.",
                source="practice",
            )
        )
    return tuple(found)

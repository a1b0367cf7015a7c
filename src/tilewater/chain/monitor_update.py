# SPDX-License-Identifier: Apache-2.0
"""The range of the removal rate as a measured time would narrow it: shown, never written.

Days on which nitrate ran out are left out of the measured rate, for they tell the load that came;
and it is brought to the temperature that the range is stated at.
"""

import numpy as np

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.chain.monitor_steps import HERE, give
from tilewater.chain.updated import END_OF, PLACES
from tilewater.monitoring.load_uncertainty import Drawn
from tilewater.monitoring.series import Floats, Series
from tilewater.monitoring.water_record import WaterRecord
from tilewater.nitrate.kinetics import rate_at_temperature
from tilewater.nitrate.parameter_ranges import ParameterRange
from tilewater.nitrate.range_update import Measured, updated_range

SLUG = "removal-rate"
REFERENCE = 15.0
"""Temperature that the range of rates is stated at. [degC]"""
UPDATE = f"{HERE}.update"


def add_update(trace: Trace, temperature: Series | None) -> None:
    """Record the range of the removal rate after the measurement, and say what it did."""
    prior = _prior(trace)
    rate = f"{HERE}.rate.unlimited_g_per_m3_day"
    q10 = "inputs.media.q10"
    if prior is None or not trace.known(rate, q10, f"{HERE}.draws.all") or temperature is None:
        trace.findings.append(_not_updated(prior is None, temperature is None))
        return
    give(trace, "update.prior", prior, prior.unit, "Thought before: removal rate")
    warm = give(trace, "update.temperature", temperature, "degC", "Temperature as logged")
    reference = trace.constant(
        f"{UPDATE}.reference_c",
        REFERENCE,
        "Temperature of the range",
        unit="degC",
        source="practice",
    )
    trace.compute(
        f"{UPDATE}.measured",
        measured_rate,
        unit="g/m3/day",
        title="Removal rate as measured, at the temperature of the range",
        rate=rate,
        water=f"{HERE}.water",
        temperature=warm,
        q10=q10,
        reference=reference,
        draws=f"{HERE}.draws.all",
    )
    trace.compute(
        f"{UPDATE}.after",
        updated_range,
        unit="",
        title="After the measurement: removal rate",
        prior=f"{UPDATE}.prior",
        measured=f"{UPDATE}.measured",
    )
    for place in PLACES:
        trace.compute(
            f"{UPDATE}.posterior.{place}",
            END_OF[place],
            unit="g/m3/day",
            title=f"Removal rate after the measurement, {place}",
            parameter=f"{UPDATE}.after",
        )
    if trace.known(f"{UPDATE}.after"):
        trace.findings.append(_told(prior, trace.value(f"{UPDATE}.measured"), trace))


def _prior(trace: Trace) -> ParameterRange | None:
    """The range of the removal rate that the draws of the design were made from."""
    ranges = trace.value("days.ranges") if trace.known("days.ranges") else {}
    found: ParameterRange | None = ranges.get(SLUG)
    return found


def measured_rate(
    rate: float,
    water: WaterRecord,
    temperature: Series,
    q10: float,
    reference: float,
    draws: Drawn,
) -> Measured:
    """Removal rate as measured, brought to a temperature, with its error.

    Parameters
    ----------
    rate : float
        As measured, days on which nitrate ran out left out. [g/m3/day]
    water : WaterRecord
        Flows, whose time the temperature is the mean of. [m3/s]
    temperature : Series
        Of the water. [degC]
    q10 : float
        Factor of the rate for 10 degrees. [-]
    reference : float
        Temperature to bring it to. [degC]
    draws : Drawn
        Loads as they may have been. [kg]

    Returns
    -------
    Measured
        Rate, and its error as a share. [g/m3/day]

    Notes
    -----
    r = r_T q10^((T_ref - T)/10);  e = (P90 - P10) / (2.563 P50) of what was removed    (derived)

    References
    ----------
    derived, the error of the load taken for that of the rate
    """
    warm = _mean_while_flowing(water, temperature)
    low, middle, high = (float(q) for q in np.quantile(draws.removed_kg, (0.1, 0.5, 0.9)))
    error = (high - low) / (2.563 * max(middle, 1e-9))
    at = rate_at_temperature(rate, reference, q10=q10, reference=warm)
    return Measured(float(at), max(error, 0.01))


def _mean_while_flowing(water: WaterRecord, temperature: Series) -> float:
    good = ~np.isnan(temperature.value)
    warm: Floats = np.interp(water.time_s, temperature.time_s[good], temperature.value[good])
    flows = water.known & (np.nan_to_num(water.treated.flow) > 0.0)
    return float(warm[flows].mean())


def _told(prior: ParameterRange, measured: Measured, trace: Trace) -> Finding:
    low, middle, high = (float(trace.value(f"{UPDATE}.posterior.{place}")) for place in PLACES)
    return Finding(
        "monitor-update",
        "note",
        "Removal rate",
        f"Thought before {prior.low:.3g} to {prior.high:.3g}, measured {measured.value:.3g} with "
        f"an error of {measured.error:.0%}; it would be {low:.3g} to {high:.3g}, middle "
        f"{middle:.3g} "
        f"g/m3/day at {REFERENCE:.0f} C. Nothing is written: state it under [measured] as "
        "removal_rate and removal_rate_error if you stand for it.",
        middle,
        unit="g/m3/day",
        source="lindley1972",
    )


def _not_updated(no_range: bool, no_temperature: bool) -> Finding:
    lacks = "a range to narrow" if no_range else "the temperature of the water"
    lacks = lacks if no_range or no_temperature else "a rate while nitrate was left"
    return Finding(
        "monitor-not-updated",
        "caution",
        "Removal rate",
        f"The range of the removal rate is not narrowed: {lacks} is missing. It needs a design "
        "with its days, a logger of the temperature, and days on which nitrate was left.",
        source="practice",
    )

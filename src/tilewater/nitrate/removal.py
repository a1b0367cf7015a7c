# SPDX-License-Identifier: Apache-2.0
"""Nitrate in a load of water, and what a bed removes of it by published volumetric rates.

The rates differ tenfold between beds that look alike, so the result is a band of three, never one
number. Nothing rests on it that needs more than two significant figures.
"""

from dataclasses import dataclass

import numpy as np

from tilewater.basis.domain import Number, require_not_negative
from tilewater.basis.findings import Finding
from tilewater.basis.tables import Table, read_table
from tilewater.nitrate.kinetics import rate_at_temperature

PACKAGE = "tilewater.nitrate"
RATES_HOLD_AT = 15.0
"""Temperature of the default rates. [degC]"""
Q10_OF_BEDS = 2.15
"""Factor of the rate for each 10 degrees (addy2016, from memory). [-]"""


@dataclass(frozen=True)
class RemovalBand:
    """What a bed removes at the low, the middle and the high rate.

    Attributes
    ----------
    low, mid, high : float
        Nitrate nitrogen removed. [kg]
    rates_g_per_m3_day : tuple of three floats
        Rates at the temperature of the water. [g/m3/day]
    inflow_load : float
        Nitrate nitrogen that entered the bed. [kg]
    able : tuple of three floats
        What each rate could remove, were there nitrate enough. [kg]
    """

    low: float
    mid: float
    high: float
    rates_g_per_m3_day: tuple[float, float, float]
    inflow_load: float
    able: tuple[float, float, float]

    @property
    def limited(self) -> tuple[str, ...]:
        """Which of low, mid and high are held back by the nitrate there was."""
        names = ("low", "mid", "high")
        return tuple(n for n, able in zip(names, self.able, strict=True) if able > self.inflow_load)


def published_rates() -> Table:
    """Published volumetric removal rates, one row each with its source."""
    return read_table(PACKAGE, "volumetric_rates")


def default_rates() -> tuple[float, float, float]:
    """Low, middle and high removal rate at 15 degC where a job gives none.

    Returns
    -------
    tuple of three floats
        Rates per volume of wet media and flowing day. [g/m3/day]

    Notes
    -----
    2.5, 6 and 13 are a judgement of this project    (derived)

    References
    ----------
    derived, anchored on the table of published rates
    """
    table = read_table(PACKAGE, "practice_removal_rates")
    low, mid, high = (table.row(slug).number("rate") for slug in ("low", "mid", "high"))
    return low, mid, high


def nitrate_load(volume: Number, nitrate_mg_per_l: Number) -> Number:
    """Mass of nitrate nitrogen in a volume of water.

    Parameters
    ----------
    volume : float or array
        Volume of water, as flow times time or depth times area. [m3]
    nitrate_mg_per_l : float or array
        Nitrate, flow-weighted, as N. [mg/L]

    Returns
    -------
    float or array
        Mass as N. [kg]

    Raises
    ------
    OutOfDomain
        If a value is negative.

    Notes
    -----
    L = V C / 1000    (derived)

    References
    ----------
    derived, conservation of mass
    """
    require_not_negative("volume", volume, "m3", "Give the volume of water")
    require_not_negative("nitrate_mg_per_l", nitrate_mg_per_l, "mg/L", "Use 0 for a trace")
    return volume * nitrate_mg_per_l / 1000.0


def nitrate_removed_volumetric(
    rate_g_per_m3_day: Number, wet_volume: Number, flow_days: Number, *, inflow_load: Number
) -> Number:
    """Mass of nitrate nitrogen removed at a constant rate, no more than came in.

    Parameters
    ----------
    rate_g_per_m3_day : float or array
        Rate at the temperature of the water, per volume of wet media. [g/m3/day]
    wet_volume : float or array
        Media under water. [m3]
    flow_days : float or array
        Days with flow. [days]
    inflow_load : float or array
        Nitrate nitrogen that entered the bed in those days. [kg]

    Returns
    -------
    float or array
        Mass removed as N. [kg]

    Raises
    ------
    OutOfDomain
        If a value is negative.

    Notes
    -----
    M = r V t / 1000, or the whole inflow where that is less    (schipper2010)

    References
    ----------
    schipper2010, rates per volume of bed
    """
    require_not_negative("rate_g_per_m3_day", rate_g_per_m3_day, "g/m3/day", "Removal counts up")
    require_not_negative("wet_volume", wet_volume, "m3", "Give the media under water")
    require_not_negative("flow_days", flow_days, "days", "Give the days with flow")
    require_not_negative("inflow_load", inflow_load, "kg", "Give the load into the bed")
    able = rate_g_per_m3_day * wet_volume * flow_days / 1000.0
    return np.minimum(able, inflow_load)[()]


def removal_band(
    wet_volume: float,
    flow_days: float,
    *,
    temperature: float,
    inflow_load: float,
    rates_g_per_m3_day: tuple[float, float, float] | None = None,
    q10: float = Q10_OF_BEDS,
) -> RemovalBand:
    """What a bed removes at the low, the middle and the high published rate.

    Parameters
    ----------
    wet_volume : float
        Media under water. [m3]
    flow_days : float
        Days with flow. [days]
    temperature : float
        Temperature of the water, weighted by load. [degC]
    inflow_load : float
        Nitrate nitrogen that entered the bed in those days. [kg]
    rates_g_per_m3_day : tuple of three floats, optional
        Low, middle and high rate at 15 degC; None for those of `default_rates`. [g/m3/day]
    q10 : float
        Factor of the rate for each 10 degrees. [-]

    Returns
    -------
    RemovalBand
        Masses, the rates they rest on, and which are held back by the nitrate there was.

    Raises
    ------
    OutOfDomain
        If a value is negative.

    Notes
    -----
    M = r15 Q10^((T - 15) / 10) V t / 1000, no more than the inflow    (schipper2010)

    References
    ----------
    schipper2010, rates per volume of bed
    addy2016, temperature
    derived, default rates
    """
    at_15 = default_rates() if rates_g_per_m3_day is None else rates_g_per_m3_day
    factor = float(rate_at_temperature(1.0, temperature, q10=q10, reference=RATES_HOLD_AT))
    low, mid, high = rates = tuple(rate * factor for rate in at_15)
    removed = tuple(
        float(nitrate_removed_volumetric(rate, wet_volume, flow_days, inflow_load=inflow_load))
        for rate in rates
    )
    able_low, able_mid, able_high = (rate * wet_volume * flow_days / 1000.0 for rate in rates)
    return RemovalBand(
        low=removed[0],
        mid=removed[1],
        high=removed[2],
        rates_g_per_m3_day=(low, mid, high),
        inflow_load=inflow_load,
        able=(able_low, able_mid, able_high),
    )


def removal_band_range(band: RemovalBand) -> tuple[Finding, ...]:
    """Findings where a bed could remove more nitrate than there was.

    Parameters
    ----------
    band : RemovalBand
        What `removal_band` returned.

    Returns
    -------
    tuple of Finding
        Empty when nitrate never ran out.
    """
    if not band.limited:
        return ()
    message = (
        f"At the {' and '.join(band.limited)} rate the bed could remove more than the "
        f"{band.inflow_load:.3g} kg that enter it. Nitrate should not run out: then sulfide and "
        f"methane follow. Lower the outlet boards at low flow, or take a smaller bed."
    )
    return (
        Finding(
            "nitrate-runs-out",
            "caution",
            "nitrate into the bed",
            message,
            band.inflow_load,
            ">=",
            min(able for able in band.able if able > band.inflow_load),
            "kg",
            "schipper2010",
        ),
    )

# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: what else the practice does, counted from the routed days.

Days with nitrate used up and days on which sulfide can form, by the season whose boards would be
lowered; for a bed also nitrous oxide by published shares, and the flush of new chips.
"""

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.nitrate import side_effects as effects
from tilewater.practices.bed.route import RoutedRun

HERE = "side_effects"
MANY = 10.0
"""Days of a year from which the boards are advised to be lowered, judgement. [days]"""
BED = "start_up.pore_volume_m3"
"""A key that only a bed has."""
PHOSPHORUS = {"low": 0.298, "high": 0.891}
"""Released in the first year, per m3 of chips and day of flow (plauborg2023). [g/m3/day]"""


def add_side_effects(trace: Trace) -> None:
    """Record the counts under `side_effects.`, where the days were routed."""
    if not trace.known("days.run", "days.setting"):
        return
    trace.constant(
        f"{HERE}.least_mg_per_l",
        effects.USED_UP,
        "Nitrate below which it is used up",
        unit="mg/L",
        source="practice",
    )
    for name, part, unit in (
        ("flow_m3_s", flow_of, "m3/s"),
        ("outlet_mg_per_l", outlet_of, "mg/L"),
        ("retention_days", retention_of, "days"),
        ("removed_kg", removed_of, "kg"),
    ):
        title = f"{name.partition('_')[0].capitalize()} by the day, middle of every range"
        trace.compute(f"{HERE}.days.{name}", part, unit=unit, title=title, run="days.run")
    _add_days(trace)
    _add_seasons(trace)
    if BED in trace:
        _add_nitrous_oxide(trace)
        _add_flush(trace)
    _tell(trace)


def _add_days(trace: Trace) -> None:
    trace.compute(
        f"{HERE}.days.used_up",
        effects.days_used_up,
        unit="",
        title="Days on which nitrate is used up",
        flow=f"{HERE}.days.flow_m3_s",
        outlet_nitrate_mg_per_l=f"{HERE}.days.outlet_mg_per_l",
        least_mg_per_l=f"{HERE}.least_mg_per_l",
    )
    longest = "start_up.longest_s"
    if longest not in trace:
        longest = trace.constant(
            f"{HERE}.longest_s",
            1.7 * 86400.0,
            "Time that was enough for sulfide to form",
            unit="s",
            source="sulfide-woodchips",
        )
    trace.compute(
        f"{HERE}.days.sulfide",
        effects.days_of_sulfide,
        unit="",
        title="Days on which sulfide can form",
        used_up=f"{HERE}.days.used_up",
        retention_days=f"{HERE}.days.retention_days",
        longest=longest,
    )
    for name, words in (("used_up", "nitrate is used up"), ("sulfide", "sulfide can form")):
        trace.compute(
            f"{HERE}.{name}_days",
            effects.days_in_a_year,
            unit="days",
            title=f"Days of a year on which {words}",
            days=f"{HERE}.days.{name}",
        )


def _add_seasons(trace: Trace) -> None:
    for number, season in enumerate(trace.names("inputs.season"), 1):
        which = trace.constant(
            f"{HERE}.season.{season}.setting",
            float(number),
            f"Number of the {season} setting",
            source="derived",
        )
        trace.compute(
            f"{HERE}.season.{season}.used_up_days",
            days_of_setting,
            unit="days",
            title=f"Days of a year on which nitrate is used up, {season}",
            days=f"{HERE}.days.used_up",
            setting="days.setting",
            number=which,
        )


def _add_nitrous_oxide(trace: Trace) -> None:
    for place in effects.PLACES:
        which = trace.constant(
            f"{HERE}.nitrous_oxide.{place}", place, "Which published share", source="derived"
        )
        trace.compute(
            f"{HERE}.nitrous_oxide_kg.{place}",
            effects.nitrous_oxide,
            unit="kg",
            title=f"Nitrogen as nitrous oxide in a mean year, {place} published share",
            removed_kg=f"{HERE}.days.removed_kg",
            retention_days=f"{HERE}.days.retention_days",
            place=which,
        )


def _add_flush(trace: Trace) -> None:
    trace.compute(
        f"{HERE}.flush_m3",
        flush_volume,
        unit="m3",
        title="Brown water of the first flush, to the last board of the start-up",
        pore_volume=BED,
        pore_volumes="start_up.last",
    )
    trace.compute(
        f"{HERE}.flush_share",
        flush_share,
        unit="-",
        title="First flush over the water that a mean year sends through",
        flush=f"{HERE}.flush_m3",
        flow=f"{HERE}.days.flow_m3_s",
    )
    for place, rate in PHOSPHORUS.items():
        released = trace.constant(
            f"{HERE}.phosphorus.{place}_g_per_m3_day",
            rate,
            f"Phosphorus released in the first year, {place}",
            unit="g/m3/day",
            source="plauborg2023",
        )
        trace.compute(
            f"{HERE}.phosphorus_kg.{place}",
            phosphorus_of_first_year,
            unit="kg",
            title=f"Phosphorus released in the first year, {place} published rate",
            rate_g_per_m3_day=released,
            volume="bed.media_volume_m3",
            flow=f"{HERE}.days.flow_m3_s",
        )


def _tell(trace: Trace) -> None:
    if not trace.known(f"{HERE}.used_up_days"):
        return
    used, sulfide = (float(trace.value(f"{HERE}.{n}_days")) for n in ("used_up", "sulfide"))
    by_season = {
        season: float(trace.value(f"{HERE}.season.{season}.used_up_days"))
        for season in trace.names(f"{HERE}.season")
    }
    worst = max(by_season, key=lambda season: by_season[season], default="")
    if BED not in trace:
        _tell_buffer(trace, used)
        return
    many = used > MANY
    lower = ""
    if many and worst and by_season[worst] > 0:
        lower = (
            f" Most of them in {worst}, {by_season[worst]:.0f} days: lower the outlet boards then, "
            "so that water stays shorter, and keep the bypass boards for high flow."
        )
    trace.findings.append(
        Finding(
            "nitrate-used-up",
            "caution" if many else "note",
            "Low flow",
            f"On {used:.0f} days of a year less than {effects.USED_UP:g} mg/L is left at the "
            f"outlet; on {sulfide:.0f} of them the water stays 1.7 days or longer, and sulfide can "
            f"form.{lower}",
            value=used,
            operator="<=",
            limit=MANY,
            unit="days",
            source="sulfide-woodchips",
        )
    )


def _tell_buffer(trace: Trace, used: float) -> None:
    trace.findings.append(
        Finding(
            "nitrate-used-up-in-soil",
            "note",
            "Low flow",
            f"On {used:.0f} days of a year all but {effects.USED_UP:g} mg/L of the nitrate that "
            "enters the soil is taken up before the ditch, as it is meant to be; water that waits "
            "longer still may smell of sulfide where it seeps out.",
            value=used,
            unit="days",
            source="practice",
        )
    )


def flow_of(run: RoutedRun) -> effects.Array:
    """Flow through the practice by the day.

    Parameters
    ----------
    run : RoutedRun
        Every day at the middle of every range. [-]

    Returns
    -------
    array
        Flow. [m3/s]
    """
    return run.bed_flow


def outlet_of(run: RoutedRun) -> effects.Array:
    """Nitrate out of the practice by the day.

    Parameters
    ----------
    run : RoutedRun
        Every day at the middle of every range. [-]

    Returns
    -------
    array
        Nitrate, as N. [mg/L]
    """
    return run.outlet_nitrate_mg_per_l


def retention_of(run: RoutedRun) -> effects.Array:
    """Time in the practice by the day.

    Parameters
    ----------
    run : RoutedRun
        Every day at the middle of every range. [-]

    Returns
    -------
    array
        Time. [days]
    """
    return run.retention_days


def removed_of(run: RoutedRun) -> effects.Array:
    """Nitrate nitrogen removed by the day.

    Parameters
    ----------
    run : RoutedRun
        Every day at the middle of every range. [-]

    Returns
    -------
    array
        Removed. [kg]
    """
    return run.removed_kg


def days_of_setting(days: effects.Truths, setting: NDArray[np.int64], number: float) -> float:
    """Days of a kind in a mean year, of those with one setting of the boards.

    Parameters
    ----------
    days : array of bool
        By the day of the record. [-]
    setting : array of int
        Setting of each day. [-]
    number : float
        Which. [-]

    Returns
    -------
    float
        In a year of 365.25 days. [days]

    Notes
    -----
    n = 365.25 n(true and that setting) / n    (derived)

    References
    ----------
    derived, a count
    """
    return effects.days_in_a_year(days & (setting == int(number)))


def flush_volume(pore_volume: float, pore_volumes: float) -> float:
    """Water of the first flush of new chips.

    Parameters
    ----------
    pore_volume : float
        Water in the pores. [m3]
    pore_volumes : float
        Until it runs clear enough. [-]

    Returns
    -------
    float
        Water. [m3]

    Notes
    -----
    V = n V_pores    (practice)

    References
    ----------
    practice, three to ten pore volumes
    """
    return pore_volume * pore_volumes


def flush_share(flush: float, flow: effects.Array) -> float:
    """First flush over the water of a mean year.

    Parameters
    ----------
    flush : float
        Water of the first flush. [m3]
    flow : array
        Through the bed by the day. [m3/s]

    Returns
    -------
    float
        Ratio; 0 where no water goes through. [-]

    Notes
    -----
    V_flush / (365.25 days mean Q)    (derived)

    References
    ----------
    derived, a ratio of volumes
    """
    year = effects.YEAR_DAYS * 86400.0 * float(flow.mean())
    return flush / year if year > 0.0 else 0.0


def phosphorus_of_first_year(rate_g_per_m3_day: float, volume: float, flow: effects.Array) -> float:
    """Phosphorus that new chips release in their first year.

    Parameters
    ----------
    rate_g_per_m3_day : float
        Per volume of chips and day with flow. [g/m3/day]
    volume : float
        Chips. [m3]
    flow : array
        Through the bed by the day. [m3/s]

    Returns
    -------
    float
        Phosphorus. [kg]

    Notes
    -----
    P = r V n(days with flow) / 1000    (plauborg2023)

    References
    ----------
    plauborg2023, first year of five Danish beds
    """
    return rate_g_per_m3_day * volume * effects.days_in_a_year(np.asarray(flow > 0.0)) / 1e3

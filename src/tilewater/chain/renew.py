# SPDX-License-Identifier: Apache-2.0
"""Steps of a renewal, added onto a finished design: two clocks, readings, signs, what is left.

The clock of permeability ends where the chain's own capacity no longer meets the criterion. Heads
and flows that were read move the draws of the decline. What can be done about it is in
`renew_options`; all of it stands under `renew.` in the trace.
"""

from tilewater.basis.trace import Given, Trace, argument_name
from tilewater.basis.unknown import Unknown
from tilewater.chain import renew_bed, renew_days, renew_parts
from tilewater.chain.renew_carbon import AGE, add_carbon, is_given
from tilewater.monitoring import renewal
from tilewater.nitrate.parameter_ranges import draws_of_ranges
from tilewater.practices.bed import capacity
from tilewater.practices.bed.settings import DESIGN
from tilewater.practices.bed.system import bed_flow_at_diversion
from tilewater.practices.bed.system_steps import path_key

NEEDED = "renew.needed_conductivity_m_s"
CURVE, SEEN = "renew.decline_by_curve", "renew.decline"
LIFE = "renew.life"
LOGGED = "renew.observed.loggers-{}"
SHARES = {"p10": 0.1, "p50": 0.5, "p90": 0.9}
MARKS = (0.0, 5.0, 10.0, 15.0, 20.0)
"""Ages at which capacity is shown. [years]"""
DRAWS, SEED = 1024, 1


def add_renewal(trace: Trace, day: str) -> None:
    """Record everything of a renewal that the bed and its readings tell on a day.

    Parameters
    ----------
    trace : Trace
        Of a finished design with a bed. [-]
    day : str
        The day, year-month-day. [-]
    """
    trace.constant("renew.day", day, "Day that is asked for", source="derived")
    _add_age(trace)
    _add_needed(trace)
    _add_decline(trace)
    _add_readings(trace)
    _add_life(trace)
    _add_capacity(trace)
    add_carbon(trace)


def _unknown(trace: Trace, key: str, title: str, unit: str, why: str, how: str) -> None:
    trace.give(Given(key, Unknown(why, how, (key,)), unit, title))


def _add_age(trace: Trace) -> None:
    filled, title = "inputs.renew.filled", "Age of the chips"
    if not is_given(trace, filled):
        how = "write filled under [renew] of the job"
        _unknown(trace, AGE, title, "years", "the day the chips were placed is not given", how)
        return
    trace.compute(
        AGE,
        renew_days.years_between,
        unit="years",
        title=title,
        first=filled,
        second="renew.day",
    )


def _add_needed(trace: Trace) -> None:
    trace.compute(
        NEEDED,
        renew_bed.conductivity_needed,
        unit="m/s",
        title="Conductivity below which the bed no longer takes its share of the peak",
        task="life.task",
        peak="drain_flow.peak_for_share_m3_s",
        share="sizing.share_limit",
    )


def _add_decline(trace: Trace) -> None:
    """Draws of the decline before any reading: those of the design's days, or their like."""
    drawn = "days.drawn"
    if drawn not in trace or not trace.known(drawn):
        drawn = "renew.drawn"
        trace.compute(
            "renew.ranges",
            renew_bed.renewal_ranges,
            unit="",
            title="Ranges of the conductivity, about what the job states",
            conductivity_new="inputs.media.conductivity_new_m_s",
            conductivity_aged="inputs.media.conductivity_aged_m_s",
        )
        trace.constant("renew.draw_count", DRAWS, "Draws", source="derived")
        trace.constant("renew.seed", SEED, "Seed of the draws", source="derived")
        trace.compute(
            drawn,
            draws_of_ranges,
            unit="",
            title="Values drawn from the ranges",
            ranges="renew.ranges",
            count="renew.draw_count",
            seed="renew.seed",
        )
    trace.compute(
        CURVE,
        renew_bed.decline_drawn,
        unit="",
        title="Decline of the conductivity, before readings",
        drawn=drawn,
        aged_years="inputs.media.aged_years",
    )


def _add_readings(trace: Trace) -> None:
    """Record the conductivity that each reading shows, and what they make of the decline."""
    kept: list[str] = []
    for name in trace.names("inputs.observed"):
        given, here = f"inputs.observed.{name}", f"renew.observed.{name}"
        if not is_given(trace, f"{given}.date") or not is_given(trace, "inputs.renew.filled"):
            continue
        if str(trace.value(f"{given}.date")) > str(trace.value("renew.day")):
            continue  # on that day nobody knew it
        trace.compute(
            f"{here}.age_years",
            renew_days.years_between,
            unit="years",
            title=f"Age of the chips at the reading {name}",
            first="inputs.renew.filled",
            second=f"{given}.date",
        )
        trace.compute(
            f"{here}.conductivity_m_s",
            renew_bed.conductivity_observed,
            unit="m/s",
            title=f"Conductivity that the reading {name} shows, at 20 degC",
            flow=f"{given}.flow_m3_s",
            head_loss=f"{given}.head_loss_m",
            temperature=f"{given}.water_temperature_c",
            task="life.task",
            path=path_key(setting_of(trace, str(trace.value(f"{given}.date")))),
        )
        trace.compute(
            f"{here}.by_curve_m_s",
            renew_bed.conductivity_by_draws,
            unit="m/s",
            title="What the curve says of that day, middle",
            decline=CURVE,
            age=f"{here}.age_years",
        )
        if trace.known(f"{here}.conductivity_m_s"):
            kept.append(name)
    kept += _add_logged(trace)
    kept.sort(key=lambda name: float(trace.value(f"renew.observed.{name}.age_years")))
    for key, field, unit, title in (
        ("renew.reading_ages", "age_years", "years", "Ages of the readings"),
        ("renew.readings", "conductivity_m_s", "m/s", "Conductivities of the readings"),
    ):
        members = {argument_name(name): f"renew.observed.{name}.{field}" for name in kept}
        trace.compute(key, renew_parts.numbers_of, unit=unit, title=title, **members)
    trace.compute(
        SEEN,
        renewal.decline_after_readings,
        unit="",
        title="Decline of the conductivity, readings taken in",
        decline=CURVE,
        ages_years="renew.reading_ages",
        readings="renew.readings",
        error="inputs.renew.observation_error",
    )


def _add_logged(trace: Trace) -> list[str]:
    """Record both ends of the trend that loggers show, where a report worked it out before."""
    days, trend = "monitor.index.days", "monitor.index.trend"
    if trend not in trace or not trace.known(days, trend, AGE):
        return []
    for name, when, what in (
        ("loggers-first", renew_days.first_of_days, renew_days.trend_at_first),
        ("loggers-last", renew_days.last_of_days, renew_days.trend_at_last),
    ):
        here = f"renew.observed.{name}"
        title = f"{'Begin' if 'first' in name else 'End'} of the loggers' record"
        trace.compute(f"{here}.time_s", when, unit="s", title=title, days=days)
        trace.compute(
            f"{here}.age_years",
            renew_days.age_at,
            unit="years",
            title=f"Age of the chips at the {title.lower()}",
            time_s=f"{here}.time_s",
            filled="inputs.renew.filled",
        )
        trace.compute(
            f"{here}.conductivity_m_s",
            what,
            unit="m/s",
            title=f"Conductivity at the {title.lower()}, at 20 degC",
            trend=trend,
        )
        trace.compute(
            f"{here}.by_curve_m_s",
            renew_bed.conductivity_by_draws,
            unit="m/s",
            title="What the curve says of that day, middle",
            decline=CURVE,
            age=f"{here}.age_years",
        )
    ages = [float(trace.value(f"{LOGGED.format(end)}.age_years")) for end in ("first", "last")]
    is_within = 0.0 <= ages[0] and ages[1] <= float(trace.value(AGE))
    return [LOGGED.format(end).rpartition(".")[2] for end in ("first", "last")] if is_within else []


def setting_of(trace: Trace, day: str) -> str:
    """The season of a day, whose boards stood then; the design setting where none holds it."""
    month_day = day[5:]
    for season in trace.names("inputs.season"):
        given = f"inputs.season.{season}"
        if not trace.known(f"{given}.from", f"{given}.to"):
            continue
        first, last = str(trace.value(f"{given}.from")), str(trace.value(f"{given}.to"))
        inside = first <= month_day <= last
        if inside or (first > last and (month_day >= first or month_day <= last)):
            return season if path_key(season) in trace else DESIGN
    return DESIGN


def _add_life(trace: Trace) -> None:
    """Record the age at the end with its band, by the curve and with readings, and what is left."""
    for here, decline, words in (
        (LIFE, SEEN, ""),
        (f"{LIFE}.by_curve", CURVE, ", before readings"),
    ):
        trace.compute(
            f"{here}.ages",
            renewal.ages_at_conductivity,
            unit="years",
            title=f"Age at which each draw falls short{words}",
            decline=decline,
            conductivity=NEEDED,
        )
        for name, share in SHARES.items():
            trace.compute(
                f"{here}.{name}_years",
                renewal.quantile_of_ages,
                unit="years",
                title=f"Expected hydraulic life, {name}{words}",
                ages=f"{here}.ages",
                share=share_key(trace, name, share),
            )
    for name in SHARES:
        trace.compute(
            f"{LIFE}.left_{name}_years",
            renewal.years_left,
            unit="years",
            title=f"Years left, {name}",
            age_at_end=f"{LIFE}.{name}_years",
            age_now=AGE,
        )
    trace.compute(
        f"{LIFE}.share_past",
        renewal.share_past,
        unit="-",
        title="Share of the draws whose end has passed",
        ages=f"{LIFE}.ages",
        age_now=AGE,
    )


def share_key(trace: Trace, name: str, share: float) -> str:
    """Key of a share of draws.

    Parameters
    ----------
    trace : Trace
        That takes it where it is not there yet. [-]
    name : str
        Such as p10. [-]
    share : float
        From 0 to 1. [-]

    Returns
    -------
    str
    """
    key = f"renew.shares.{name}"
    if key not in trace:
        trace.constant(key, share, "Share of the draws", unit="-", source="derived")
    return key


def _add_capacity(trace: Trace) -> None:
    """Record capacity and share of the peak by age, by the chain, with readings and without."""
    places = [(f"year-{mark:.0f}", mark) for mark in MARKS]
    if trace.known(AGE):
        places.append(("now", float(trace.value(AGE))))
    for place, age in places:
        for way, decline in (("by_curve", CURVE), ("with_readings", SEEN)):
            add_capacity_at(trace, f"renew.capacity.{place}.{way}", decline, age)


def add_capacity_at(trace: Trace, here: str, decline: str, age: float) -> None:
    """Record what the bed lets through at an age: conductivity, flow and share of the peak.

    Parameters
    ----------
    trace : Trace
        Of the renewal. [-]
    here : str
        Group of the keys. [-]
    decline : str
        Key of the decline. [-]
    age : float
        Of the chips. [years]
    """
    trace.constant(f"{here}.age_years", age, "Age of the chips", unit="years", source="derived")
    add_capacity_of_age(trace, here, decline, f"at {age:.1f} years")


def add_capacity_of_age(trace: Trace, here: str, decline: str, words: str) -> None:
    """Record the same for an age that is recorded."""
    trace.compute(
        f"{here}.conductivity_m_s",
        renew_bed.conductivity_by_draws,
        unit="m/s",
        title=f"Conductivity {words}, middle",
        decline=decline,
        age=f"{here}.age_years",
    )
    add_flow_of(trace, here, words)


def add_flow_of(trace: Trace, here: str, words: str) -> None:
    """Record flow and share of a conductivity that is recorded."""
    trace.compute(
        f"{here}.media",
        renew_bed.media_like,
        unit="",
        title=f"Media {words}",
        conductivity=f"{here}.conductivity_m_s",
        ward_coefficient="inputs.media.ward_coefficient",
    )
    trace.compute(
        f"{here}.flow_m3_s",
        bed_flow_at_diversion,
        unit="m3/s",
        title=f"Flow through the bed {words}, water of 20 degC at the crest",
        level=f"boards.inlet-{DESIGN}.crest_m",
        tailwater="system.free_m",
        path=path_key(),
        shape="bed.shape",
        media=f"{here}.media",
    )
    trace.compute(
        f"{here}.share_of_peak",
        capacity.share_of_flow,
        unit="-",
        title=f"Share of the peak {words}",
        flow=f"{here}.flow_m3_s",
        peak="drain_flow.peak_for_share_m3_s",
    )

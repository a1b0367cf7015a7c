# SPDX-License-Identifier: Apache-2.0
"""Steps that plan the first weeks of a new bed, by season and from day to day."""

from tilewater.basis.findings import Finding
from tilewater.basis.told import cfs
from tilewater.basis.trace import Trace, argument_name
from tilewater.basis.unknown import is_unknown
from tilewater.practices.bed import start_up
from tilewater.practices.bed.settings import DESIGN

YEAR = "year"
"""Stands for the seasons in a job that has none."""


def add_start_up(trace: Trace) -> None:
    """Record how often each season's flow flushes the bed, and the boards of the first weeks."""
    constant = trace.constant
    constant("start_up.first", 3.0, "Pore volumes before the first board", source="practice")
    constant("start_up.last", 10.0, "Pore volumes before the last board", source="practice")
    constant(
        "start_up.longest_s",
        1.7 * start_up.DAY,
        "Time in the bed that was enough for sulfide to form",
        unit="s",
        source="sulfide-woodchips",
    )
    trace.compute(
        "start_up.pore_volume_m3",
        start_up.pore_volume,
        unit="m3",
        title="Water in the pores of the whole bed",
        volume="bed.media_volume_m3",
        porosity="inputs.media.porosity_effective",
    )
    trace.compute(
        "start_up.least_m3_s",
        start_up.least_flow,
        unit="m3/s",
        title="Flow below which a full bed holds the water long enough for sulfide",
        volume="start_up.pore_volume_m3",
        longest="start_up.longest_s",
    )
    seasons = trace.names("inputs.season") or (YEAR,)
    for season in seasons:
        _add_season(trace, season)
    trace.compute(
        "start_up.season",
        start_up.season_of_most_flushing,
        unit="",
        title="Season that flushes a new bed fastest",
        **{argument_name(s): f"start_up.seasons.{s}.pore_volumes_per_day" for s in seasons},
    )
    _add_plan(trace)
    _tell(trace)


def _add_season(trace: Trace, season: str) -> None:
    here, compute = f"start_up.seasons.{season}", trace.compute
    own = f"inputs.season.{season}.drain_flow_m3_s"
    compute(
        f"{here}.flow_m3_s",
        start_up.flow_through,
        unit="m3/s",
        title=f"Flow through the new bed, {season}",
        drain_flow=own if own in trace else "drain_flow.mean_flow_m3_s",
        capacity="capacity.new.flow_m3_s",
    )
    compute(
        f"{here}.pore_volumes_per_day",
        start_up.pore_volumes_per_day,
        unit="1/day",
        title=f"Pore volumes in a day, {season}",
        flow=f"{here}.flow_m3_s",
        volume="start_up.pore_volume_m3",
    )
    for name in ("first", "last"):
        compute(
            f"{here}.days_{name}",
            start_up.days_to_flush,
            unit="days",
            title=f"Days until the {name} board, {season}",
            pore_volumes=f"start_up.{name}",
            per_day=f"{here}.pore_volumes_per_day",
        )


def _add_plan(trace: Trace) -> None:
    best = "start_up.season"
    if not trace.known(best):
        rate = best
    else:
        rate = f"start_up.seasons.{trace.value(best)}.pore_volumes_per_day"
    trace.compute(
        "start_up.settings",
        start_up.start_up_steps,
        unit="",
        title="Boards of the first weeks",
        inlet_stack=f"boards.inlet-{DESIGN}.stack_m",
        outlet_stack=f"boards.outlet-{DESIGN}.stack_m",
        per_day=rate,
        pore_volumes_first="start_up.first",
        pore_volumes_last="start_up.last",
        pace="emptying.pace_s",
    )
    settings = trace.value("start_up.settings")
    for number in range(1, 1 + (0 if is_unknown(settings) else len(settings))):
        here = f"start_up.plan.setting-{number}"
        which = trace.constant(
            f"{here}.number", float(number), "Which setting", unit="-", source="derived"
        )
        for name, function, words in (
            ("from_day", start_up.step_begins, "First"),
            ("to_day", start_up.step_ends, "Last"),
        ):
            trace.compute(
                f"{here}.{name}",
                function,
                unit="days",
                title=f"{words} day of setting {number} of the first weeks",
                steps="start_up.settings",
                number=which,
            )


def slow_seasons(trace: Trace) -> tuple[str, ...]:
    """Seasons whose flow leaves the water in a full bed long enough for sulfide."""
    here, least = "start_up.seasons", "start_up.least_m3_s"
    return tuple(
        season
        for season in trace.names(here)
        if trace.known(f"{here}.{season}.flow_m3_s", least)
        and trace.value(f"{here}.{season}.flow_m3_s") < trace.value(least)
    )


def _tell(trace: Trace) -> None:
    trace.findings.append(
        Finding(
            "start-up-water",
            "note",
            "Start-up",
            "The first water of new chips is brown and has no oxygen: tens to hundreds of mg/L of "
            "dissolved carbon, under 10 to 20 after weeks (remembered). Five Danish beds let go "
            "298 to 891 mg of phosphorus per m3 and day in their first year and 12 to 77 in their "
            "second.",
            source="plauborg2023",
        )
    )
    slow = slow_seasons(trace)
    if slow and trace.known("start_up.least_m3_s"):
        least = float(trace.value("start_up.least_m3_s"))
        trace.findings.append(
            Finding(
                "start-up-slow",
                "caution",
                "Start-up",
                f"Do not start the bed in {' or '.join(slow)}: the drains run below "
                f"{cfs(least)}, and water that stays 1.7 days was enough for sulfide "
                "to form in woodchips once the nitrate was below 3 mg/L.",
                source="sulfide-woodchips",
            )
        )

# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: whole years of board settings, each led through every day and every draw.

A row is one way to run the boards: as the search found it, set once, as the seasons of the job have
them, or none at all. All rows take the same days and the same draws, so that what lies between two
of them is that of the boards alone.
"""

from collections.abc import Iterable

from tilewater.basis.trace import Trace, argument_name
from tilewater.chain import operate_days as days
from tilewater.chain import operate_settings as settings
from tilewater.chain import water_field as field
from tilewater.chain.areas import AREA_ABOVE
from tilewater.chain.days_sums import QUANTILES
from tilewater.chain.nitrate_days import nitrate_key
from tilewater.chain.operate_choices import Choice
from tilewater.chain.operate_years import (
    heights_by_day,
    setting_of_days,
    usual_run,
    wet_days_a_year,
)
from tilewater.nitrate.side_effects import days_in_a_year
from tilewater.practices.bed import year_sums
from tilewater.practices.bed.route import day_series, route_by_year, route_days
from tilewater.practices.buffer.day_steps import boards_by_setting
from tilewater.practices.buffer.route import route_buffer_by_year, route_buffer_days
from tilewater.practices.raised import draws, kept

ROWS = f"{settings.HERE}.row"
SET_ONCE, SEASONS, OUT = "set-once", "seasons", "out"
RAISED_DRAWS = 64
"""Draws of a raised outlet; each costs two runs of the field for every row."""


def add_row(trace: Trace, practice: str, name: str, words: str) -> None:
    """Record what the schedule under `operate.row.NAME.schedule` does, by day and by draw."""
    here = f"{ROWS}.{name}"
    schedule = trace.value(f"{here}.schedule")
    used = [trace.value(settings.CHOICES)[i] for i in sorted(set(schedule.choices))]
    works = {argument_name(c.name): f"{settings.HERE}.works.{c.name}" for c in used}
    if practice == "raised":
        _add_raised(trace, here, used, words)
    else:
        _add_routed(trace, practice, here, works, words)
    for percentile in QUANTILES:
        for quantity in ("removed_kg", "mean_removed_kg", "treated_share"):
            _add_quantile(trace, here, quantity, percentile, words)


def _add_quantile(trace: Trace, here: str, quantity: str, percentile: str, words: str) -> None:
    values = f"{here}.all_{quantity}"
    if values not in trace:
        return
    trace.compute(
        f"{here}.{quantity}.{percentile}",
        year_sums.quantile_of,
        unit="kg" if quantity.endswith("_kg") else "-",
        title=f"{trace.steps[values].title.rpartition(',')[0]}, {percentile}, {words}",
        values=values,
        share=f"days.share_{percentile}",
    )


def _add_routed(trace: Trace, practice: str, here: str, works: dict[str, str], words: str) -> None:
    """A bed or a buffer: the days at the middle of every range, and the sums of every draw."""
    compute = trace.compute
    compute(
        f"{here}.setting",
        setting_of_days,
        unit="-",
        title=f"Setting of the boards day by day, {words}",
        schedule=f"{here}.schedule",
        day="days.date",
    )
    compute(
        f"{here}.series",
        day_series,
        unit="",
        title=f"Flow, nitrate, temperature, ditch and boards, day by day, {words}",
        inflow="water.flow_m3_s",
        nitrate_mg_per_l="days.nitrate_mg_per_l",
        temperature="days.temperature_c",
        stage="days.stage_m",
        setting=f"{here}.setting",
    )
    if practice == "bed":
        _add_bed(trace, here, works, words)
    else:
        _add_buffer(trace, here, works, words)
    whole = {"sums": f"{here}.sums", "whole": "days.whole_years"}
    for quantity, function, what in (
        ("removed_kg", year_sums.removed_by_year, "Nitrate nitrogen taken out in a year"),
        ("mean_removed_kg", year_sums.long_run_removed, "Taken out in a mean year"),
        ("treated_share", year_sums.treated_share_by_year, "Share of the water that is treated"),
    ):
        unit = "kg" if quantity.endswith("_kg") else "-"
        title = f"{what}, by draw"
        compute(f"{here}.all_{quantity}", function, unit=unit, title=title, **whole)


def _add_bed(trace: Trace, here: str, works: dict[str, str], words: str) -> None:
    settings.add_table(trace, f"{here}.table", works, words)
    common = {"series": f"{here}.series", "table": f"{here}.table"}
    trace.compute(
        f"{here}.run",
        route_days,
        unit="",
        title=f"Every day, at the middle of every range, {words}",
        bed="days.middle",
        **common,
    )
    trace.compute(
        f"{here}.sums",
        route_by_year,
        unit="",
        title=f"Sums by year of every draw, {words}",
        year="days.year",
        beds="days.draws",
        **common,
    )
    _add_used_up(trace, here, words)


def _add_buffer(trace: Trace, here: str, works: dict[str, str], words: str) -> None:
    title = f"Boards of the settings, {words}"
    trace.compute(f"{here}.boards", boards_by_setting, unit="", title=title, **works)
    common = {"series": f"{here}.series", "boards": f"{here}.boards"}
    trace.compute(
        f"{here}.run",
        route_buffer_days,
        unit="",
        title=f"Every day, at the middle of every range, {words}",
        buffer="days.middle",
        **common,
    )
    trace.compute(
        f"{here}.sums",
        route_buffer_by_year,
        unit="",
        title=f"Sums by year of every draw, {words}",
        year="days.year",
        buffers="days.draws",
        **common,
    )


def _add_used_up(trace: Trace, here: str, words: str) -> None:
    trace.compute(
        f"{here}.used_up",
        days.used_up_days_of,
        unit="",
        title=f"Days on which nitrate is used up, {words}",
        run=f"{here}.run",
        least_mg_per_l=settings.LEAST,
    )
    trace.compute(
        f"{here}.used_up_days",
        days_in_a_year,
        unit="days",
        title=f"Days of a year on which nitrate is used up, {words}",
        days=f"{here}.used_up",
    )


def _add_raised(trace: Trace, here: str, used: list[Choice], words: str) -> None:
    """A raised outlet: the field of every draw with these boards beside the field with none."""
    compute = trace.compute
    add_heights(trace, here, used, words)
    first = field.FIRST_CROP_YEAR
    compute(
        f"{here}.sums",
        draws.run_pairs,
        unit="",
        title=f"Where the water of every draw and year goes, boards out and in, {words}",
        weather="water.weather",
        soil="water.soil",
        drains="water.drains",
        cold="water.cold",
        rotation="water.rotation",
        outlet_height=f"{here}.height_m",
        draws=f"{settings.HERE}.draws",
        **({"first_year": first} if first in trace else {}),
    )
    water = {
        "sums": f"{here}.sums",
        "whole": "days.whole_years",
        "draws": f"{settings.HERE}.draws",
        "annual_depth": f"{settings.HERE}.annual_depth_by_draw_m",
        "area": AREA_ABOVE,
        "nitrate_mg_per_l": nitrate_key(trace),
    }
    for quantity, function, what in (
        ("removed_kg", kept.load_kept_back, "Nitrate nitrogen kept back in a year"),
        ("mean_removed_kg", kept.load_kept_back_mean, "Kept back in a mean year"),
    ):
        title = f"{what}, by draw"
        compute(f"{here}.all_{quantity}", function, unit="kg", title=title, **water)


def add_raised_draws(trace: Trace) -> None:
    """Record the draws that the rows of a raised outlet take."""
    taken = trace.constant(
        f"{settings.HERE}.draws_taken", RAISED_DRAWS, "Draws taken", source="derived"
    )
    trace.compute(
        f"{settings.HERE}.draws",
        draws.draw_fields,
        unit="",
        title="Fields drawn from their ranges",
        drawn="days.drawn",
        taken=taken,
    )
    trace.compute(
        f"{settings.HERE}.annual_depth_by_draw_m",
        kept.annual_depths,
        unit="m",
        title="Drainage of a mean year, boards out, by draw",
        annual_depth="raised.annual_depth_m",
        draws=f"{settings.HERE}.draws",
    )


def add_heights(trace: Trace, here: str, used: Iterable[Choice], words: str) -> None:
    """Record the water over the laterals day by day, mean of all, with a row's boards."""
    heights = {}
    for choice in used:
        key = f"{settings.HERE}.group.in-{choice.name}.height_m"
        crest = f"boards.inlet-{settings.setting_of(choice, 'inlet')}.crest_m"
        settings.add_mean_height(trace, key, crest, f"boards {choice.name} in")
        heights[argument_name(choice.name)] = key
    trace.compute(
        f"{here}.height_m",
        heights_by_day,
        unit="m",
        title=f"Water over the laterals day by day, mean of all, {words}",
        schedule=f"{here}.schedule",
        weather="water.weather",
        **{f"height_{name}": key for name, key in heights.items()},
    )


def add_wet_row(trace: Trace, name: str, spots: Iterable[str], words: str) -> None:
    """Record the days too wet at every spot with the boards of a row, run as one field."""
    here = f"{ROWS}.{name}"
    schedule = trace.value(f"{here}.schedule")
    used = [trace.value(settings.CHOICES)[i] for i in sorted(set(schedule.choices))]
    for spot in spots:
        at = f"{here}.spot.{spot}"
        heights = {
            f"height_{argument_name(c.name)}": (
                f"{settings.HERE}.spot.{spot}.{settings.crest_setting(c)}.outlet_height_m"
            )
            for c in used
        }
        trace.compute(
            f"{at}.outlet_height_m",
            heights_by_day,
            unit="m",
            title=f"Water over the lateral at {spot} day by day, {words}",
            schedule=f"{here}.schedule",
            weather="water.weather",
            **heights,
        )
        settings.add_spot_run(trace, at, spot, f"{at}.outlet_height_m", f"at {spot}, {words}")
        _add_wet_counts(trace, at, f"at {spot}, {words}")


def _add_wet_counts(trace: Trace, at: str, words: str) -> None:
    common = {"wet": f"{at}.wet", "counted": f"{settings.HERE}.counted"}
    trace.compute(
        f"{at}.usual_run_days",
        usual_run,
        unit="days",
        title=f"Days in a row too wet that half the years keep to {words}",
        weather="water.weather",
        **common,
    )
    trace.compute(
        f"{at}.days_per_year",
        wet_days_a_year,
        unit="days",
        title=f"Days too wet in crop season and field work {words}",
        **common,
    )

# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: how the boards of a finished design are run through the year.

The owner's dates say when boards may be moved; the days of the record say which stacks take out
most and keep his limit of wet days. What is found stands beside the boards set once, the seasons
of the job, and none. A further setting is only worth its work where it brings more than the
range can tell; else fewer are as good, and that is said.

Flow is that of the job, with its own boards in: what other boards would do to it is left out, for a
bed and a buffer; for a raised outlet it is the whole of the matter and is in.
"""

from dataclasses import dataclass

from tilewater.basis.trace import Trace, argument_name
from tilewater.chain import operate_rows as rows
from tilewater.chain import operate_settings as settings
from tilewater.chain import operate_years as years
from tilewater.chain import water_field as field
from tilewater.chain.days_sums import QUANTILES
from tilewater.chain.field_crest import field_crest
from tilewater.chain.operate_choices import Choice, tuple_of
from tilewater.chain.operate_given import DATES, add_dates, key_of
from tilewater.chain.operate_limits import (
    asked_of,
    counted_days,
    fewest_as_good,
    free_crest,
    lowest_lateral,
    wet_limit,
)
from tilewater.chain.operate_rows import OUT, ROWS, SEASONS, SET_ONCE
from tilewater.chain.operate_search import (
    Found,
    Schedule,
    best_schedules,
    keeps_limits,
)
from tilewater.chain.operate_settings import CHOICES, HERE, Tell
from tilewater.practices.bed.settings import DESIGN
from tilewater.practices.bed.year_sums import quantile_of
from tilewater.practices.rules import difference

FOUND = f"{HERE}.found"
NOISE = 0.05
"""Share of what is removed that two figures cannot tell apart at worst. [-]"""
NAMES = {
    SET_ONCE: "set once",
    SEASONS: "by the seasons",
    OUT: "boards out",
}


@dataclass(frozen=True)
class Row:
    """One way to run the boards.

    Attributes
    ----------
    name : str
        "set-once", "seasons", "out", or "best-2" for the best year with two settings.
    words : str
        What it is called.
    """

    name: str
    words: str


@dataclass(frozen=True)
class Operation:
    """What the steps found.

    Attributes
    ----------
    practice : str
    rows : tuple of Row
        Ways to run the boards that were asked; of a job without days only those that it states.
    chosen : str
        Name of the row that the card shows.
    is_searched : bool
        Whether the days of the record were known and searched.
    """

    practice: str
    rows: tuple[Row, ...]
    chosen: str
    is_searched: bool


def no_word(said: str, share: float) -> None:
    """Nobody is told how far it is.

    Parameters
    ----------
    said : str
        What is done now. [-]
    share : float
        That is done. [-]
    """


def add_operation(trace: Trace, practice: str, tell: Tell = no_word) -> Operation:
    """Record settings, search and rows under `operate.`, onto the trace of a finished design.

    Raises
    ------
    Stopped
        If whoever is told how far it is lets go.
    """
    add_dates(trace)
    settings.add_settings(trace, practice)
    if not trace.known(DATES, CHOICES):
        return Operation(practice, (), "", is_searched=False)
    _add_stated_rows(trace)
    if not _has_days(trace, practice):
        stated = (SEASONS,) if trace.names("inputs.season") else (SET_ONCE,)
        told = tuple(Row(name, NAMES[name]) for name in stated)
        return Operation(practice, told, stated[0], is_searched=False)
    settings.add_setting_days(trace, practice, _part(tell, "every day with ", 0.0, 0.5))
    if practice == "raised":
        rows.add_raised_draws(trace)
    has_field = field.RUN in trace and trace.known(field.RUN)
    if has_field:
        _add_counted(trace)
        settings.add_wet_settings(trace, _part(tell, "", 0.5, 0.65))
    tell("which boards on which days", 0.65)
    _add_search(trace, practice, has_field=has_field)
    return _add_rows(trace, practice, _part(tell, "every draw with ", 0.75, 1.0), has_field)


def _part(tell: Tell, words: str, first: float, last: float) -> Tell:
    """Tell of a part of the work as of a share of the whole."""
    return lambda said, share: tell(f"{words}{said}", first + share * (last - first))


def _has_days(trace: Trace, practice: str) -> bool:
    key = "raised.run_out" if practice == "raised" else "days.run"
    return key in trace and trace.known(key, "days.whole_years")


def _add_stated_rows(trace: Trace) -> None:
    """Schedules that need no search: set once, the seasons, none."""
    sets = {"choices": CHOICES}
    design = f"{HERE}.wanted.{DESIGN}"
    trace.compute(
        f"{ROWS}.{SET_ONCE}.schedule",
        years.one_setting,
        unit="",
        title="Boards of the design all year",
        heights=design,
        **sets,
    )
    count = len(trace.value(CHOICES)[0].heights)
    none = trace.constant(f"{HERE}.none_m", (0.0,) * count, "No board", unit="m", source="derived")
    title = "No board all year"
    once = years.one_setting
    trace.compute(f"{ROWS}.{OUT}.schedule", once, unit="", title=title, heights=none, **sets)
    seasons = {}
    for season in trace.names("inputs.season"):
        key = seasons[argument_name(season)] = f"{HERE}.season.{season}"
        trace.compute(
            key,
            years.season_of,
            unit="",
            title=f"Days of {season} and its boards",
            first=f"inputs.season.{season}.from",
            last=f"inputs.season.{season}.to",
            heights=f"{HERE}.wanted.{season}",
        )
    if seasons:
        trace.compute(
            f"{ROWS}.{SEASONS}.schedule",
            years.by_seasons,
            unit="",
            title="Boards of the seasons of the job",
            otherwise=design,
            **sets,
            **seasons,
        )


def _add_counted(trace: Trace) -> None:
    trace.compute(
        f"{HERE}.counted",
        counted_days,
        unit="",
        title="Days of crop season and field work",
        season="water.crop_season",
        weather="water.weather",
        work=f"{HERE}.work",
    )


def _add_search(trace: Trace, practice: str, *, has_field: bool) -> None:
    spots = trace.names("field") if has_field else ()
    wet = {}
    for spot in spots:
        out = settings.crest_setting(_lowest(trace))
        trace.compute(
            f"{HERE}.limit.{spot}_days",
            wet_limit,
            unit="days",
            title=f"Days in a row too wet that the boards may bring at {spot}",
            limit="inputs.limits.wet_days",
            out=settings.wet_key(spot, out),
            counted=f"{HERE}.counted",
            weather="water.weather",
        )
        wet[f"limit_{argument_name(spot)}"] = f"{HERE}.limit.{spot}_days"
        for crest in dict.fromkeys(settings.crest_setting(c) for c in trace.value(CHOICES)):
            name = f"wet_{argument_name(spot)}_of_{argument_name(crest)}"
            wet[name] = settings.wet_key(spot, crest)
    if has_field:
        wet |= {"counted": f"{HERE}.counted", "weather": "water.weather"}
    _add_free(trace)
    crests = {
        f"crest_{argument_name(name)}": field_crest(trace, name)
        for name in dict.fromkeys(settings.crest_setting(c) for c in trace.value(CHOICES))
    }
    day = {"day": "days.date"} if practice != "raised" else {}
    trace.compute(
        f"{HERE}.asked",
        asked_of,
        unit="",
        title="What the search goes by",
        dates=DATES,
        choices=CHOICES,
        days=settings.DAYS,
        work=f"{HERE}.work",
        free=f"{HERE}.free_crest_m",
        used_limit=key_of(trace, "used_up_days"),
        **day,
        **wet,
        **crests,
    )
    trace.compute(
        FOUND,
        best_schedules,
        unit="",
        title="Best years, by the number of their settings",
        asked=f"{HERE}.asked",
        settings=key_of(trace, "settings"),
    )


def _lowest(trace: Trace) -> Choice:
    choices: tuple[Choice, ...] = trace.value(CHOICES)
    return min(choices, key=lambda choice: choice.height("inlet"))


def _add_free(trace: Trace) -> None:
    """Record the highest crest that field work allows."""
    laterals = {
        argument_name(spot): f"field.{spot}.drain_m"
        for spot in trace.names("field")
        if f"field.{spot}.drain_m" in trace
    }
    crests = {
        argument_name(name): field_crest(trace, name)
        for name in dict.fromkeys(settings.crest_setting(c) for c in trace.value(CHOICES))
    }
    trace.compute(
        f"{HERE}.crests",
        tuple_of,
        unit="m",
        title="Crests that can be set",
        **crests,
    )
    trace.compute(
        f"{HERE}.lowest_lateral_m",
        lowest_lateral,
        unit="m",
        title="Lowest lateral of a spot",
        **laterals,
    )
    trace.compute(
        f"{HERE}.free_crest_m",
        free_crest,
        unit="m",
        title="Highest crest in field work",
        field_work=key_of(trace, "field_work"),
        crests=f"{HERE}.crests",
        lowest=f"{HERE}.lowest_lateral_m",
    )


def _add_rows(trace: Trace, practice: str, tell: Tell, has_field: bool) -> Operation:
    found: tuple[Found, ...] = trace.value(FOUND) if trace.known(FOUND) else ()
    told, best = [], []
    once = schedule_of(trace, SET_ONCE)
    for each in found:
        if each.schedule == once:  # the best with one setting is what the design has
            best.append(SET_ONCE)
            continue
        count = max(1, len(each.schedule.turns))
        name = f"best-{count}"
        number = trace.constant(
            f"{HERE}.count.{count}", float(count), "Settings of a year", source="derived"
        )
        trace.compute(
            f"{ROWS}.{name}.schedule",
            years.found_schedule,
            unit="",
            title=f"Best year with {count} settings",
            found=FOUND,
            settings=number,
        )
        best.append(name)
        told.append(Row(name, f"best, {count} setting{'s' if count > 1 else ''}"))
    stated = [name for name in NAMES if f"{ROWS}.{name}.schedule" in trace]
    told += [Row(name, NAMES[name]) for name in stated]
    for place, row in enumerate(told):
        tell(row.words, place / len(told))
        rows.add_row(trace, practice, row.name, row.words)
        if has_field:
            rows.add_wet_row(trace, row.name, trace.names("field"), row.words)
    for row in told:
        _add_gain(trace, row)
        trace.compute(
            f"{ROWS}.{row.name}.short",
            keeps_limits,
            unit="",
            title=f"What is not kept, {row.words}",
            schedule=f"{ROWS}.{row.name}.schedule",
            asked=f"{HERE}.asked",
        )
    chosen = _add_chosen(trace, best)
    return Operation(practice, tuple(told), chosen, is_searched=bool(found))


def _add_gain(trace: Trace, row: Row) -> None:
    """What a row takes out more than the boards set once, draw by draw."""
    here, once = f"{ROWS}.{row.name}", f"{ROWS}.{SET_ONCE}"
    if f"{here}.all_mean_removed_kg" not in trace or row.name == SET_ONCE:
        return
    trace.compute(
        f"{here}.all_gain_kg",
        difference,
        unit="kg",
        title="Taken out more in a mean year than with the boards set once, by draw",
        upper=f"{here}.all_mean_removed_kg",
        lower=f"{once}.all_mean_removed_kg",
    )
    for percentile in QUANTILES:
        trace.compute(
            f"{here}.gain_kg.{percentile}",
            quantile_of,
            unit="kg",
            title=f"More than with the boards set once, {percentile}, {row.words}",
            values=f"{here}.all_gain_kg",
            share=f"days.share_{percentile}",
        )


def _add_chosen(trace: Trace, best: list[str]) -> str:
    """Record which row the card shows: the fewest settings that the range cannot tell from best."""
    if not best:
        return SEASONS if f"{ROWS}.{SEASONS}.schedule" in trace else SET_ONCE
    noise = trace.constant(
        f"{HERE}.noise", NOISE, "Share that two figures cannot tell apart", source="derived"
    )
    trace.compute(
        f"{HERE}.chosen",
        fewest_as_good,
        unit="",
        title="Row that the card shows",
        noise=noise,
        **{argument_name(name): f"{ROWS}.{name}.mean_removed_kg.p50" for name in best},
    )
    return str(trace.value(f"{HERE}.chosen"))


def schedule_of(trace: Trace, row: str) -> Schedule:
    """Schedule of a row."""
    schedule: Schedule = trace.value(f"{ROWS}.{row}.schedule")
    return schedule

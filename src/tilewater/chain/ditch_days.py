# SPDX-License-Identifier: Apache-2.0
"""The days on which drain flow meets the ditch: measured where there is a record, else simulated.

Also what the ditch is compared with, by season and by day, each season with its own boards.
"""

from dataclasses import dataclass

import numpy as np

from tilewater.basis.trace import Trace
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.chain.ditch_seasons import WORDS, YEAR, SeasonKeys
from tilewater.hydrology import ditch_shares, ditch_stage
from tilewater.practices.bed.days import dates_of
from tilewater.practices.bed.settings import DESIGN

SERIES = "inputs.ditch_series"
RECORD, RECORD_DAYS = "inputs.record.daily_depth_m_s", "inputs.record.day"
BASIS = "ditch.share_basis"
LOG = (
    "name a file of daily weather under [weather], or log the drain flow day by day for a year, "
    "and name the file as record under [drainage]"
)


@dataclass(frozen=True)
class Edge:
    """What the ditch is compared with: name, words, and the key of its elevation by season."""

    name: str
    title: str
    boards: str = ""
    key: str = ""

    def at(self, season: SeasonKeys) -> str:
        """Key of the elevation in a season."""
        return f"boards.{self.boards}-{season.boards}.crest_m" if self.boards else self.key


EDGES = (
    Edge("outlet_crest", "the outlet crest", boards="outlet"),
    Edge("inlet_crest", "the bypass crest", boards="inlet"),
    Edge("return_end", "the end of the return", key="inputs.bed.return_invert_m"),
    Edge("main_outlet", "the outlet of the main", key="inputs.main.invert_outlet_m"),
)


def edges_of(trace: Trace) -> tuple[Edge, ...]:
    """What the ditch is compared with in a design; a buffer has no outlet boards and no return."""
    return tuple(
        edge
        for edge in EDGES
        if (f"boards.{edge.boards}-{DESIGN}.crest_m" if edge.boards else edge.key) in trace
    )


def crests_of(trace: Trace) -> tuple[Edge, ...]:
    """Those of them that are crests of boards."""
    return tuple(edge for edge in edges_of(trace) if edge.boards)


@dataclass(frozen=True)
class DitchDays:
    """Keys of the days that are counted, and how the ditch is known on them.

    Attributes
    ----------
    depth : str
        Key of the drain flow of each day over the drained area.
    number : str
        Key of the day of the year of each.
    basis : str
        "measured" or "simulated".
    by_day : bool
        Whether the ditch is known day by day, not only by season.
    seasons : tuple of SeasonKeys
    """

    depth: str
    number: str
    basis: str
    by_day: bool
    seasons: tuple[SeasonKeys, ...]

    @property
    def kinds(self) -> tuple[str, ...]:
        """Levels that are counted with: one by the day, else ordinary and high as bounds."""
        return ("stage",) if self.by_day else tuple(WORDS)

    @property
    def has_year(self) -> bool:
        """Whether the year is counted beside its seasons."""
        return self.seasons[0].name != YEAR

    def stage(self, kind: str, season: SeasonKeys | None = None) -> str:
        """Key of the level: on each day, or of a season where it is known by season only."""
        if season is None or self.by_day:
            return f"ditch.record_{kind}_m"
        return season.key(f"{kind}_m")


def add_ditch_days(trace: Trace, way: str, seasons: tuple[SeasonKeys, ...]) -> DitchDays | Unknown:
    """Record the days with drain flow and the level of the ditch on each; why not, else."""
    found = _days(trace)
    if isinstance(found, Unknown):
        return found
    depth, day, basis = found
    if way == "series" and f"{SERIES}.day" not in trace:
        return Unknown("there is no series of ditch levels", "name it as series under [ditch]")
    trace.constant(BASIS, basis, "Days on which drain flow meets the ditch", source="derived")
    number = "ditch.share_day_of_year"
    trace.compute(
        number, ditch_stage.day_of_year, unit="days", title="Day of the year of each", day=day
    )
    by_day = way == "rule" or (way == "series" and _meet(trace, day, basis))
    days = DitchDays(depth, number, basis, by_day, seasons)
    for kind in days.kinds:
        _add_levels(trace, way, kind, days, day)
    return days


def _days(trace: Trace) -> tuple[str, str, str] | Unknown:
    """Keys of drain flow and dates with their basis."""
    if RECORD in trace and RECORD_DAYS in trace:
        return RECORD, RECORD_DAYS, "measured"
    if trace.known("water.day", "water.depth_m_s"):
        day = "ditch.share_day"
        trace.compute(day, dates_of, unit="", title="Simulated days", day="water.day")
        return "water.depth_m_s", day, "simulated"
    if RECORD in trace:
        return Unknown("the days of the drain flow record are not known", LOG)
    basis = trace.value("water.basis") if "water.basis" in trace else None
    if isinstance(basis, Unknown) and "water.run" in trace:
        return Unknown(f"the days cannot be simulated: {basis.why}", basis.measure)
    return Unknown("no day of drain flow is measured, and no weather is given to simulate any", LOG)


def _meet(trace: Trace, day: str, basis: str) -> bool:
    """Whether a series of ditch levels is to be matched by its dates.

    Weather that ends before the staff was set says nothing day by day; the levels of the seasons
    then bound the share.
    """
    if basis == "measured":
        return True
    return bool(np.isin(trace.value(day), trace.value(f"{SERIES}.day")).any())


def _add_levels(trace: Trace, way: str, kind: str, days: DitchDays, day: str) -> None:
    """Level of the ditch on each of the days."""
    key, title = days.stage(kind), f"{WORDS[kind]} on each of these days"
    if not days.by_day:
        trace.compute(
            key,
            ditch_shares.table_on_days,
            unit="m",
            title=title,
            day=day,
            table=f"ditch.{kind}_by_day_m",
        )
    elif way == "series":
        trace.compute(
            key,
            ditch_shares.stage_of_days,
            unit="m",
            title=title,
            day=day,
            stage_day=f"{SERIES}.day",
            stage=f"{SERIES}.stage_m",
        )
    else:
        trace.compute(
            "ditch.record_flow_m3_s",
            ditch_shares.flow_of_days,
            unit="m3/s",
            title="Drain flow on each of these days",
            daily_depth=days.depth,
            area="inputs.drainage.area_m2",
        )
        trace.compute(
            key,
            ditch_stage.stage_by_flow,
            unit="m",
            title=title,
            flow="ditch.record_flow_m3_s",
            rule="ditch.stage_rule",
        )


def days_counted(trace: Trace, days: DitchDays, name: str) -> bool:
    """Whether a season, or the year, has a day with drain flow and a level of the ditch."""
    seasons = [s for s in days.seasons if name in (s.name, YEAR)]
    counts = [trace.value(season.key("share_days")) for season in seasons]
    return any(is_unknown(count) or count > 0 for count in counts)


def crest_by_day(trace: Trace, edge: Edge, seasons: tuple[SeasonKeys, ...]) -> str:
    """Key of the elevation on each day of the year."""
    table = f"ditch.{edge.name}_by_day_m"
    if table in trace:
        return table
    for season in seasons:
        trace.compute(
            season.key(f"{edge.name}_days"),
            ditch_stage.SeasonValue,
            unit="",
            title=f"Elevation of {edge.title} with its days, {season.name}",
            first=season.first,
            last=season.last,
            value=edge.at(season),
        )
    trace.compute(
        table,
        ditch_stage.year_table,
        unit="m",
        title=f"Elevation of {edge.title} on each day of the year",
        **{season.word: season.key(f"{edge.name}_days") for season in seasons},
    )
    return table

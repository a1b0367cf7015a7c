# SPDX-License-Identifier: Apache-2.0
"""Steps that find how much of the drain flow meets the ditch above each crest.

With a series or a rule the share is counted day by day. With levels by season each season counts
as a whole, once with its ordinary and once with its high level: the true share lies between.
"""

from dataclasses import dataclass

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.basis.unknown import is_unknown
from tilewater.chain.ditch_seasons import WORDS, YEAR, SeasonKeys, give_unknown
from tilewater.hydrology import ditch_shares, ditch_stage

SHARE = {"stage": "ditch.share_above", "high": "ditch.share_above_high"}
DAY = "inputs.record.day"
DEPTH = "inputs.record.daily_depth_m_s"
SERIES = "inputs.ditch_series"
LOG = "log the drain flow day by day for a year, and name the file as record under [drainage]"


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


def add_shares(trace: Trace, way: str, seasons: tuple[SeasonKeys, ...]) -> None:
    """Record the share of the flow volume with the ditch above each crest, by season and year."""
    kinds = ("stage",) if way in ("series", "rule") else tuple(WORDS)
    if why := _missing(trace, way):
        for kind in kinds:
            for edge in EDGES:
                for name in (*(season.name for season in seasons), YEAR):
                    key = f"{SHARE[kind]}.{edge.name}-{name}"
                    give_unknown(trace, key, _title(edge, name, kind), why, LOG, unit="-")
        return
    for kind in kinds:
        _add_levels(trace, way, kind)
        for season in seasons:
            _add_season(trace, way, kind, season)
        if seasons[0].name != YEAR:
            _add_year(trace, kind, seasons)
    _tell_days(trace)


def _missing(trace: Trace, way: str) -> str:
    """Why no share can be counted, or nothing."""
    if DEPTH not in trace:
        return "there is no daily record of drain flow"
    if DAY not in trace:
        return "the days of the drain flow record are not known"
    if way == "series" and f"{SERIES}.day" not in trace:
        return "there is no series of ditch levels"
    return ""


def _add_levels(trace: Trace, way: str, kind: str) -> None:
    """Level of the ditch on each day of the flow record."""
    key, title = f"ditch.record_{kind}_m", f"{WORDS[kind]} on the days of the flow record"
    if way == "series":
        trace.compute(
            key,
            ditch_shares.stage_of_days,
            unit="m",
            title=title,
            day=DAY,
            stage_day=f"{SERIES}.day",
            stage=f"{SERIES}.stage_m",
        )
    elif way == "rule":
        trace.compute(
            "ditch.record_flow_m3_s",
            ditch_shares.flow_of_days,
            unit="m3/s",
            title="Drain flow on the days of the record",
            daily_depth=DEPTH,
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
    else:
        trace.compute(
            key,
            ditch_shares.table_on_days,
            unit="m",
            title=title,
            day=DAY,
            table=f"ditch.{kind}_by_day_m",
        )


def _add_season(trace: Trace, way: str, kind: str, season: SeasonKeys) -> None:
    by_day = way in ("series", "rule")
    inputs = {
        "daily_depth": DEPTH,
        "day": DAY,
        "stage": f"ditch.record_{kind}_m" if by_day else season.key(f"{kind}_m"),
        "first": season.first,
        "last": season.last,
    }
    days = trace.compute(
        season.key("share_days"),
        ditch_shares.days_in_common,
        unit="days",
        title=f"Days of {season.name} with drain flow and a level of the ditch",
        **inputs,
    )
    for edge in EDGES:
        key, title = f"{SHARE[kind]}.{edge.name}-{season.name}", _title(edge, season.name, kind)
        if not is_unknown(days) and days == 0:
            why = f"no day of {season.name} has drain flow and a level of the ditch"
            give_unknown(trace, key, title, why, "log both on the same days", unit="-")
            continue
        trace.compute(
            key,
            ditch_shares.season_share_above,
            unit="-",
            title=title,
            crest=edge.at(season),
            **inputs,
        )


def _add_year(trace: Trace, kind: str, seasons: tuple[SeasonKeys, ...]) -> None:
    """All recorded days, each against the boards of its season."""
    flowing = [trace.value(season.key("share_days")) for season in seasons]
    for edge in EDGES:
        key, title = f"{SHARE[kind]}.{edge.name}-{YEAR}", _title(edge, YEAR, kind)
        if not any(is_unknown(days) for days in flowing) and not any(flowing):
            why = "no day has drain flow and a level of the ditch"
            give_unknown(trace, key, title, why, "log both on the same days", unit="-")
            continue
        trace.compute(
            key,
            ditch_shares.year_share_above,
            unit="-",
            title=title,
            daily_depth=DEPTH,
            day=DAY,
            stage=f"ditch.record_{kind}_m",
            crest=_crest_by_day(trace, edge, seasons),
        )


def _crest_by_day(trace: Trace, edge: Edge, seasons: tuple[SeasonKeys, ...]) -> str:
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


def _title(edge: Edge, name: str, kind: str) -> str:
    level = "" if kind == "stage" else ", were it always at its high level"
    return f"Share of the drain flow with the ditch above {edge.title}, {name}{level}"


def _tell_days(trace: Trace) -> None:
    """How many days of the flow record have no level of the ditch."""
    if not trace.known("ditch.record_stage_m"):
        return
    stage = trace.value("ditch.record_stage_m")
    missing = int((stage != stage).sum())
    if missing:
        trace.findings.append(
            Finding(
                "ditch-days-apart",
                "caution",
                "Ditch",
                f"{missing} of {len(stage)} days of the drain flow record have no level of the "
                "ditch. Shares of the flow with the ditch above a crest rest on the other "
                f"{len(stage) - missing}.",
                value=float(missing),
                unit="days",
            )
        )

# SPDX-License-Identifier: Apache-2.0
"""Steps that find how much of the drain flow meets the ditch above each crest.

Counted on measured days where there are any, else on simulated ones. With a series or a rule the
share is counted day by day. With levels by season each season counts as a whole, once with its
ordinary and once with its high level: the true share lies between.
"""

from tilewater.basis.domain import require_not_negative
from tilewater.basis.findings import Finding
from tilewater.basis.requirement import SCALES, Requirement
from tilewater.basis.trace import Trace
from tilewater.basis.unknown import Unknown
from tilewater.chain.ditch_back import add_days_back, give_unknown_back
from tilewater.chain.ditch_days import (
    BASIS,
    DitchDays,
    Edge,
    add_ditch_days,
    crest_by_day,
    days_counted,
    edges_of,
)
from tilewater.chain.ditch_seasons import WORDS, YEAR, SeasonKeys, give_unknown
from tilewater.hydrology import ditch_shares
from tilewater.practices.rules import difference, same

SHARE = {"stage": "ditch.share_above", "high": "ditch.share_above_high"}


def add_shares(trace: Trace, way: str, seasons: tuple[SeasonKeys, ...]) -> None:
    """Record the share of the flow volume with the ditch above each crest, by season and year."""
    _count(trace, way, seasons)
    _judge_over_bypass(trace, seasons)


def _count(trace: Trace, way: str, seasons: tuple[SeasonKeys, ...]) -> None:
    days = add_ditch_days(trace, way, seasons)
    if isinstance(days, Unknown):
        title = "Days on which drain flow meets the ditch"
        give_unknown(trace, BASIS, title, days.why, days.measure, unit="")
        names = tuple(dict.fromkeys((*(season.name for season in seasons), YEAR)))
        kinds = ("stage",) if way in ("series", "rule") else tuple(WORDS)
        _give_unknown(trace, days, kinds, names)
        give_unknown_back(trace, days, kinds, names)
        return
    for kind in days.kinds:
        for season in seasons:
            _add_season(trace, kind, days, season)
        if days.has_year:
            _add_year(trace, kind, days)
    add_days_back(trace, days)
    _tell_days(trace, days)


def _judge_over_bypass(trace: Trace, seasons: tuple[SeasonKeys, ...]) -> None:
    """Water that meets the ditch above the bypass crest finds no head to go through."""
    limit = "inputs.limits.drowned"
    if limit not in trace:
        return
    value, counted = "ditch.share_over_bypass", f"{SHARE['stage']}.inlet_crest-{YEAR}"
    title = "Share of the drain flow that meets the ditch above the bypass crest"
    pairs = [(f"boards.inlet-{s.boards}.crest_m", s.key("high_m")) for s in seasons]
    if not trace.known(counted) and all(trace.known(*pair) for pair in pairs):
        reserves = {}
        for season, (crest, high) in zip(seasons, pairs, strict=True):
            reserves[season.word] = season.key("under_bypass_m")
            trace.compute(
                reserves[season.word],
                difference,
                unit="m",
                title=f"Bypass crest above the high water of the ditch, {season.name}",
                upper=crest,
                lower=high,
            )
        if all(trace.value(key) >= 0 for key in reserves.values()):
            trace.compute(value, share_under_crest, unit="-", title=title, **reserves)
    if value not in trace:
        trace.compute(value, same, unit="-", title=title, value=counted)
    trace.require(
        Requirement(
            key="ditch_over_bypass",
            title=title,
            value=value,
            operator="<=",
            limit=limit,
            unit="-",
            scale=SCALES["share of flow"],
            where="ditch",
        )
    )


def share_under_crest(**reserve: float) -> float:
    """Share of the flow that meets the ditch above a crest that its high water never reaches.

    Parameters
    ----------
    **reserve : float
        Crest above the high water of the ditch, by season. [m]

    Returns
    -------
    float
        Nothing, with no day of flow known. [-]

    Raises
    ------
    OutOfDomain
        If the high water of a season stands above the crest.

    Notes
    -----
    share = 0 where every season's high water lies under the crest    (derived)

    References
    ----------
    derived, a level that is not reached is reached on no day
    """
    lowest = min(reserve.values())
    require_not_negative("reserve", lowest, "m", "Count the share by days of flow instead")
    return 0.0


def _give_unknown(
    trace: Trace, why: Unknown, kinds: tuple[str, ...], names: tuple[str, ...]
) -> None:
    for kind in kinds:
        for edge in edges_of(trace):
            for name in names:
                key, title = f"{SHARE[kind]}.{edge.name}-{name}", _title(edge, name, kind)
                give_unknown(trace, key, title, why.why, why.measure, unit="-")


def _add_season(trace: Trace, kind: str, days: DitchDays, season: SeasonKeys) -> None:
    inputs = {
        "daily_depth": days.depth,
        "number": days.number,
        "stage": days.stage(kind, season),
        "first": season.first,
        "last": season.last,
    }
    trace.compute(
        season.key("share_days"),
        ditch_shares.days_in_common,
        unit="days",
        title=f"Days of {season.name} with drain flow and a level of the ditch",
        **inputs,
    )
    for edge in edges_of(trace):
        key, title = f"{SHARE[kind]}.{edge.name}-{season.name}", _title(edge, season.name, kind)
        if not days_counted(trace, days, season.name):
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


def _add_year(trace: Trace, kind: str, days: DitchDays) -> None:
    """All days, each against the boards of its season."""
    for edge in edges_of(trace):
        key, title = f"{SHARE[kind]}.{edge.name}-{YEAR}", _title(edge, YEAR, kind)
        if not days_counted(trace, days, YEAR):
            why = "no day has drain flow and a level of the ditch"
            give_unknown(trace, key, title, why, "log both on the same days", unit="-")
            continue
        trace.compute(
            key,
            ditch_shares.year_share_above,
            unit="-",
            title=title,
            daily_depth=days.depth,
            number=days.number,
            stage=days.stage(kind),
            crest=crest_by_day(trace, edge, days.seasons),
        )


def _title(edge: Edge, name: str, kind: str) -> str:
    level = "" if kind == "stage" else ", were it always at its high level"
    return f"Share of the drain flow with the ditch above {edge.title}, {name}{level}"


def _tell_days(trace: Trace, days: DitchDays) -> None:
    """How many of the days have no level of the ditch."""
    if not trace.known("ditch.record_stage_m"):
        return
    stage = trace.value("ditch.record_stage_m")
    missing = int((stage != stage).sum())
    if missing:
        whose = "days of the drain flow record" if days.basis == "measured" else "simulated days"
        trace.findings.append(
            Finding(
                "ditch-days-apart",
                "caution",
                "Ditch",
                f"{missing} of {len(stage)} {whose} have no level of the ditch. Shares of the flow "
                "with the ditch above a crest rest on the other "
                f"{len(stage) - missing}.",
                value=float(missing),
                unit="days",
            )
        )

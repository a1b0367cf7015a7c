# SPDX-License-Identifier: Apache-2.0
"""Steps that count the days on which ditch water stands above a crest and runs back over it.

It runs back where the drains bring nothing to hold it: over the outlet boards into the bed, over
the bypass boards into the main and the field behind it.
"""

from collections.abc import Callable, Iterator
from typing import Any

from tilewater.basis.trace import Trace
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.chain.ditch_days import DitchDays, Edge, crest_by_day, crests_of
from tilewater.chain.ditch_seasons import YEAR, give_unknown
from tilewater.hydrology import ditch_back

GROUPS: tuple[tuple[str, Callable[..., Any], str, str], ...] = (
    (
        "days_above",
        ditch_back.days_above_per_year,
        "days",
        "Days a year with the ditch above {edge}",
    ),
    (
        "days_back",
        ditch_back.days_back_per_year,
        "days",
        "Days a year on which ditch water runs back over {edge}",
    ),
    (
        "share_of_days_back",
        ditch_back.share_of_days_back,
        "-",
        "Share of the days on which ditch water runs back over {edge}",
    ),
)
HIGH = {"stage": "", "high": "_high"}


def add_days_back(trace: Trace, days: DitchDays) -> None:
    """Record the days above each crest and those that run back, by season and for the year."""
    ends = [
        trace.constant(f"ditch.share_{end}", day, f"{title} of the year", source="derived")
        for end, day, title in (("first", "01-01", "First day"), ("last", "12-31", "Last day"))
    ]
    year = dict(zip(("first", "last"), ends, strict=True))
    for kind in days.kinds:
        for season in days.seasons:
            within = {"first": season.first, "last": season.last}
            level = {"stage": days.stage(kind, season)}
            for edge in crests_of(trace):
                crest = {"crest": edge.at(season)}
                _add(trace, days, kind, edge, season.name, level | within, crest)
        if days.has_year:
            for edge in crests_of(trace):
                crest = {"crest": crest_by_day(trace, edge, days.seasons)}
                _add(trace, days, kind, edge, YEAR, {"stage": days.stage(kind)} | year, crest)


def _add(
    trace: Trace,
    days: DitchDays,
    kind: str,
    edge: Edge,
    name: str,
    level: dict[str, str],
    crest: dict[str, str],
) -> None:
    level = {"number": days.number} | level
    known = trace.compute(
        f"ditch.days_with_level{HIGH[kind]}.{name}",
        ditch_back.days_with_level,
        unit="days",
        title=f"Days with a level of the ditch, {name}",
        **level,
    )
    for key, function, unit, title in _rows(kind, edge, name):
        if not is_unknown(known) and known == 0:
            why = f"no day of {name} has a level of the ditch"
            give_unknown(trace, key, title, why, "log both on the same days", unit=unit)
            continue
        flow = {} if function is ditch_back.days_above_per_year else {"daily_depth": days.depth}
        trace.compute(key, function, unit=unit, title=title, **level, **crest, **flow)


def give_unknown_back(
    trace: Trace, why: Unknown, kinds: tuple[str, ...], names: tuple[str, ...]
) -> None:
    """Record all these days as not known, with the reason."""
    for kind in kinds:
        for edge in crests_of(trace):
            for name in names:
                for key, _, unit, title in _rows(kind, edge, name):
                    give_unknown(trace, key, title, why.why, why.measure, unit=unit)


def _rows(kind: str, edge: Edge, name: str) -> Iterator[tuple[str, Callable[..., Any], str, str]]:
    level = "" if kind == "stage" else ", were it always at its high level"
    for group, function, unit, title in GROUPS:
        key = f"ditch.{group}{HIGH[kind]}.{edge.name}-{name}"
        yield key, function, unit, f"{title.format(edge=edge.title)}, {name}{level}"

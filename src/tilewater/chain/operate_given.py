# SPDX-License-Identifier: Apache-2.0
"""What the job says about running the boards, what stands where it says nothing, and its dates."""

from collections.abc import Mapping
from typing import Any

from tilewater.basis.trace import Trace, argument_name
from tilewater.chain.operate_dates import (
    DAYS_AHEAD,
    WORK,
    owner_dates,
    season_dates,
    work_days,
)
from tilewater.chain.operate_settings import HERE

GIVEN = "inputs.operate"
DATES = f"{HERE}.dates"
DEFAULTS: Mapping[str, tuple[Any, str, str]] = {
    "days_ahead": (float(DAYS_AHEAD), "days", "Days before field work on which boards are moved"),
    "field_work": ("within the limit", "", "What the boards are held to in field work"),
    "settings": (3.0, "-", "Most board settings in a year"),
    "used_up_days": (10.0, "days", "Days of a year on which nitrate may be used up"),
    "frozen_from": ("12-01", "", "First day on which boards may be frozen in"),
    "frozen_to": ("03-31", "", "Last day on which boards may be frozen in"),
    "step_s": (43200.0, "s", "Time between two boards, in spring most of all"),
}
"""What stands where the job says nothing: common practice or judgement, no source."""


def key_of(trace: Trace, name: str, table: str = GIVEN) -> str:
    """Key of what the job says about running the boards, or of what stands in its place."""
    given, key = f"{table}.{name}", f"{HERE}.default.{name}"
    if given in trace:
        return given
    if key not in trace:
        value, unit, title = DEFAULTS[name]
        trace.constant(key, value, title, unit=unit, source="practice")
    return key


def add_dates(trace: Trace) -> None:
    """Record the days on which boards may be moved, and those of field work."""
    dates = {
        argument_name(name): f"{GIVEN}.{name}"
        for work in WORK
        for name in (work, f"{work}_ends")
        if trace.known(f"{GIVEN}.{work}") and trace.known(f"{GIVEN}.{name}")
    }
    frost = {name: key_of(trace, name, "inputs.frost") for name in ("frozen_from", "frozen_to")}
    title = "Days of the year on which boards may be moved"
    if dates:
        ahead = {"days_ahead": key_of(trace, "days_ahead")}
        trace.compute(DATES, owner_dates, unit="", title=title, **ahead, **frost, **dates)
    else:
        starts = {
            argument_name(season): f"inputs.season.{season}.from"
            for season in trace.names("inputs.season")
        }
        trace.compute(DATES, season_dates, unit="", title=title, **frost, **starts)
    trace.compute(
        f"{HERE}.work",
        work_days,
        unit="",
        title="Days of the year in field work and ahead of it",
        dates=DATES,
    )

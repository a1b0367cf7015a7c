# SPDX-License-Identifier: Apache-2.0
"""The result record of what changes with the seasons: emptying, first weeks, frost, snowmelt."""

from tilewater.basis.trace import Trace
from tilewater.basis.unknown import Unknown
from tilewater.chain.plain import Record, plain, plain_group
from tilewater.practices.bed.start_up import StartUpStep

INCH = 0.0254
SNOWMELT = (
    "flow_m3_s",
    "share_of_peak",
    "bypass_flow_m3_s",
    "bypass_head_m",
    "level_m",
    "tailwater_m",
    "retention_h",
    "wet_volume_m3",
    "conductivity_m_s",
    "temperature_c",
    "age_years",
    "porosity",
    "porosity_kind",
)


def season_record(trace: Trace) -> Record:
    """Everything here but the snowmelt, which stands with the other lines of capacity."""
    return {
        "feed_gate": plain_group(trace, "feed_gate", "sets", "status"),
        "emptying": emptying_record(trace),
        "start_up": start_up_record(trace),
        "frost": frost_record(trace),
    }


def emptying_record(trace: Trace) -> Record:
    """What comes out of the bed with the boards out, how fast, and by season."""
    record = plain_group(
        trace,
        "emptying",
        "pore_volume_drainable_m3",
        "pool_m",
        "depth_m",
        "share",
        "first_hour_m3_s",
        "return_full_m3_s",
        "pull_s",
    )
    record["seasons"] = {name: _emptied(trace, name) for name in trace.names("emptying.seasons")}
    return record


def _emptied(trace: Trace, season: str) -> Record:
    here = f"emptying.seasons.{season}"
    record: Record = {
        kind: plain_group(trace, f"{here}.{kind}", "level_m", "pool_m", "share", "to_90_s")
        for kind in ("ordinary", "high")
    }
    empty = f"{here}.stands_empty.status"
    record["stands_empty"] = {"status": plain(trace, empty)} if empty in trace else None
    return record


def start_up_record(trace: Trace) -> Record:
    """How often a new bed is flushed in each season, and its boards from day to day."""
    record = plain_group(trace, "start_up", "season", "pore_volume_m3", "least_m3_s")
    record["seasons"] = {
        season: plain_group(
            trace,
            f"start_up.seasons.{season}",
            "flow_m3_s",
            "pore_volumes_per_day",
            "days_first",
            "days_last",
        )
        for season in trace.names("start_up.seasons")
    }
    settings = trace.value("start_up.settings")
    record["plan"] = [
        _setting(trace, f"setting-{number}", step)
        for number, step in enumerate(() if isinstance(settings, Unknown) else settings, start=1)
    ]
    return record


def _setting(trace: Trace, name: str, step: StartUpStep) -> Record:
    return {
        "name": name,
        **plain_group(trace, f"start_up.plan.{name}", "from_day", "to_day"),
        "inlet_boards_in": [round(board / INCH, 3) for board in step.inlet_boards],
        "outlet_boards_in": [round(board / INCH, 3) for board in step.outlet_boards],
        "why": step.why,
    }


def frost_record(trace: Trace) -> Record:
    """The setting that the frost holds, and soil over what may freeze."""
    return plain_group(
        trace,
        "frost",
        "setting",
        "feed_cover_m",
        "header_inlet_cover_m",
        "header_outlet_cover_m",
        "in_media_m",
        "estimate_m",
    )


def snowmelt_record(trace: Trace) -> Record:
    """The main full of melt water, with the boards and the ditch of winter."""
    return plain_group(trace, "capacity.snowmelt", *SNOWMELT)

# SPDX-License-Identifier: Apache-2.0
"""The result record of the main: its segments, what limits it, where it floods; and of the pump."""

from typing import Any

from tilewater.basis.trace import Trace
from tilewater.chain.areas import AREA_ABOVE
from tilewater.chain.plain import Record, plain

SEGMENT = (
    "station_down_m",
    "station_up_m",
    "invert_down_m",
    "invert_up_m",
    "diameter_m",
    "n",
    "slope",
    "slope_least",
    "flow_share",
    "flow_full_m3_s",
    "velocity_full_m_s",
    "velocity_limit_m_s",
    "level_up_boards_in_m",
    "level_up_boards_out_m",
)
TOLD = ("material", "found", "found_up", "joints", "roots", "camera", "soil")
MAIN = (
    "limiting_segment",
    "limiting_segment_whole",
    "flow_full_whole_m3_s",
    "exposed_inverts",
    "wet_season_share",
    "water_reaches_ground_m3_s",
    "where",
    "water_reaches_ground_boards_out_m3_s",
    "where_boards_out",
)
PUMP = (
    "sump_volume_m3",
    "run_time_s",
    "rest_time_s",
    "starts_per_hour",
    "starts_most_per_hour",
    "pulse_volume_m3",
    "room_m3",
    "past_bed_m3",
)
SUBMAIN = ("area_apart_m2", "flow_full_m3_s", "flow_by_coefficient_m3_s")


def main_record(trace: Trace) -> Record:
    """The main as surveyed; without segments only where water first reaches the ground.

    Parameters
    ----------
    trace : Trace
        The steps of a design. [-]

    Returns
    -------
    dict
        Segments from the outlet up, and what follows from them. [-]
    """
    return {
        "segments": [_segment(trace, name) for name in _in_order(trace)],
        **_there(trace, "main", MAIN),
    }


def areas_record(trace: Trace) -> Record:
    """The area that the practice can see, and the submains.

    Parameters
    ----------
    trace : Trace
        The steps of a design. [-]

    Returns
    -------
    dict
        Area above the diversion, load of the site, and each submain. [-]
    """
    return {
        "area_above_m2": plain(trace, AREA_ABOVE),
        "site_load_kg": plain(trace, "drain_flow.site_load_kg"),
    }


def submains_record(trace: Trace) -> list[Record]:
    """Each submain: where it joins, what it brings.

    Parameters
    ----------
    trace : Trace
        The steps of a design. [-]

    Returns
    -------
    list of dict
        One for each. [-]
    """
    return [
        {
            "name": name,
            "joins": plain(trace, f"inputs.submain.{name}.joins"),
            **_there(trace, f"submain.{name}", SUBMAIN),
        }
        for name in trace.names("inputs.submain")
    ]


def pump_record(trace: Trace) -> Record:
    """The cycle of the pump and what its pulses do to the bed; empty without a pump.

    Parameters
    ----------
    trace : Trace
        The steps of a design. [-]

    Returns
    -------
    dict
        By name. [-]
    """
    return _there(trace, "pump", PUMP)


def _in_order(trace: Trace) -> list[str]:
    names = trace.names("main.segments")
    at = {name: plain(trace, f"main.segments.{name}.station_down_m") for name in names}
    return sorted(names, key=lambda name: (at[name] is None, at[name] or 0.0))


def _segment(trace: Trace, name: str) -> Record:
    words = {
        word: plain(trace, f"inputs.segment.{name}.{word}")
        for word in TOLD
        if f"inputs.segment.{name}.{word}" in trace
    }
    return {"name": name, **_there(trace, f"main.segments.{name}", SEGMENT), **words}


def _there(trace: Trace, group: str, names: tuple[str, ...]) -> dict[str, Any]:
    return {name: plain(trace, f"{group}.{name}") for name in names if f"{group}.{name}" in trace}

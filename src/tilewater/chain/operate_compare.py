# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: the boards that stand, by the log, beside those that the card asks for.

Beside the crests stand the soil that stays clear at the lowest spot, and the share of the water
that would be treated over the days of the period were either setting left in.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.trace import Trace, argument_name
from tilewater.chain import operate_settings as settings
from tilewater.chain.operate import Operation, schedule_of
from tilewater.chain.operate_choices import Choice, height_name
from tilewater.chain.operate_dates import day_number
from tilewater.chain.operate_days import set_to
from tilewater.chain.operate_plan import add_soil
from tilewater.chain.operate_search import Schedule
from tilewater.chain.operate_settings import CHOICES, HERE
from tilewater.hydrology.ditch_stage import day_of_year
from tilewater.practices.bed._route import BedYears, DaySeries
from tilewater.practices.bed._split import SplitTable
from tilewater.practices.bed.route import route_days
from tilewater.practices.boards import HEIGHT_TOLERANCE
from tilewater.practices.buffer._buffer_years import BufferYears
from tilewater.practices.buffer.board_steps import add_field_crest
from tilewater.practices.buffer.day_steps import boards_by_setting
from tilewater.practices.buffer.route import route_buffer_days

NOW = f"{HERE}.now"
Array = NDArray[np.float64]
Truths = NDArray[np.bool_]


@dataclass(frozen=True)
class Compared:
    """What stands, and what the card asks for.

    Attributes
    ----------
    day : str
        Month and day.
    standing, asked : Choice
        Settings by the log, and by the card.
    differing : tuple of str
        Sets whose stacks differ.
    """

    day: str
    standing: Choice
    asked: Choice
    differing: tuple[str, ...]


def add_compared(
    trace: Trace, operation: Operation, standing: Mapping[str, float], day: str
) -> Compared | None:
    """Record crest, clear soil and treated share of what stands and of what is asked for.

    Parameters
    ----------
    trace : Trace
        With the steps of `add_operation`.
    operation : Operation
        What these found.
    standing : mapping of str to float
        Heights of the stacks by set, as the log has them. [m]
    day : str
        Month and day on which they stand.

    Returns
    -------
    Compared or None
        None where the card has no boards, or the log lacks a set that the card has.
    """
    if not operation.chosen:
        return None
    choices: tuple[Choice, ...] = trace.value(CHOICES)
    by_day = schedule_of(trace, operation.chosen).by_day()
    asked = choices[int(by_day[day_number(day) - 1])]
    if any(name not in standing for name, _ in asked.heights):
        return None
    heights = tuple((name, standing[name]) for name, _ in asked.heights)
    now = Choice("-".join(height_name(height) for _, height in heights), heights)
    for name, _ in heights:
        settings.add_board_set(trace, now, name)
    if operation.practice == "buffer":
        crest = f"buffer.field_crest.{settings.crest_setting(now)}_m"
        if crest not in trace:
            add_field_crest(trace, settings.crest_setting(now))
    for key, choice in ((f"{NOW}.standing", now), (f"{NOW}.asked", asked)):
        add_soil(trace, key, choice)
    if operation.practice != "raised" and operation.is_searched:
        trace.constant(
            f"{NOW}.place", int(by_day[day_number(day) - 1]), "Setting", source="derived"
        )
        _add_shares(trace, operation, now, asked)
    differing = tuple(
        name for name, _ in heights if abs(now.height(name) - asked.height(name)) > HEIGHT_TOLERANCE
    )
    return Compared(day, now, asked, differing)


def _add_shares(trace: Trace, operation: Operation, now: Choice, asked: Choice) -> None:
    """Share of the water of the period that is treated, for both settings."""
    for key, choice in ((f"{NOW}.standing", now), (f"{NOW}.asked", asked)):
        works = settings.add_works(trace, operation.practice, choice)
        words = "as the log has them" if key.endswith("standing") else "as the card asks"
        common = {
            "series": "days.series",
            "day": "days.date",
            "schedule": f"{HERE}.row.{operation.chosen}.schedule",
            "place": f"{NOW}.place",
        }
        name = argument_name(choice.name)
        title = f"Share of the water of the period that is treated, boards {words}"
        if operation.practice == "bed":
            settings.add_table(trace, f"{key}.table", {f"setting_{name}": works}, words)
            trace.compute(
                f"{key}.treated_share",
                share_through_bed,
                unit="-",
                title=title,
                bed="days.middle",
                table=f"{key}.table",
                **common,
            )
            continue
        boards, of = f"{key}.boards", {f"setting_{name}": works}
        trace.compute(boards, boards_by_setting, unit="", title=f"Boards {words}", **of)
        trace.compute(
            f"{key}.treated_share",
            share_through_buffer,
            unit="-",
            title=title,
            buffer="days.middle",
            boards=boards,
            **common,
        )


def share_through_bed(
    series: DaySeries,
    day: NDArray[np.datetime64],
    schedule: Schedule,
    place: int,
    bed: BedYears,
    table: SplitTable,
) -> float:
    """Share of the water of a period that goes through a bed with one setting.

    Parameters
    ----------
    series : DaySeries
        Flow, nitrate, temperature and ditch by the day. [-]
    day : array of datetime64
        Days of the record. [-]
    schedule : Schedule
        Settings of the year, which says when the period is. [-]
    place : int
        Setting of the period. [-]
    bed : BedYears
        Media and kinetics. [-]
    table : SplitTable
        How inflows divide. [-]

    Returns
    -------
    float
        Share; 0 where nothing flows. [-]

    Notes
    -----
    sum Q_bed / sum Q over the days of the period in all years    (derived)

    References
    ----------
    derived, a ratio of volumes
    """
    flow = route_days(set_to(series, 0), bed, table).bed_flow
    return _share(flow, series.inflow, _days(schedule, place, day))


def share_through_buffer(
    series: DaySeries,
    day: NDArray[np.datetime64],
    schedule: Schedule,
    place: int,
    buffer: BufferYears,
    boards: Array,
) -> float:
    """Share of the water of a period that goes into a buffer with one setting.

    Parameters
    ----------
    series : DaySeries
        Flow, nitrate, temperature and ditch by the day. [-]
    day : array of datetime64
        Days of the record. [-]
    schedule : Schedule
        Settings of the year, which says when the period is. [-]
    place : int
        Setting of the period. [-]
    buffer : BufferYears
        Soil and kinetics. [-]
    boards : array of shape (1, 20)
        Boards of the setting. [-]

    Returns
    -------
    float
        Share; 0 where nothing flows. [-]

    Notes
    -----
    sum Q_buffer / sum Q over the days of the period in all years    (derived)

    References
    ----------
    derived, a ratio of volumes
    """
    flow = route_buffer_days(set_to(series, 0), buffer, boards).bed_flow
    return _share(flow, series.inflow, _days(schedule, place, day))


def _days(schedule: Schedule, place: int, day: NDArray[np.datetime64]) -> Truths:
    """Days of the record on which a setting of a year stands."""
    return np.asarray(schedule.by_day()[day_of_year(day) - 1] == place)


def _share(part: Array, whole: Array, days: Truths) -> float:
    total = float(whole[days].sum())
    return float(part[days].sum()) / total if total > 0.0 else 0.0

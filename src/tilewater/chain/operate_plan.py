# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: the periods of the year that the lid card shows, each with its boards.

What a period says of its stacks are the numbers of the steps of those stacks; here is added how
many boards are moved into it, how long that takes, how long the bed drains, and the soil that
stays clear at the lowest spot.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from tilewater.basis.trace import Trace, argument_name
from tilewater.chain import operate_settings as settings
from tilewater.chain.field_crest import field_crest
from tilewater.chain.operate import Operation, schedule_of
from tilewater.chain.operate_choices import Choice, height_name
from tilewater.chain.operate_dates import Turn, day_after
from tilewater.chain.operate_days import SettingDays
from tilewater.chain.operate_given import key_of
from tilewater.chain.operate_settings import CHOICES, HERE
from tilewater.hydraulics.media_recession import drain_down_time_over_pool
from tilewater.practices.bed import emptying
from tilewater.practices.boards import HEIGHT_TOLERANCE
from tilewater.practices.wetness import standing_clear_soil

SET_WORDS = {"inlet": "inlet", "outlet": "outlet", "head": "before the line"}
"""What the sets of boards are called on the card."""


@dataclass(frozen=True)
class Stack:
    """Boards of one set in a period; its numbers are under `key` in the trace.

    Attributes
    ----------
    board_set : "inlet", "outlet" or "head"
    key : str
        Beginning of the keys of its stack, crest and distance from the rim.
    boards : tuple of float
        From the sill up. [m]
    crest, rim_down : float
        Elevation of the top, and its distance from the rim. [m]
    """

    board_set: str
    key: str
    boards: tuple[float, ...]
    crest: float
    rim_down: float


@dataclass(frozen=True)
class Period:
    """A part of the year with one setting.

    Attributes
    ----------
    key : str
        Beginning of the keys of its own numbers.
    turn : Turn or None
        Day on which it begins; None where the boards are set once.
    until : str
        Month and day before the next one begins; "" where the boards are set once.
    why : str
        In words.
    stacks : tuple of Stack
    """

    key: str
    turn: Turn | None
    until: str
    why: str
    stacks: tuple[Stack, ...]

    def stack(self, board_set: str) -> Stack:
        """Boards of a set."""
        return next(each for each in self.stacks if each.board_set == board_set)


def add_periods(trace: Trace, operation: Operation) -> tuple[Period, ...]:
    """Record the numbers of every period of the row that the card shows, and give the periods."""
    if not operation.chosen:
        return ()
    schedule = schedule_of(trace, operation.chosen)
    choices: tuple[Choice, ...] = trace.value(CHOICES)
    used = [choices[place] for place in schedule.choices]
    turns: tuple[Turn | None, ...] = schedule.turns or (None,)
    periods = []
    for number, (turn, choice) in enumerate(zip(turns, used, strict=True)):
        key, before = f"{HERE}.period.{number + 1}", used[number - 1]
        stacks = tuple(_stack(trace, choice, name) for name, _ in choice.heights)
        later = turns[(number + 1) % len(turns)]
        until = "" if turn is None or later is None else day_after(later.day, -1)
        add_soil(trace, key, choice)
        if turn is not None:
            _add_change(trace, key, choice, before)
            _add_drain(trace, key, choice, before)
        why = _why(trace, turn, choice, before)
        periods.append(Period(key, turn, until, why, stacks))
    if operation.practice == "bed" and settings.DAYS in trace:
        _add_low_flow(trace)
    return tuple(periods)


def stack_key(choice: Choice, board_set: str) -> str:
    """Beginning of the keys of the stack of a set."""
    return f"boards.{board_set}-{settings.setting_of(choice, board_set)}"


def _stack(trace: Trace, choice: Choice, board_set: str) -> Stack:
    key = stack_key(choice, board_set)
    boards, crest, down = (
        trace.value(f"{key}.{name}") for name in ("stack_m", "crest_m", "rim_down_m")
    )
    return Stack(board_set, key, tuple(boards), crest, down)


def _why(trace: Trace, turn: Turn | None, choice: Choice, before: Choice) -> str:
    if turn is None:
        return "all year"
    lower = choice.height("inlet") < before.height("inlet") - HEIGHT_TOLERANCE
    higher = choice.height("inlet") > before.height("inlet") + HEIGHT_TOLERANCE
    if lower:
        is_out = choice.height("inlet") <= HEIGHT_TOLERANCE
        done = "boards out" if is_out else "boards lowered"
        return f"{turn.words}: {done}, so that the field drains"
    if higher:
        return f"{turn.words}: boards in, so that more water is treated"
    return f"{turn.words}: outlet boards changed, the bypass boards stay"


def add_soil(trace: Trace, key: str, choice: Choice) -> None:
    """Clear soil over the standing water at the spot that has least of it."""
    spots = [s for s in trace.names("field") if f"field.{s}.drain_m" in trace]
    if not spots:
        return
    names = {}
    for spot in spots:
        here = f"{key}.soil.{spot}_m"
        names[argument_name(spot)] = here
        trace.compute(
            here,
            standing_clear_soil,
            unit="m",
            title=f"Clear soil over standing water at {spot}",
            ground=f"inputs.spot.{spot}.ground_m",
            crest=field_crest(trace, settings.crest_setting(choice)),
            drain=f"field.{spot}.drain_m",
        )
    trace.compute(
        f"{key}.clear_soil_m",
        least_of,
        unit="m",
        title="Clear soil over standing water at the spot that has least",
        **names,
    )


def _add_change(trace: Trace, key: str, choice: Choice, before: Choice) -> None:
    """Boards moved into a period, one at a time, and how long that takes."""
    moved = {}
    for name, _ in choice.heights:
        here = moved[name] = f"{key}.moved_{name}"
        trace.compute(
            here,
            boards_moved,
            unit="-",
            title=f"Boards of the {name} set that are taken out or put in",
            before=f"{stack_key(before, name)}.stack_m",
            after=f"{stack_key(choice, name)}.stack_m",
        )
    trace.compute(
        f"{key}.change_s",
        time_to_change,
        unit="s",
        title="Time from the first board moved to the last",
        step=key_of(trace, "step_s"),
        **moved,
    )


def _add_drain(trace: Trace, key: str, choice: Choice, before: Choice) -> None:
    """Hours in which the bed lets go what stands above its lowered outlet boards."""
    if "emptying.full_depth_m" not in trace or "outlet" not in dict(choice.heights):
        return
    if choice.height("outlet") >= before.height("outlet") - HEIGHT_TOLERANCE:
        return
    trace.compute(
        f"{key}.pool_m",
        emptying.standing_pool,
        unit="m",
        title="Water that stays in the bed behind the lowered outlet boards",
        level=f"{stack_key(choice, 'outlet')}.crest_m",
        floor="bed.floor_mean_m",
        media_depth="inputs.bed.media_depth_m",
    )
    trace.compute(
        f"{key}.falls_m",
        emptying.depth_above_pool,
        unit="m",
        title="Depth of water above that in the full bed",
        depth="emptying.full_depth_m",
        pool=f"{key}.pool_m",
    )
    trace.compute(
        f"{key}.drain_s",
        drain_down_time_over_pool,
        unit="s",
        title="Time until 90 percent of that has left, cold water, the feed shut",
        share_drained="drain_down.share_90",
        depth=f"{key}.falls_m",
        pool=f"{key}.pool_m",
        length="bed.length_m",
        conductivity="capacity.spring.conductivity_m_s",
        drainable_porosity="inputs.media.porosity_drainable",
    )


def _add_low_flow(trace: Trace) -> None:
    """The outlet stack for a dry spell, the bypass boards as designed."""
    common = {"days": settings.DAYS, "choices": CHOICES, "inlet": "boards.inlet-design.height_m"}
    trace.compute(
        f"{HERE}.low_flow.outlet_height_m",
        low_flow_outlet,
        unit="m",
        title="Outlet boards for a dry spell",
        outlet="boards.outlet-design.height_m",
        **common,
    )
    trace.compute(
        f"{HERE}.low_flow.used_up_days",
        low_flow_days,
        unit="days",
        title="Days of a year on which nitrate is used up with these",
        outlet=f"{HERE}.low_flow.outlet_height_m",
        **common,
    )


def least_of(**values: float) -> float:
    """The least of some values.

    Parameters
    ----------
    **values : float
        By spot. [m]

    Returns
    -------
    float
        The least. [m]

    Notes
    -----
    min    (derived)

    References
    ----------
    derived, the least
    """
    return min(values.values())


def boards_moved(before: Sequence[float], after: Sequence[float]) -> float:
    """Boards taken out and put in to come from one stack to another.

    Parameters
    ----------
    before, after : sequence of float
        Boards from the sill up. [m]

    Returns
    -------
    float
        Number of boards; what is the same from the sill up stays. [-]

    Notes
    -----
    n = (n_before - same) + (n_after - same)    (derived)

    References
    ----------
    derived, boards come out from the top
    """
    same = 0
    for one, other in zip(before, after, strict=False):
        if abs(one - other) > HEIGHT_TOLERANCE:
            break
        same += 1
    return float(len(before) + len(after) - 2 * same)


def time_to_change(step: float, **moved: float) -> float:
    """Time from the first board moved to the last, one at a time in each set.

    Parameters
    ----------
    step : float
        Time from one board to the next. [s]
    **moved : float
        Boards moved, by set. [-]

    Returns
    -------
    float
        Time; the sets are moved in step. [s]

    Notes
    -----
    t = t_1 max(0, n - 1), n of the set with most    (practice)

    References
    ----------
    practice, no more than one board in 12 hours in spring, for the bank of the ditch
    """
    return step * max(0.0, max(moved.values()) - 1.0)


def low_flow_outlet(
    days: SettingDays, choices: tuple[Choice, ...], inlet: float, outlet: float
) -> float:
    """Outlet stack for a dry spell, with which nitrate is used up on half the days or fewer.

    Parameters
    ----------
    days : SettingDays
        What every setting does on every day. [-]
    choices : tuple of Choice
        The settings. [-]
    inlet : float
        Height of the bypass boards, which stay. [m]
    outlet : float
        Height of the outlet boards of the design. [m]

    Returns
    -------
    float
        Height of the tallest such stack; where there is none, of that with the fewest days. [m]

    Notes
    -----
    max H with n(H) <= n(H_design) / 2    (practice)

    References
    ----------
    practice, lower outlet boards shorten the time in the bed at low flow
    """
    name = height_name(inlet)
    of = {
        choice.height("outlet"): float(days.used_up[place].mean())
        for place, choice in enumerate(choices)
        if height_name(choice.height("inlet")) == name
    }
    half = 0.5 * next(n for h, n in of.items() if abs(h - outlet) <= HEIGHT_TOLERANCE)
    enough = [height for height, share in of.items() if share <= half]
    return max(enough) if enough else min(of, key=lambda height: (of[height], -height))


def low_flow_days(
    days: SettingDays, choices: tuple[Choice, ...], inlet: float, outlet: float
) -> float:
    """Days of a year on which nitrate is used up in one setting all year.

    Parameters
    ----------
    days : SettingDays
        What every setting does on every day. [-]
    choices : tuple of Choice
        The settings. [-]
    inlet, outlet : float
        Heights of the stacks. [m]

    Returns
    -------
    float
        Days. [days]

    Notes
    -----
    n = 365.25 n(true) / n    (derived)

    References
    ----------
    derived, a count
    """
    name = f"{height_name(inlet)}-{height_name(outlet)}"
    place = next(i for i, choice in enumerate(choices) if choice.name == name)
    return 365.25 * float(days.used_up[place].mean())

# SPDX-License-Identifier: Apache-2.0
"""The first weeks of a new bed: how often its pores are flushed, and its boards from day to day.

New chips give brown water, poor in oxygen and rich in dissolved carbon. It is let go a few pore
volumes at a time when the ditch runs high, and the bed is not left to stand in slow warm water.
What the first water carries is not computed here.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, inf

from tilewater.basis.errors import OutOfDomain

DAY = 86400.0

FLUSH = "first flush, the brownest water: short time in the bed, let go when the ditch carries much"
RAISE = "one board more: chips that were dry until now give brown water again"
SET = "the boards of the design; a board less again while the water smells of sulfide or runs black"


@dataclass(frozen=True)
class StartUpStep:
    """One setting of the boards in the first weeks.

    Attributes
    ----------
    from_day, to_day : float
        Days since water was first let in; the last setting has no end. [days]
    inlet_boards, outlet_boards : tuple of float
        Stacks from the sill up. [m]
    why : str
        What the setting is for.
    """

    from_day: float
    to_day: float
    inlet_boards: tuple[float, ...]
    outlet_boards: tuple[float, ...]
    why: str


def pore_volume(volume: float, porosity: float) -> float:
    """Water that passes through the pores of the whole bed once.

    Parameters
    ----------
    volume : float
        Volume of the media. [m3]
    porosity : float
        Effective porosity. [-]

    Returns
    -------
    float
        Volume of water. [m3]

    Notes
    -----
    V_p = n V    (levenspiel1999)

    All of the media, also where a lower setting leaves its top dry: it is flushed when the boards
    go in.

    References
    ----------
    levenspiel1999, space time
    """
    return porosity * volume


def flow_through(drain_flow: float, capacity: float) -> float:
    """Flow that goes through a new bed, the rest going over the bypass boards.

    Parameters
    ----------
    drain_flow : float
        Flow of the drains. [m3/s]
    capacity : float
        Flow that new media take at the bypass crest. [m3/s]

    Returns
    -------
    float
        The lesser of the two. [m3/s]

    Notes
    -----
    Q = min(Q_drains, Q_new)    (derived)

    References
    ----------
    derived, what the bed does not take goes over the boards
    """
    return min(drain_flow, capacity)


def pore_volumes_per_day(flow: float, volume: float) -> float:
    """How many times a day the water in a bed is renewed.

    Parameters
    ----------
    flow : float
        Flow through the bed. [m3/s]
    volume : float
        Water in its pores. [m3]

    Returns
    -------
    float
        Pore volumes in a day. [1/day]

    Raises
    ------
    OutOfDomain
        If the bed holds no water.

    Notes
    -----
    N = 86400 Q / V_p    (derived)

    References
    ----------
    derived, flow over volume
    """
    if volume <= 0:
        raise OutOfDomain(
            f"volume is {volume:.4g} m3. A bed holds water in its pores. Check its size."
        )
    return DAY * flow / volume


def days_to_flush(pore_volumes: float, per_day: float) -> float:
    """Days until a number of pore volumes has passed.

    Parameters
    ----------
    pore_volumes : float
        Pore volumes to let through. [-]
    per_day : float
        Pore volumes in a day. [1/day]

    Returns
    -------
    float
        Days; infinite where nothing flows. [days]

    Notes
    -----
    t = N / N_d    (derived)

    References
    ----------
    derived, number over rate
    """
    return pore_volumes / per_day if per_day > 0 else inf


def least_flow(volume: float, longest: float) -> float:
    """Flow below which water stays in the bed longer than a time.

    Parameters
    ----------
    volume : float
        Water in the pores of the bed. [m3]
    longest : float
        Longest time that it should stay. [s]

    Returns
    -------
    float
        Flow. [m3/s]

    Notes
    -----
    Q = V_p / t    (derived)

    References
    ----------
    derived, volume over time
    """
    return volume / longest


def season_of_most_flushing(**per_day: float) -> str:
    """Season whose flow renews the water of the bed most often.

    Parameters
    ----------
    **per_day : float
        Pore volumes in a day, by season. [1/day]

    Returns
    -------
    str
        Name of the season; the first of equals. [-]

    Notes
    -----
    season = argmax N    (practice)

    References
    ----------
    practice, a new bed is started at high flow
    """
    return max(per_day, key=lambda name: per_day[name]).replace("_", "-")


def start_up_steps(
    inlet_stack: Sequence[float],
    outlet_stack: Sequence[float],
    per_day: float,
    pore_volumes_first: float,
    pore_volumes_last: float,
    pace: float,
) -> tuple[StartUpStep, ...]:
    """Boards of the first weeks, from the outlet boards all out to the design setting.

    Parameters
    ----------
    inlet_stack, outlet_stack : sequence of float
        Stacks of the design setting, from the sill up. [m]
    per_day : float
        Pore volumes in a day. [1/day]
    pore_volumes_first, pore_volumes_last : float
        Pore volumes after which the first and the last outlet board go in. [-]
    pace : float
        Least time between two boards. [s]

    Returns
    -------
    tuple of StartUpStep
        Settings in their order; whole days. [-]

    Raises
    ------
    OutOfDomain
        If nothing flows: the bed is never flushed.

    Notes
    -----
    board j of n goes in after N_1 + (N_2 - N_1) (j - 1) / (n - 1) pore volumes    (practice)

    The inlet boards stand at the design setting throughout, so that the bed is fed. A stack of one
    board goes in after the last number.

    References
    ----------
    practice, 3 to 10 pore volumes at a time of high flow, boards raised in steps
    """
    if per_day <= 0:
        raise OutOfDomain(
            f"per_day is {per_day:.4g} 1/day. A bed is flushed by a flow. "
            "Start it in a season in which the drains run."
        )
    inlet, outlet = tuple(inlet_stack), tuple(outlet_stack)
    boards = len(outlet)
    ends: list[float] = []
    for board in range(1, boards + 1):
        part = (board - 1) / (boards - 1) if boards > 1 else 1.0
        passed = pore_volumes_first + (pore_volumes_last - pore_volumes_first) * part
        due = ceil(passed / per_day - 1e-9)
        earliest = (ends[-1] if ends else 0.0) + max(1.0, ceil(pace / DAY))
        ends.append(max(float(due), earliest))
    steps = []
    for count in range(boards + 1):
        start = ends[count - 1] if count else 0.0
        end = ends[count] if count < boards else inf
        why = SET if count == boards else FLUSH if count == 0 else RAISE
        steps.append(StartUpStep(start, end, inlet, outlet[:count], why))
    return tuple(steps)


def step_begins(steps: Sequence[StartUpStep], number: float) -> float:
    """Day on which a setting of the first weeks begins.

    Parameters
    ----------
    steps : sequence of StartUpStep
        The settings in their order. [-]
    number : float
        Which of them, counted from 1. [-]

    Returns
    -------
    float
        Days since water was first let in. [days]

    Notes
    -----
    day of the board before it    (practice)

    References
    ----------
    practice, boards raised in steps
    """
    return steps[int(number) - 1].from_day


def step_ends(steps: Sequence[StartUpStep], number: float) -> float:
    """Day on which a setting of the first weeks ends.

    Parameters
    ----------
    steps : sequence of StartUpStep
        The settings in their order. [-]
    number : float
        Which of them, counted from 1. [-]

    Returns
    -------
    float
        Days since water was first let in; infinite for the last. [days]

    Notes
    -----
    day of the next board    (practice)

    References
    ----------
    practice, boards raised in steps
    """
    return steps[int(number) - 1].to_day

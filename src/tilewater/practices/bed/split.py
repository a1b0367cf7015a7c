# SPDX-License-Identifier: Apache-2.0
"""Tables of how an inflow divides between bed and bypass, for the settings of the boards.

Made once from the whole balance of `system`, read thousands of times by the daily routing. A table
can be held to the balance itself, off its knots: see `split_error`. The bare arithmetic is in
`_split`.
"""

from collections.abc import Sequence

import numpy as np

from tilewater.basis.compiled import compiled
from tilewater.basis.domain import refuse
from tilewater.hydraulics._board_set import BoardSet
from tilewater.hydraulics.media_conductivity import filter_velocity_forchheimer
from tilewater.practices.bed import _split
from tilewater.practices.bed._split import Array, Divided, SplitTable, Whole
from tilewater.practices.bed._system import Machine
from tilewater.practices.bed.capacity import Media
from tilewater.practices.bed.works import BedPath, Shape, first_shape

__all__ = [
    "Divided",
    "SplitTable",
    "apparent_conductivity",
    "bed_gradient_of",
    "empty_table",
    "read_split",
    "read_split_series",
    "split_table",
    "stage_knots",
]

UNDER, OVER = 8, 12
"""Steps of a table under capacity and over it."""
STAGES = 10
"""Knots of the ditch between the outlet crest and the bypass crest."""
BELOW_CREST = 0.15
"""How far below the outlet crest the ditch begins to be told apart. [m]"""
ABOVE_CREST = (0.005, 0.015, 0.04, 0.08, 0.15, 0.25, 0.4, 0.6, 0.85, 1.15, 1.5, 2.0)
"""Knots of the ditch above the bypass crest. [m]"""


def apparent_conductivity(media: Media, gradient: float) -> float:
    """Conductivity that media show at a gradient, inertia included.

    Parameters
    ----------
    media : Media
        Conductivity and inertia. [-]
    gradient : float
        Fall of the water surface per length. [-]

    Returns
    -------
    float
        Filter velocity over gradient. [m/s]

    Notes
    -----
    K' = q / i,  i = q / K + b q^2    (forchheimer1901)

    References
    ----------
    forchheimer1901, quadratic resistance
    """
    velocity = filter_velocity_forchheimer(
        gradient, conductivity=media.conductivity, inertia=media.inertia
    )
    return float(velocity) / gradient


def apparent_conductivities(media_pairs: Array, gradient: float) -> Array:
    """Conductivities that several media show at a gradient.

    Parameters
    ----------
    media_pairs : array of shape (media, 2)
        Conductivity in m/s and inertia in s2/m2. [-]
    gradient : float
        Fall of the water surface per length. [-]

    Returns
    -------
    array of shape (media,)
        As `apparent_conductivity` has them one by one. [m/s]

    Notes
    -----
    K' = q / i,  i = q / K + b q^2    (forchheimer1901)

    References
    ----------
    forchheimer1901, quadratic resistance
    """
    velocity = filter_velocity_forchheimer(
        gradient, conductivity=media_pairs[:, 0], inertia=media_pairs[:, 1]
    )
    return np.asarray(velocity / gradient)


def bed_gradient(machine: Machine) -> float:
    """Gradient of the bed between its two crests, at which media are told apart.

    Parameters
    ----------
    machine : Machine
        The whole between main and ditch. [-]

    Returns
    -------
    float
        Fall from bypass crest to outlet crest over the flow length, at least 0.001. [-]

    Notes
    -----
    i = (z_bypass - z_outlet) / L    (derived)

    References
    ----------
    derived, the fall there is
    """
    bypass, outlet = machine.bypass_boards, machine.outlet_boards
    return _gradient(bypass, outlet, machine.cells[0].length)


def bed_gradient_of(path: BedPath, bypass_boards: BoardSet, shape: Shape) -> float:
    """Gradient of a bed between its two crests, at which media are told apart.

    Parameters
    ----------
    path : BedPath
        Pipes, headers and outlet boards. [-]
    bypass_boards : BoardSet
        Boards of the diversion. [-]
    shape : BedShape or Cells
        Size of the media. [-]

    Returns
    -------
    float
        Fall from bypass crest to outlet crest over the flow length, at least 0.001. [-]

    Notes
    -----
    i = (z_bypass - z_outlet) / L    (derived)

    References
    ----------
    derived, the fall there is
    """
    return _gradient(bypass_boards, path.outlet, first_shape(shape).length)


def _gradient(bypass: BoardSet, outlet: BoardSet, length: float) -> float:
    """Fall between two crests over a length, at least 0.001."""
    return max(0.001, (bypass.crest - outlet.crest) / length)


def stage_knots(machine: Machine, highest: float) -> Array:
    """Ditch levels that a table is made for.

    Parameters
    ----------
    machine : Machine
        The whole between main and ditch. [-]
    highest : float
        Highest level of the ditch that may come, such as the top of its bank. [m]

    Returns
    -------
    array of shape (stages,)
        Rising levels, from one that no part feels up to the highest; always as many. [m]

    Notes
    -----
    One below every invert, two under the outlet crest, even steps from there to the bypass crest,
    then ever longer steps to the highest.    (derived)

    References
    ----------
    derived, knots where the ditch begins to matter
    """
    bypass, outlet = machine.bypass_boards.crest, machine.outlet_boards.crest
    end = machine.lower.invert_down if machine.joined else machine.outflow.invert_down
    middle = min(outlet, bypass - 0.01)
    first = middle - BELOW_CREST
    lowest = min(end, machine.bypass.invert_down, first - 0.01)
    knots = [lowest, first, middle - 0.3 * BELOW_CREST, *np.linspace(middle, bypass, STAGES)]
    knots += [bypass + above for above in ABOVE_CREST]
    knots[-1] = max(knots[-1], highest)
    return np.array(knots)


def split_table(
    settings: Sequence[Sequence[Machine]], *, highest_stage: float, most: float
) -> SplitTable:
    """Table of how inflows divide, for one or more settings of the boards and several media.

    Parameters
    ----------
    settings : sequence of sequence of Machine
        For each setting the works with media from the worst to the best; at least two media, the
        same in each setting. [-]
    highest_stage : float
        Highest level of the ditch. [m]
    most : float
        Largest inflow. [m3/s]

    Returns
    -------
    SplitTable

    Raises
    ------
    OutOfDomain
        If there are fewer than two media, they do not rise, or `most` is not above 0.

    Notes
    -----
    Values of `split_in_balance` on the knots, straight lines between    (derived)

    References
    ----------
    derived, tabulated balance
    """
    known = np.array([[m.cells[0].conductivity, m.cells[0].inertia] for m in settings[0]])
    table = empty_table([each[0] for each in settings], known, highest_stage, most)
    fill = compiled(_split.fill_one)
    for setting, media in enumerate(settings):
        twin = next((each for each in range(setting) if settings[each] == media), None)
        if twin is not None:  # seasons often share their boards
            for part in (table.capacity, table.under, table.over):
                part[setting] = part[twin]
            continue
        for row, machine in enumerate(media):
            fill(setting, row, machine, table)
    return table


def empty_table(
    works: Sequence[Machine], media_rows: Array, highest_stage: float, most: float
) -> SplitTable:
    """Table of how inflows divide with its knots laid and nothing filled yet.

    Parameters
    ----------
    works : sequence of Machine
        Works of each setting of the boards, with any media. [-]
    media_rows : array of shape (media, 2)
        Conductivity in m/s and inertia in s2/m2 of the media, from the worst to the best. [-]
    highest_stage : float
        Highest level of the ditch. [m]
    most : float
        Largest inflow. [m3/s]

    Returns
    -------
    SplitTable
        What is not filled is not a number.

    Raises
    ------
    OutOfDomain
        If there are fewer than two media, they do not rise, or `most` is not above 0.

    References
    ----------
    derived, knots of a table
    """
    if most <= 0:
        raise refuse("most", most, "m3/s", "The largest inflow lies above 0", "Check the peak")
    conductivity = apparent_conductivities(media_rows, bed_gradient(works[0]))
    if conductivity.size < 2 or np.any(np.diff(conductivity) <= 0):
        raise refuse(
            "conductivity",
            float(conductivity[-1]),
            "m/s",
            "A table takes two media or more, from the worst to the best",
            "Give them in rising order",
        )
    stage = np.array([stage_knots(each, highest_stage) for each in works])
    both = (len(works), conductivity.size, stage.shape[1])
    return SplitTable(
        conductivity,
        stage,
        float(most),
        np.full(both, np.nan),
        np.full((*both, UNDER + 1, 3), np.nan),
        np.full((*both, OVER + 1, 3), np.nan),
    )


def read_split(
    table: SplitTable, inflow: float, *, conductivity: float, stage: float, setting: int = 0
) -> Divided:
    """How one inflow divides, by a table.

    Parameters
    ----------
    table : SplitTable
        Table of the setting. [-]
    inflow : float
        Flow that comes down the main. [m3/s]
    conductivity : float
        As `apparent_conductivity` has it. [m/s]
    stage : float
        Water in the ditch. [m]
    setting : int
        Number of the setting. [-]

    Returns
    -------
    Divided

    Notes
    -----
    Straight lines between knots; values beyond an end count as the end    (derived)

    References
    ----------
    derived, tabulated balance
    """
    return _split.divide_by(float(inflow), float(conductivity), float(stage), setting, table)


def read_split_series(
    table: SplitTable, inflow: Array, *, conductivity: Array, stage: Array, setting: Whole
) -> Array:
    """How a series of inflows divides, by a table.

    Parameters
    ----------
    table : SplitTable
        Table of the setting. [-]
    inflow : array of shape (n,)
        Flow that comes down the main. [m3/s]
    conductivity : array of shape (n,)
        As `apparent_conductivity` has it. [m/s]
    stage : array of shape (n,)
        Water in the ditch. [m]
    setting : array of int of shape (n,)
        Number of the setting of each day. [-]

    Returns
    -------
    array of shape (n, 3)
        Flow through the bed in m3/s, level at the diversion in m, media under water in m3. [-]

    References
    ----------
    derived, tabulated balance
    """
    out = np.empty((inflow.size, 3))
    compiled(_split.divide_series)(inflow, conductivity, stage, setting, table, out)
    return out

# SPDX-License-Identifier: Apache-2.0
"""The woodchip bed as the chain designs it: its steps in order, and what only a bed is held to."""

from tilewater.basis.requirement import Requirement
from tilewater.basis.trace import Trace
from tilewater.chain.cross import add_cross
from tilewater.chain.days import add_days, tell_days
from tilewater.chain.days_rules import BED_BY_DRAW, add_bed_by_draw
from tilewater.chain.practice import Omission, Practice
from tilewater.chain.removal import add_removal
from tilewater.practices.bed import (
    aging,
    board_steps,
    capacity_steps,
    emptying_steps,
    frost_steps,
    groundwater_steps,
    ladder,
    quantities,
    season_steps,
    settings,
    start_up_steps,
    steps,
    system_steps,
)

OF_BUFFER = Omission(
    keys=(
        r"inputs\.buffer",
        r"inputs\.(auger_hole|slug_test|soil_layer)\.",
        r"inputs\.season\.[^.]+\.head_boards_m$",
    )
)
"""What only a buffer is designed from."""


def add_bed_boards(trace: Trace) -> None:
    """Record the boards of both structures and their ratings."""
    settings.add_boards(trace)
    board_steps.add_board_sets(trace)


def add_bed(trace: Trace) -> None:
    """Record everything of a bed that a day of flow does not change."""
    steps.add_depths(trace)
    system_steps.add_stage(trace)
    system_steps.add_pipes(trace)
    system_steps.add_paths(trace)
    quantities.add_cut_margin(trace)
    steps.add_shape(trace)
    capacity_steps.add_capacity(trace)
    emptying_steps.add_way_out(trace)
    aging.add_lining(trace)
    aging.add_life(trace)
    ladder.add_ladder(trace)
    season_steps.add_seasons(trace)
    groundwater_steps.add_uplift(trace)
    emptying_steps.add_emptying(trace)
    frost_steps.add_frost(trace)
    quantities.add_quantities(trace)
    start_up_steps.add_start_up(trace)


def judge_site_of_bed(trace: Trace) -> None:
    """Hold the cut of a bed to the ground that it may use, and to the right of way."""
    _judge_footprint(trace)
    _judge_right_of_way(trace)
    _judge_widest_cut(trace)


def _judge_footprint(trace: Trace) -> None:
    for side in ("length", "width"):
        given = f"inputs.bed.footprint_{side}_m"
        if given not in trace:
            continue
        trace.compute(
            f"footprint.{side}_m",
            top_of_cut,
            unit="m",
            title=f"{side.capitalize()} of the cut at the ground",
            floor=f"bed.{side}_bottom_m",
            margin="quantities.cut_margin_m",
        )
        trace.require(
            Requirement(
                key=f"footprint.{side}",
                title=f"{side.capitalize()} of the cut within the ground that may be used",
                value=f"footprint.{side}_m",
                operator="<=",
                limit=given,
                unit="m",
                scale=3.048,
                where="bed",
            )
        )


def _judge_right_of_way(trace: Trace) -> None:
    edge, width = "inputs.ditch.edge_distance_m", "inputs.ditch.right_of_way_m"
    if edge not in trace or width not in trace:
        return
    trace.require(
        Requirement(
            key="right_of_way",
            title="Edge of the cut outside the right of way of the ditch",
            value=edge,
            operator=">=",
            limit=width,
            unit="m",
            scale=3.048,
            where="bed",
        )
    )


def _judge_widest_cut(trace: Trace) -> None:
    widest = "inputs.site.widest_cut_m"
    if widest not in trace:
        return
    trace.compute(
        "footprint.across_m",
        across_cut,
        unit="m",
        title="Cut at the ground, its shorter side",
        length_bottom="bed.length_bottom_m",
        width_bottom="bed.width_bottom_m",
        margin="quantities.cut_margin_m",
    )
    trace.require(
        Requirement(
            key="widest_cut",
            title="Cut no wider than may be made in this ground",
            value="footprint.across_m",
            operator="<=",
            limit=widest,
            unit="m",
            scale=3.048,
            where="bed",
        )
    )


def across_cut(length_bottom: float, width_bottom: float, margin: float) -> float:
    """Shorter side of the cut at the ground.

    Parameters
    ----------
    length_bottom, width_bottom : float
        Of the floor. [m]
    margin : float
        Top of the cut outside the floor, on each side. [m]

    Returns
    -------
    float
        Shorter side at the ground. [m]

    Notes
    -----
    across = min(l, w) + 2 margin    (derived)

    References
    ----------
    derived, the shorter of two sums
    """
    return min(length_bottom, width_bottom) + 2 * margin


def top_of_cut(floor: float, margin: float) -> float:
    """Length or width of the cut at the ground.

    Parameters
    ----------
    floor : float
        Length or width of the floor. [m]
    margin : float
        Top of the cut outside the floor, on each side. [m]

    Returns
    -------
    float
        Length or width at the ground. [m]

    Notes
    -----
    top = floor + 2 margin    (derived)

    References
    ----------
    derived, a sum
    """
    return floor + 2 * margin


BED = Practice(
    name="bed",
    words="woodchip bed",
    standard="605",
    edition="2020",
    has_ways=True,
    leaves_out=OF_BUFFER,
    add_boards=add_bed_boards,
    add_crests=ladder.add_crests,
    add=add_bed,
    add_days=add_days,
    add_removal=add_removal,
    tell_days=tell_days,
    judge_site=judge_site_of_bed,
    add_section=add_cross,
    add_by_draw=add_bed_by_draw,
    by_draw=BED_BY_DRAW,
)

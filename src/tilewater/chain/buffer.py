# SPDX-License-Identifier: Apache-2.0
"""The saturated buffer as the chain designs it: its steps in order, and what it is held to."""

from tilewater.basis.findings import Finding
from tilewater.basis.requirement import Requirement
from tilewater.basis.trace import Trace
from tilewater.chain.buffer_days import (
    BUFFER_BY_DRAW,
    add_buffer_by_draw,
    add_days_of_buffer,
    tell_buffer_days,
)
from tilewater.chain.buffer_levels import add_buffer_crests, add_buffer_levels
from tilewater.chain.buffer_removal import add_buffer_removal
from tilewater.chain.nitrate_days import nitrate_key
from tilewater.chain.practice import Omission, Practice
from tilewater.practices.bed import groundwater_steps
from tilewater.practices.buffer import quantities, steps
from tilewater.practices.buffer.board_steps import add_buffer_boards
from tilewater.practices.rules import same

FOOT = 0.3048
OF_BED = Omission(
    keys=(
        r"inputs\.(bed|media|cell|frost)\.",
        r"inputs\.structure\.outlet\.",
        r"inputs\.boards\.outlet_m$",
        r"inputs\.season\.[^.]+\.(outlet_boards|groundwater)_m$",
        r"inputs\.place\.(bed|outlet|footprint|cell-[^.]+)\.",
        r"inputs\.groundwater\.(building|finished)_m$",
        r"inputs\.money\.(recharge_share|media_years)$",
        r"inputs\.estimate\.(order_allowance|fabric_allowance|lap_m)$",
        r"inputs\.site\.ground_at_bed_m$",
        r"inputs\.ditch\.edge_distance_m$",
    ),
    pipe_uses=frozenset({"feed", "inlet header", "outlet header", "bed outlet", "return"}),
)
"""What only a bed is designed from."""
CAPACITY = {
    "flow_m3_s": ("buffer.flow_m3_s", "m3/s", "Flow into the buffer on the criterion line"),
    "share_of_peak": ("buffer.share_of_peak", "-", "Share of the peak into the buffer"),
}
"""What stands under the names that every practice has."""


def add_buffer(trace: Trace) -> None:
    """Record everything of a buffer that a day of flow does not change."""
    steps.add_ground(trace, nitrate_key(trace))
    for name, (value, unit, title) in CAPACITY.items():
        trace.compute(f"capacity.criterion.{name}", same, unit=unit, title=title, value=value)
    trace.compute(
        "capacity.criterion.retention_h",
        hours_of,
        unit="h",
        title="Time from the line to the ditch",
        days="buffer.travel_time_days",
    )
    groundwater_steps.add_boxes(trace, ("inlet",))
    add_buffer_levels(trace)
    quantities.add_quantities(trace)
    _tell_of_bank(trace)


def judge_site_of_buffer(trace: Trace) -> None:
    """Hold the trench of the line to the widest cut that the ground may be given."""
    widest = "inputs.site.widest_cut_m"
    if widest in trace:
        trace.require(
            Requirement(
                key="widest_cut",
                title="Trench of the line no wider than may be cut in this ground",
                value="inputs.buffer.trench_width_m",
                operator="<=",
                limit=widest,
                unit="m",
                scale=3.048,
                where="line",
                exact=True,
            )
        )


AT_STAKE = (
    "The factors leave out roots, cracks, layers and undercutting. They rank banks; they do not "
    "clear one."
)
"""What a range of factors of safety is worth."""
FEW = 0.05


def flow_rule_words(trace: Trace) -> str:
    """The flow rule in a sentence: by which arm it is met, and whether that is worth it."""
    if not trace.known("buffer.share_of_peak", "buffer.length_share"):
        return "The flow rule cannot be judged yet."
    share, length = (float(trace.value(f"buffer.{n}")) for n in ("share_of_peak", "length_share"))
    takes = f"takes {share:.1%} of the capacity"
    if share >= FEW:
        return f"Meets the flow rule by its first arm: {takes}."
    if length >= 1.0:
        return f"Meets the flow rule by its second arm, the whole length; {takes}: poor value."
    return f"Meets neither arm of the flow rule: {takes} and uses {length:.1%} of the length."


def _tell_of_bank(trace: Trace) -> None:
    """What goes with water that is let into a bank on purpose."""
    trace.findings.append(
        Finding(
            "bank-watch",
            "caution",
            "Bank",
            "Water is let into the bank on purpose. Walk it in the first spring and after every "
            "high water: cracks along the top, soft places and running sand call for lower boards "
            "until somebody who knows soils has looked.",
            source="practice",
        )
    )


def hours_of(days: float) -> float:
    """A time in hours.

    Parameters
    ----------
    days : float
        Time. [days]

    Returns
    -------
    float
        The same. [h]

    Notes
    -----
    24 t    (derived)

    References
    ----------
    derived, hours of a day
    """
    return 24.0 * days


def add_no_section(trace: Trace) -> None:
    """The section across a buffer is drawn from its own steps; nothing is added."""


BUFFER = Practice(
    name="buffer",
    words="saturated buffer",
    standard="604",
    edition="2020",
    has_ways=False,
    leaves_out=OF_BED,
    add_boards=add_buffer_boards,
    add_crests=add_buffer_crests,
    add=add_buffer,
    add_days=add_days_of_buffer,
    add_removal=add_buffer_removal,
    tell_days=tell_buffer_days,
    judge_site=judge_site_of_buffer,
    add_section=add_no_section,
    add_by_draw=add_buffer_by_draw,
    by_draw=BUFFER_BY_DRAW,
)

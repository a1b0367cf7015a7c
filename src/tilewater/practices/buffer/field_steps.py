# SPDX-License-Identifier: Apache-2.0
"""Steps of the ground behind the line: how wet the edge of the field gets from the raised water.

The spots along the main are held to their limits as with a bed; this is the strip of field beside
the line, where no lateral need be. Behind the line the water stands level with it.
"""

from tilewater.basis.requirement import SCALES, Requirement
from tilewater.basis.trace import Trace
from tilewater.practices.bed.board_steps import set_key
from tilewater.practices.bed.settings import DESIGN
from tilewater.practices.buffer.board_steps import field_level
from tilewater.practices.buffer.givens import LINE, needed
from tilewater.practices.rules import difference
from tilewater.practices.wetness import standing_clear_soil


def add_field_side(trace: Trace) -> None:
    """Record the clear soil at the edge of the field, and the storm level before both sets."""
    ground = needed(
        trace, f"{LINE}.ground_at_field_edge_m", "Ground at the edge of the field", "m", "shoot it"
    )
    crest = f"buffer.field_crest.{DESIGN}_m"
    trace.compute(
        "buffer.field_edge.standing_m",
        standing_clear_soil,
        unit="m",
        title="Clear soil at the edge of the field over the water held at the line",
        ground=ground,
        crest="boards.inlet-design.crest_m",
        drain=f"{LINE}.line_invert_m",
    )
    limit = needed(trace, "inputs.limits.standing_m", "Clear soil to keep", "m", "decide it")
    trace.require(
        Requirement(
            key="buffer.field_edge",
            title="Clear soil at the edge of the field over the water held at the line",
            value="buffer.field_edge.standing_m",
            operator=">=",
            limit=limit,
            unit="m",
            scale=SCALES["clear soil"],
            where="field edge",
        )
    )
    _add_storm(trace, crest)


def _add_storm(trace: Trace, crest: str) -> None:
    head = set_key("head")
    trace.compute(
        "buffer.storm.level_m",
        field_level,
        unit="m",
        title="Water where the main comes in, main just full, line shut off",
        flow="drain_flow.full_m3_s",
        tailwater=needed(trace, "inputs.main.invert_outlet_m", "Outlet of the main", "m", "shoot"),
        bypass=set_key("inlet"),
        **({"head": head} if head in trace else {}),
    )
    trace.compute(
        "buffer.storm.head_m",
        difference,
        unit="m",
        title="That water over the crest that holds the field",
        upper="buffer.storm.level_m",
        lower=crest,
    )

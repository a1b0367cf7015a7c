# SPDX-License-Identifier: Apache-2.0
"""Which boards hold the water of the field: the bypass boards, or the head boards before them."""

from tilewater.basis.trace import Trace
from tilewater.practices.bed import rating_steps
from tilewater.practices.bed.board_steps import set_key
from tilewater.practices.bed.settings import DESIGN
from tilewater.practices.buffer.field_steps import add_head_over_both

OUTLET_OF_MAIN = "inputs.main.invert_outlet_m"


def field_crest(trace: Trace, setting: str = DESIGN) -> str:
    """Key of the crest that the water of the field stands at in a setting."""
    held = f"buffer.field_crest.{setting}_m"
    return held if held in trace else f"boards.inlet-{setting}.crest_m"


def add_field_head(trace: Trace, group: str, flow: str, title: str) -> None:
    """Record the head of a flow over that crest and its range, drowned where two sets stand."""
    if set_key("head") in trace:
        add_head_over_both(trace, group, flow, title, OUTLET_OF_MAIN)
    else:
        rating_steps.add_bypass_head(trace, group, flow, title)

# SPDX-License-Identifier: Apache-2.0
"""The steps of a buffer in their order, for the chain to call.

What must be in the trace before: the inputs of the job; `ditch.SEASON.stage_m` for each season, or
for "year" where there are none; `drain_flow.peak_for_share_m3_s`, `drain_flow.full_m3_s`,
`drain_flow.mean_flow_m3_s` and `drain_flow.annual_load_kg`; for the days also `water.flow_m3_s`,
`days.series` and `days.year`. Rows of the standard are judged afterwards, by its data file.
"""

from tilewater.basis.trace import Trace
from tilewater.practices.buffer import (
    bank_steps,
    board_steps,
    day_steps,
    field_steps,
    line_steps,
    quantities,
    removal_steps,
    rule_steps,
    soil_steps,
)


def add_buffer(trace: Trace) -> None:
    """Record the whole buffer, from its boards to its quantities."""
    board_steps.add_buffer_boards(trace)
    add_ground(trace)
    quantities.add_quantities(trace)
    if "days.series" in trace:
        day_steps.add_buffer_days(trace)


def add_ground(trace: Trace, nitrate: str = removal_steps.NITRATE) -> None:
    """Record the buffer behind its boards: soil, line, edge of the field, bank, rules, removal.

    `nitrate` is the key of the nitrate that loads are counted with.
    """
    soil_steps.add_soil(trace)
    line_steps.add_line(trace)
    field_steps.add_field_side(trace)
    bank_steps.add_bank(trace)
    rule_steps.add_rules(trace)
    removal_steps.add_removal(trace, nitrate)

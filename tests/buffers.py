# SPDX-License-Identifier: Apache-2.0
"""A buffer for tests: Merridew Farm as its hand arithmetic has it, as inputs of a trace.

38 acres, an 8-inch main of 0.620 cfs, bypass crest 742.5 on a sill of 737.9, restrictive layer at
735.0, ditch at 738.0, a strip of 55 ft with 1,100 ft of
perforated line and 20 ft of solid pipe at the structure to each side. Invented, as its people and
county are.
"""

from collections.abc import Mapping
from functools import cache

from tests.jobs import CFS, FOOT, INCH
from tilewater.basis.trace import Given, Trace, Value
from tilewater.practices.buffer.steps import add_buffer

DAY = 86400.0
PSF_PER_PA = 0.0208854

MERRIDEW: dict[str, Value] = {
    "inputs.boards.heights_m": (6.9 * INCH,),
    "inputs.boards.seal_gap_m": 0.0,
    "inputs.boards.inlet_m": 55.2 * INCH,
    "inputs.structure.inlet.sill_m": 737.9 * FOOT,
    "inputs.structure.inlet.rim_m": 746.2 * FOOT,
    "inputs.structure.inlet.crest_width_m": 1.0 * FOOT,
    "inputs.structure.inlet.crest_kind": "sharp",
    "inputs.buffer.width_m": 55 * FOOT,
    "inputs.buffer.branches_m": (550 * FOOT, 550 * FOOT),
    "inputs.buffer.length_available_m": 1140 * FOOT,
    "inputs.buffer.pipe_diameter_m": 4 * INCH,
    "inputs.buffer.line_invert_m": 742.0 * FOOT,
    "inputs.buffer.line_fall_m": 0.05 * FOOT,
    "inputs.buffer.ground_at_line_m": 745.6 * FOOT,
    "inputs.buffer.ground_at_field_edge_m": 746.4 * FOOT,
    "inputs.buffer.trench_width_m": 12 * INCH,
    "inputs.buffer.envelope": "gravel",
    "inputs.buffer.solid_at_structure_m": 20 * FOOT,
    "inputs.buffer.barrier_m": 735.0 * FOOT,
    "inputs.buffer.vegetation": "perennial",
    "inputs.buffer.bank_slope": 1.5,
    "inputs.buffer_soil.conductivity_survey_m_s": 9e-6,
    "inputs.buffer_soil.organic_carbon": 0.019,
    "inputs.buffer_soil.organic_depth_m": 2.5 * FOOT,
    "inputs.buffer_soil.sand_depth_m": 8 * FOOT,
    "inputs.ditch.bank_top_m": 744.9 * FOOT,
    "inputs.ditch.bottom_m": 737.2 * FOOT,
    "inputs.main.invert_outlet_m": 737.69 * FOOT,
    "inputs.limits.standing_m": 2.0 * FOOT,
    "inputs.nitrate.mean_mg_per_l": 11.8,
    "ditch.year.stage_m": 738.0 * FOOT,
    "drain_flow.peak_for_share_m3_s": 0.620 * CFS,
    "drain_flow.full_m3_s": 0.620 * CFS,
    "drain_flow.mean_flow_m3_s": 0.0798 * CFS,
    "drain_flow.annual_load_kg": 965 * 0.45359237,
}

HOLES = {"a1": 8.0, "a2": 9.0, "a3": 10.125}
"""Three auger holes whose geometric mean is 9.0 ft/day. [ft/day]"""


def hole_inputs(name: str, feet_per_day: float) -> dict[str, Value]:
    """Readings of an auger hole in soil of a conductivity, by the formula turned round.

    Radius 2 in, hole from 4 to 8 ft, read while it fills from 1.05 to 0.95 ft of drawdown.
    """
    r, depth, y = 2 * INCH, 4 * FOOT, 1.0 * FOOT
    constant = 4000 * r / ((20 + depth / r) * (2 - y / depth) * y * 864)
    rate = feet_per_day * FOOT / DAY / constant
    here = f"inputs.auger_hole.{name}"
    return {
        f"{here}.radius_m": r,
        f"{here}.depth_m": 8 * FOOT,
        f"{here}.water_table_m": 4 * FOOT,
        f"{here}.depths_m": (5.05 * FOOT, 4.95 * FOOT),
        f"{here}.times_s": (0.0, 0.1 * FOOT / rate),
    }


def merridew(changes: Mapping[str, Value] | None = None, *, holes: bool = True) -> Trace:
    """A trace with the inputs of Merridew Farm, some changed, before any step of a buffer."""
    inputs = dict(MERRIDEW)
    if holes:
        for name, conductivity in HOLES.items():
            inputs |= hole_inputs(name, conductivity)
    inputs |= changes or {}
    left = {key: value for key, value in inputs.items() if value is not None}
    return Trace.start(Given(key, value, "", key) for key, value in left.items())


def designed(changes: Mapping[str, Value] | None = None, *, holes: bool = True) -> Trace:
    """Merridew Farm with all steps of its buffer; without changes always the same trace."""
    return _unchanged(holes) if not changes else _designed(changes, holes)


@cache
def _unchanged(holes: bool) -> Trace:
    return _designed({}, holes)


def _designed(changes: Mapping[str, Value], holes: bool) -> Trace:
    trace = merridew(changes, holes=holes)
    add_buffer(trace)
    return trace

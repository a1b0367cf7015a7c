# SPDX-License-Identifier: Apache-2.0
"""Parts of the result record that tell of the bed: its size, its lines and its seasons."""

from tilewater.basis.trace import Trace
from tilewater.chain.plain import Record, plain
from tilewater.chain.result_season import snowmelt_record
from tilewater.practices.bed.capacity_steps import NODES

CAPACITY = (
    "flow_m3_s",
    "share_of_peak",
    "retention_h",
    "retention_drainable_h",
    "conductivity_m_s",
    "temperature_c",
    "age_years",
    "porosity",
    "porosity_kind",
    "wet_volume_m3",
    "depth_upstream_m",
    "depth_downstream_m",
)
BED = (
    "length_m",
    "length_bottom_m",
    "width_bottom_m",
    "width_mean_m",
    "side_slope",
    "media_depth_m",
    "floor_inlet_m",
    "floor_outlet_m",
    "media_volume_m3",
    "dead_pool_m",
)
CELL = ("length_bottom_m", "width_bottom_m", "length_m")
BALANCE = ("flow_m3_s", "bypass_flow_m3_s", "level_m", "bypass_head_m")


def bed_record(trace: Trace) -> Record:
    """Size of the bed, and of its cells where there are several."""
    record: Record = {name: plain(trace, f"bed.{name}") for name in BED}
    cells = trace.names("bed.cells")
    if cells:
        record["cells"] = {
            cell: {name: plain(trace, f"bed.cells.{cell}.{name}") for name in CELL}
            for cell in cells
        }
    return record


def capacity_record(trace: Trace) -> Record:
    """The capacity lines, with the water levels along the bed."""
    record: Record = {
        line: {name: plain(trace, f"capacity.{line}.{name}") for name in CAPACITY}
        | {"levels_m": _levels(trace, f"capacity.{line}")}
        for line in ("criterion", "spring", "new")
    }
    record["snowmelt"] = snowmelt_record(trace)
    record["spring"] |= {name: plain(trace, f"capacity.spring.{name}") for name in BALANCE}
    return record


def headers_record(trace: Trace) -> Record:
    """How evenly the two headers spread and gather the water."""
    return {
        f"header_{end}": {"evenness": plain(trace, f"system.header_{end}.evenness")}
        for end in ("inlet", "outlet")
    }


def seasons_record(trace: Trace) -> Record:
    """Each season at its bypass crest, and in balance with the main full."""
    return {
        season: {
            name: plain(trace, f"seasons.{season}.{name}")
            for name in ("flow_m3_s", "share_of_peak", "tailwater_depth_m")
        }
        | {
            "full": {name: plain(trace, f"seasons.{season}.full.{name}") for name in BALANCE}
            | {"levels_m": _levels(trace, f"seasons.{season}.full")}
        }
        for season in trace.names("seasons")
    }


def _levels(trace: Trace, here: str) -> Record:
    """Water from the diversion to the outlet structure."""
    return {node: plain(trace, f"{here}.levels_m.{node}") for node in NODES}

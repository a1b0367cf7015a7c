# SPDX-License-Identifier: Apache-2.0
"""Steps that solve bed, bypass and ditch: the capacity lines, balances and water levels."""

from tilewater.basis.trace import Trace
from tilewater.practices.bed import capacity, system_parts
from tilewater.practices.bed.board_steps import set_key
from tilewater.practices.bed.settings import DESIGN
from tilewater.practices.bed.system import (
    bed_flow_at_diversion,
    levels_along_bed,
    split_in_balance,
    wet_media_volume,
)
from tilewater.practices.bed.system_parts import (
    bed_flow_of,
    bypass_flow_of,
    level_of,
    pool_above,
)
from tilewater.practices.bed.system_steps import lower_main, path_key, tell_headers
from tilewater.practices.rules import difference, same

WORDS = {
    "criterion": "criterion line",
    "spring": "spring line",
    "new": "new media",
    "snowmelt": "snowmelt",
}
NODES = {
    "diversion": "in the diversion structure",
    "inlet_header": "in the inlet header",
    "inlet_end": "at the inlet end of the media",
    "outlet_end": "at the outlet end of the media",
    "outlet_header": "in the outlet header",
    "outlet_box": "in the outlet structure",
}
"""Where the levels along the bed are recorded, from the diversion down."""


def add_capacity(trace: Trace) -> None:
    """Record the criterion line, the spring line and the line of new media."""
    for line in ("criterion", "new"):
        trace.compute(
            f"capacity.{line}.flow_m3_s",
            bed_flow_at_diversion,
            unit="m3/s",
            title=f"Flow through the bed, {WORDS[line]}",
            level=f"boards.inlet-{DESIGN}.crest_m",
            tailwater="system.free_m",
            path=path_key(),
            shape="bed.shape",
            media=f"capacity.{line}.media",
        )
        add_line(trace, line, "system.free_m")
    add_balance(
        trace,
        "capacity.spring",
        "spring line",
        inflow="drain_flow.full_m3_s",
        stage="ditch.ordinary_m",
        media="capacity.spring.media",
    )
    add_line(trace, "spring", "capacity.spring.tailwater_m")
    tell_headers(trace)


def add_balance(
    trace: Trace,
    here: str,
    words: str,
    *,
    inflow: str,
    stage: str,
    media: str,
    setting: str = DESIGN,
) -> None:
    """Record how an inflow divides between bed and bypass boards, and the head it makes."""
    compute = trace.compute
    compute(
        f"{here}.split",
        split_in_balance,
        unit="",
        title=f"How the inflow divides between bed and bypass, {words}",
        inflow=inflow,
        stage=stage,
        path=path_key(setting),
        shape="bed.shape",
        media=media,
        bypass="system.bypass.pipe",
        bypass_boards=set_key("inlet", setting),
        **lower_main(trace),
    )
    for name, function, unit, title in (
        ("flow_m3_s", bed_flow_of, "m3/s", "Flow through the bed"),
        ("bypass_flow_m3_s", bypass_flow_of, "m3/s", "Flow over the bypass boards"),
        ("level_m", level_of, "m", "Water in the diversion structure"),
    ):
        compute(
            f"{here}.{name}", function, unit=unit, title=f"{title}, {words}", split=f"{here}.split"
        )
    compute(
        f"{here}.bypass_head_m",
        difference,
        unit="m",
        title=f"Water in the diversion above the bypass crest, {words}",
        upper=f"{here}.level_m",
        lower=f"boards.inlet-{setting}.crest_m",
    )
    if lower_main(trace):
        compute(
            f"{here}.tailwater_m",
            pool_above,
            unit="m",
            title=f"Water where the return comes into the main, {words}",
            flow=inflow,
            level_down=stage,
            pipe="system.lower.pipe",
        )
    else:
        compute(
            f"{here}.tailwater_m",
            same,
            unit="m",
            title=f"Water where the return ends, {words}",
            value=stage,
        )


def add_levels(
    trace: Trace, here: str, words: str, *, tailwater: str, media: str, setting: str = DESIGN
) -> None:
    """Record the water level at every part between the diversion and the outlet box."""
    trace.compute(
        f"{here}.levels",
        levels_along_bed,
        unit="",
        title=f"Water levels along the bed, {words}",
        flow=f"{here}.flow_m3_s",
        tailwater=tailwater,
        path=path_key(setting),
        shape="bed.shape",
        media=media,
    )
    for node, title in NODES.items():
        trace.compute(
            f"{here}.levels_m.{node}",
            getattr(system_parts, f"level_{node}"),
            unit="m",
            title=f"Water {title}, {words}",
            levels=f"{here}.levels",
        )


def add_line(trace: Trace, line: str, tailwater: str, setting: str = DESIGN) -> None:
    """Record share, levels, wet media and time in the bed of a line whose flow is recorded."""
    here, words = f"capacity.{line}", WORDS[line]
    compute = trace.compute
    compute(
        f"{here}.share_of_peak",
        capacity.share_of_flow,
        unit="-",
        title=f"Share of the peak through the bed, {words}",
        flow=f"{here}.flow_m3_s",
        peak="drain_flow.peak_for_share_m3_s",
    )
    add_levels(trace, here, words, tailwater=tailwater, media=f"{here}.media", setting=setting)
    for side, node in (("upstream", "inlet_end"), ("downstream", "outlet_end")):
        compute(
            f"{here}.depth_{side}_m",
            difference,
            unit="m",
            title=f"Water at the {node.replace('_end', '')} end of the media, {words}",
            upper=f"{here}.levels_m.{node}",
            lower="bed.floor_mean_m",
        )
    compute(
        f"{here}.wet_volume_m3",
        wet_media_volume,
        unit="m3",
        title=f"Media under water, {words}",
        flow=f"{here}.flow_m3_s",
        tailwater=tailwater,
        path=path_key(),
        shape="bed.shape",
        media=f"{here}.media",
    )
    _add_retention(trace, line, words)


def _add_retention(trace: Trace, line: str, words: str) -> None:
    here = f"capacity.{line}"
    compute = trace.compute
    compute(
        f"{here}.porosity",
        same,
        unit="-",
        title="Porosity that the time in the bed counts",
        value="inputs.media.porosity_effective",
    )
    trace.constant(f"{here}.porosity_kind", "effective", "Kind of the porosity", source="derived")
    compute(
        f"{here}.retention_h",
        capacity.retention_hours,
        unit="h",
        title=f"Time in the bed, {words}",
        wet_volume=f"{here}.wet_volume_m3",
        porosity=f"{here}.porosity",
        flow=f"{here}.flow_m3_s",
    )
    compute(
        f"{here}.retention_drainable_h",
        capacity.retention_hours,
        unit="h",
        title=f"Time in the bed counted with drainable porosity, {words}",
        wet_volume=f"{here}.wet_volume_m3",
        porosity="inputs.media.porosity_drainable",
        flow=f"{here}.flow_m3_s",
    )

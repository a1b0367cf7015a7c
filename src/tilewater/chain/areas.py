# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: how much of the drained area reaches the diversion."""

from tilewater.basis.findings import Finding
from tilewater.basis.told import acres, cfs
from tilewater.basis.trace import Trace, argument_name
from tilewater.chain.main_parts import main_roughness
from tilewater.hydraulics.pipes import drainage_flow, pipe_flow_full_manning
from tilewater.hydrology.main_flow import area_apart, area_at_diversion, area_below
from tilewater.practices.rules import same

AREA_ABOVE = "drain_flow.area_above_m2"
"""Area whose water the practice can see; the whole drained area without submains elsewhere."""
AREA_BELOW = "drain_flow.area_below_m2"
"""Area drained through the main below the diversion; there where a submain joins below."""
BELOW = "below the diversion"


def add_areas(trace: Trace) -> None:
    """Record the area above the diversion, and the area that drains through the main below it."""
    names = trace.names("inputs.submain")
    if not names:
        trace.compute(
            AREA_ABOVE,
            same,
            unit="m2",
            title="Area whose water reaches the diversion",
            value="inputs.drainage.area_m2",
        )
        return
    for name in names:
        trace.compute(
            f"submain.{name}.area_apart_m2",
            area_apart,
            unit="m2",
            title=f"Area of {name} whose water does not reach the diversion",
            area=f"inputs.submain.{name}.area_m2",
            joins=f"inputs.submain.{name}.joins",
        )
    trace.compute(
        AREA_ABOVE,
        area_at_diversion,
        unit="m2",
        title="Area whose water reaches the diversion",
        whole="inputs.drainage.area_m2",
        **{argument_name(name): f"submain.{name}.area_apart_m2" for name in names},
    )
    joining = [n for n in names if trace.value(f"inputs.submain.{n}.joins") == BELOW]
    if joining:
        trace.compute(
            AREA_BELOW,
            area_below,
            unit="m2",
            title="Area that drains through the main below the diversion",
            area_above=AREA_ABOVE,
            **{argument_name(name): f"inputs.submain.{name}.area_m2" for name in joining},
        )
    for name in names:
        _add_capacity(trace, name)
    _tell_share(trace)


def _add_capacity(trace: Trace, name: str) -> None:
    """What a submain carries full beside what its area brings, where its pipe is stated."""
    given = f"inputs.submain.{name}"
    parts = (f"{given}.diameter_m", f"{given}.slope", f"{given}.material")
    if not all(part in trace for part in parts):
        return
    diameter, slope, material = parts
    trace.compute(
        f"submain.{name}.n",
        main_roughness,
        unit="-",
        title=f"Roughness of {name} by its material",
        material=material,
        diameter=diameter,
    )
    trace.compute(
        f"submain.{name}.flow_full_m3_s",
        pipe_flow_full_manning,
        unit="m3/s",
        title=f"What {name} carries full",
        diameter=diameter,
        slope=slope,
        n=f"submain.{name}.n",
    )
    trace.compute(
        f"submain.{name}.flow_by_coefficient_m3_s",
        drainage_flow,
        unit="m3/s",
        title=f"Area of {name} times drainage coefficient",
        area=f"{given}.area_m2",
        drainage_coefficient="inputs.drainage.coefficient_m_s",
    )
    full, wanted = f"submain.{name}.flow_full_m3_s", f"submain.{name}.flow_by_coefficient_m3_s"
    if trace.known(full, wanted) and trace.value(full) < trace.value(wanted):
        carries, asked = float(trace.value(full)), float(trace.value(wanted))
        trace.findings.append(
            Finding(
                "submain-short",
                "note",
                name,
                f"{name} carries {cfs(carries)} full, and its area at the drainage "
                f"coefficient brings {cfs(asked)}. It limits what its part of the field "
                "can add.",
                value=carries,
                operator=">=",
                limit=asked,
                unit="m3/s",
                source="derived",
            )
        )


def _tell_share(trace: Trace) -> None:
    whole = "inputs.drainage.area_m2"
    if not trace.known(AREA_ABOVE, whole):
        return
    above, all_of_it = float(trace.value(AREA_ABOVE)), float(trace.value(whole))
    if above < all_of_it:
        trace.findings.append(
            Finding(
                "area-not-seen",
                "caution",
                "Drained area",
                f"{acres(above, bare=True)} of {acres(all_of_it)} reach the diversion. What "
                "joins below it or leaves by another main is not treated; flows, supply of the "
                "laterals and the year's water through the bed count the area above only, and "
                "the load of the site counts all.",
                value=above,
                limit=all_of_it,
                unit="m2",
                source="derived",
            )
        )

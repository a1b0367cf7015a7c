# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: surface inlets, and what becomes of their water."""

from tilewater.basis.findings import Finding
from tilewater.basis.requirement import Requirement
from tilewater.basis.trace import Given, Trace
from tilewater.basis.unknown import Unknown, is_unknown

INLETS = "inputs.drainage.surface_inlets"
WATER = "inputs.drainage.surface_inlet_water"
KEPT_OUT, SETTLED, TAKEN_IN = "kept out", "settled first", "taken in"


def inlets_bring_water(trace: Trace) -> bool:
    """Whether surface inlets may bring more to the diversion than the laterals supply."""
    inlets = trace.value(INLETS)
    if inlets == "none":
        return False
    is_answered = not is_unknown(inlets) and WATER in trace
    return not (is_answered and trace.value(WATER) == KEPT_OUT)


def judge_inlets(trace: Trace) -> None:
    """Judge what becomes of the water of surface inlets; nothing where there is none."""
    inlets = trace.value(INLETS)
    if inlets == "none":
        return
    if is_unknown(inlets):
        water = INLETS
    elif WATER in trace:
        water = WATER
    else:
        water = "surface_inlets.water"
        why = "what becomes of the water of the surface inlets is not answered"
        how = "follow each inlet to the main, and say surface_inlet_water in [drainage]"
        title = "What becomes of the water of the surface inlets"
        trace.give(Given(water, Unknown(why, how), "", title))
    trace.compute(
        "surface_inlets.clean_share",
        clean_share,
        unit="-",
        title="Share of the water of surface inlets that comes without its silt, or not at all",
        water=water,
    )
    limit = trace.constant(
        "surface_inlets.clean_share_limit",
        1.0,
        "Limit: water of surface inlets kept out or settled first",
        unit="-",
        source="practice",
    )
    trace.require(
        Requirement(
            key="surface_inlets",
            title="Water of the surface inlets kept out of the bed, or settled first",
            value="surface_inlets.clean_share",
            operator=">=",
            limit=limit,
            unit="-",
            scale=1.0,
            where="main",
            exact=True,
        )
    )
    _tell(trace)


def _tell(trace: Trace) -> None:
    water = trace.value(WATER) if WATER in trace else None
    if water == TAKEN_IN:
        trace.findings.append(
            Finding(
                "inlet-water-taken-in",
                "caution",
                "Surface inlets",
                "Water of surface inlets goes through the bed as it comes. Its silt clogs the "
                "chips at the inlet end, and it brings storm flow beyond what the laterals supply. "
                "Keep it out, or settle it first.",
                source="practice",
            )
        )
    elif water == SETTLED:
        trace.findings.append(
            Finding(
                "inlet-water-settled",
                "caution",
                "Surface inlets",
                "Water of surface inlets is to be settled before the bed. Draw the settling basin, "
                "with a way to clean it; nothing here sizes it. Its storm flow still comes, beyond "
                "what the laterals supply.",
                source="practice",
            )
        )


def clean_share(water: str) -> float:
    """Share of the water of surface inlets that comes without its silt, or not at all.

    Parameters
    ----------
    water : str
        "kept out", "settled first" or "taken in". [-]

    Returns
    -------
    float
        1 or 0. [-]

    Notes
    -----
    1 if it is kept out or settled first, else 0    (practice)

    References
    ----------
    practice, silt clogs the inlet end of a bed
    """
    return 0.0 if water == TAKEN_IN else 1.0

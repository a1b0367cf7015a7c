# SPDX-License-Identifier: Apache-2.0
"""Steps that say how much water stands over the crown of the old main behind the boards.

A main of concrete or clay has open joints: under pressure they leak, wash soil and may lift. The
solid pipe beside a structure keeps that from the structure, not from the main above it.
"""

from tilewater.basis.findings import Finding
from tilewater.basis.told import feet
from tilewater.basis.trace import Trace
from tilewater.basis.unknown import Unknown
from tilewater.practices.boards import crest_elevation
from tilewater.practices.rules import difference

CLOSED = ("corrugated plastic", "smooth plastic")
AT_BOARDS = "diversion"
CREST = "elevations.inlet_crest.elevation_m"


def add_old_main(trace: Trace) -> None:
    """Record the head over the crown of the main, standing and in the storm, and judge it."""
    trace.constant(
        f"old_main.{AT_BOARDS}.distance_m", 0.0, "Main at the structure", unit="m", source="derived"
    )
    trace.compute(
        f"old_main.{AT_BOARDS}.storm_level_m",
        crest_elevation,
        unit="m",
        title="Water in the inlet structure, main just full, practice shut off",
        sill=CREST,
        height="field_storm.head_m",
    )
    here = f"old_main.{AT_BOARDS}"
    _add_place(trace, AT_BOARDS, f"{here}.distance_m", f"{here}.storm_level_m")
    for spot in trace.names("field"):
        _add_place(trace, spot, f"field.{spot}.distance_m", f"field.{spot}.storm_level_m")
    _tell(trace)


def _add_place(trace: Trace, place: str, distance: str, storm_level: str) -> None:
    here, where = f"old_main.{place}", f"the main at {place.replace('-', ' ')}"
    trace.compute(
        f"{here}.crown_m",
        crown_of_main,
        unit="m",
        title=f"Crown of {where}",
        invert="inputs.main.invert_diversion_m",
        slope="inputs.main.slope",
        distance=distance,
        diameter="inputs.main.diameter_m",
    )
    for state, words, level in (
        ("standing", "Standing water", CREST),
        ("storm", "Water in the storm", storm_level),
    ):
        trace.compute(
            f"{here}.{state}_head_m",
            difference,
            unit="m",
            title=f"{words} over the crown of {where}, negative below it",
            upper=level,
            lower=f"{here}.crown_m",
        )


def _tell(trace: Trace) -> None:
    """Say where a main with open joints stands under more than the trade lets it."""
    material, limit = trace.value("inputs.main.material"), trace.value("rules.open-joint-head_m")
    heads = {
        place: float(trace.value(f"old_main.{place}.standing_head_m"))
        for place in trace.names("old_main")
        if trace.known(f"old_main.{place}.standing_head_m")
    }
    over = [place for place, head in heads.items() if head > limit]
    if material in CLOSED or not over:
        return
    most = max(heads[place] for place in over)
    is_known = not isinstance(material, Unknown)
    joints = f"of {material}, its joints taken as open," if is_known else "of a material not known"
    trace.findings.append(
        Finding(
            "old-main-under-head",
            "caution",
            "Old main",
            f"The old main {joints} is under {feet(most, '.1f')} of standing water over its crown "
            f"({', '.join(over)}), more than the {feet(limit, '.1f')} that the trade lets open "
            "joints hold. They leak, wash soil and may lift. Replace it with solid pipe there, or "
            "lower the boards.",
            value=most,
            operator="<=",
            limit=limit,
            unit="m",
            source="practice",
        )
    )


def crown_of_main(invert: float, slope: float, distance: float, diameter: float) -> float:
    """Elevation of the inside top of the main at a distance above the diversion.

    Parameters
    ----------
    invert : float
        Invert of the main at the diversion. [m]
    slope : float
        Fall of the main per length. [-]
    distance : float
        Along the main from the diversion up. [m]
    diameter : float
        Inside diameter. [m]

    Returns
    -------
    float
        Elevation. [m]

    Notes
    -----
    crown = invert + S x + D    (derived)

    References
    ----------
    derived, a straight grade
    """
    return invert + slope * distance + diameter

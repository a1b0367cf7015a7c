# SPDX-License-Identifier: Apache-2.0
"""What the sections through the headers of a bed are drawn from; nothing is drawn here.

The bed around a header is that of the cross section half way along it, with the water that stands
at the header.
"""

from dataclasses import dataclass, replace

from tilewater.basis.trace import Trace
from tilewater.chain.scene_cross import CrossSection, Length, cross_section_scene
from tilewater.chain.scene_reading import SceneReading

ENDS = ("inlet", "outlet")
LINE = "criterion line"


@dataclass(frozen=True)
class HeaderSection:
    """The bed cut along a header.

    Attributes
    ----------
    names : tuple of str
        "inlet header", "outlet header", or both where they are alike.
    bed : CrossSection
        One cell, and the water at the header.
    length, diameter : Length
        Of the header; inside diameter. [m]
    wall : str
        "perforated" or "solid"; "" where it is not known.
    """

    names: tuple[str, ...]
    bed: CrossSection
    length: Length
    diameter: Length
    wall: str


def header_sections(trace: Trace) -> tuple[HeaderSection, ...]:
    """The sections through the headers of a designed bed, one for both where they are alike.

    Parameters
    ----------
    trace : Trace
        Trace of a design. [-]

    Returns
    -------
    tuple of HeaderSection
        Empty for a bed without headers. [-]
    """
    reading, bed = SceneReading(trace), cross_section_scene(trace)
    found = [each for end in ENDS if (each := _section(reading, bed, end)) is not None]
    if len(found) == 2 and _shape(found[0]) == _shape(found[1]):
        return (replace(found[0], names=(*found[0].names, *found[1].names)),)
    return tuple(found)


def _shape(section: HeaderSection) -> tuple[float, float, str, float | None]:
    floor = section.bed.floor
    return (
        section.length.value,
        section.diameter.value,
        section.wall,
        None if floor is None else floor.elevation,
    )


def _section(reading: SceneReading, bed: CrossSection, end: str) -> HeaderSection | None:
    trace, here = reading.trace, f"system.header_{end}"
    keys = (f"{here}.length_m", f"{here}.diameter_m")
    if not trace.known(*keys) or not bed.cells:
        return None
    length, diameter = (Length(float(trace.value(key)), key) for key in keys)
    level = reading.level(f"capacity.criterion.levels_m.{end}_header")
    floor = reading.level(f"bed.floor_{end}_m")
    cut = replace(
        bed,
        cells=bed.cells[:1],
        floor=bed.floor if floor is None else floor,
        station=None,
        main=None,
        near_offset=None,
        clear=None,
        groundwater=(),
        water=() if level is None else ((LINE, level),),
    )
    return HeaderSection((f"{end} header",), cut, length, diameter, _wall(trace, end))


def _wall(trace: Trace, end: str) -> str:
    """Wall of the pipe that the job lays as this header."""
    for pipe in trace.names("inputs.pipe"):
        given = f"inputs.pipe.{pipe}"
        if f"{given}.use" in trace and trace.value(f"{given}.use") == f"{end} header":
            return str(trace.value(f"{given}.kind")) if trace.known(f"{given}.kind") else ""
    return ""

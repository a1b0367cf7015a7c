# SPDX-License-Identifier: Apache-2.0
"""What the section of an outlet raised in season is drawn from; nothing is drawn here.

The main and the field behind it are those of `tilewater.chain.scene`.
"""

from dataclasses import dataclass

from tilewater.basis.trace import Trace
from tilewater.chain.scene_reading import SceneReading
from tilewater.chain.scene_records import Level, Missing, StructurePart
from tilewater.chain.scene_way import read_structure


@dataclass(frozen=True)
class RaisedScene:
    """A structure with boards on the main.

    Attributes
    ----------
    structure : StructurePart
        With the boards of each setting.
    invert, diameter : Level and float, or None
        Of the main at the structure. [m]
    storm : Level or None
        Water in the structure at the largest physical flow, over the boards of the design setting.
    solid_pipe : float or None
        Solid pipe on each side of the structure. [m]
    missing : tuple of Missing
    foot : str
    """

    structure: StructurePart
    invert: Level | None
    diameter: float | None
    storm: Level | None
    solid_pipe: float | None
    missing: tuple[Missing, ...]
    foot: str


def raised_scene(trace: Trace) -> RaisedScene:
    """The section through the structure of an outlet raised in season.

    Parameters
    ----------
    trace : Trace
        Trace of a design. [-]

    Returns
    -------
    RaisedScene
        Parts, levels and what is missing, in SI.
    """
    reading = SceneReading(trace)
    structure, _ = read_structure(reading, "inlet", 0.0)
    foot = "inputs.site.foot"
    words = "the main at the structure"
    invert = reading.level("inputs.main.invert_diversion_m", words)
    diameter = reading.number("inputs.main.diameter_m", words)
    storm = reading.level("bypass.level_m", "water at the largest physical flow")
    solid = reading.number("raised.solid_pipe_m", "the solid pipe")
    return RaisedScene(
        structure=structure,
        invert=invert,
        diameter=diameter,
        storm=storm,
        solid_pipe=solid,
        missing=reading.missing,
        foot=str(trace.value(foot)) if trace.known(foot) else "",
    )

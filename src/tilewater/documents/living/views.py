# SPDX-License-Identifier: Apache-2.0
"""Which view a practice is drawn by, and the records that the view is made from."""

from tilewater.basis.trace import Trace
from tilewater.chain.design import Design
from tilewater.chain.scene import long_section_scene
from tilewater.chain.scene_ditch import ditch_where_main_ends
from tilewater.chain.scene_looked_at import LookedScene
from tilewater.chain.scene_main import read_main
from tilewater.chain.scene_raised import raised_scene
from tilewater.chain.scene_reading import SceneReading
from tilewater.chain.scene_records import Level, Setting
from tilewater.chain.scene_way import DESIGN, read_ditch, read_structure
from tilewater.documents.living.bed import BedView
from tilewater.documents.living.buffer import BufferView
from tilewater.documents.living.raised import RaisedView
from tilewater.practices.buffer.scene import buffer_section


def view_of(design: Design, looked: LookedScene | None) -> BedView | BufferView | RaisedView:
    """The view of a practice.

    Parameters
    ----------
    design : Design
    looked : LookedScene or None
        Its water at a flow and a ditch that are looked at.

    Returns
    -------
    BedView, BufferView or RaisedView
    """
    trace, name = design.trace, design.practice.name
    if name == "bed":
        own = None if looked is None else looked.long_section
        return BedView(own or long_section_scene(trace, by_season=False), looked)
    reading = SceneReading(trace)
    main = read_main(reading)
    if name == "buffer":
        section = None if looked is None else looked.buffer_section
        box, _ = read_structure(reading, "inlet", 0.0)
        ditch = read_ditch(reading, None, False)
        return BufferView(
            section or buffer_section(trace), main, box, _head_boards(trace), ditch, looked
        )
    return RaisedView(raised_scene(trace), main, ditch_where_main_ends(trace, main), looked)


def _head_boards(trace: Trace) -> tuple[Setting, ...]:
    """Boards before the line by setting."""
    found = []
    for name in (DESIGN, *trace.names("inputs.season")):
        here = f"boards.head-{name}"
        if trace.known(f"{here}.crest_m", f"{here}.stack_m"):
            level = Level(float(trace.value(f"{here}.crest_m")), f"{here}.crest_m")
            found.append(Setting(name, level, tuple(trace.value(f"{here}.stack_m"))))
    return tuple(found)

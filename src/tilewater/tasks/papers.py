# SPDX-License-Identifier: Apache-2.0
"""The papers of a design: its drawings and reports, each made when it is its turn.

What a paper needs is loaded when it is made, so that a design without papers stays quick.
"""

from tilewater.basis.units import System
from tilewater.tasks.designing import Outcome
from tilewater.tasks.results import Papers

LONG_SECTION = "long-section"


def papers_of(outcome: Outcome, units: System, status: str = "") -> Papers:
    """Every paper of a design by the name of its file.

    Parameters
    ----------
    outcome : Outcome
        The design.
    units : "us" or "si"
        Units of the reader.
    status : str
        What kind of copy this is, for the foot of every page; "" for one that is not issued.

    Returns
    -------
    mapping of str to callable
        Gives the content of each file.
    """
    return {f"{LONG_SECTION}.svg": lambda: _long_section_svg(outcome, units)}


def _long_section_svg(outcome: Outcome, units: System) -> bytes:
    from tilewater.chain.scene import long_section_scene
    from tilewater.documents.long_section import draw_long_section

    scene = long_section_scene(outcome.design.trace)
    return draw_long_section(scene, units=units).encode("utf-8")

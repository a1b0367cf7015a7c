# SPDX-License-Identifier: Apache-2.0
"""The form to write on at the structure: changes of the boards, and what was looked at.

Its columns are those of `boards-log.csv`, so that a page can be typed off line by line.
"""

from typing import Any

from tilewater.documents.pages.operate_page import set_said
from tilewater.documents.paper.letters import shown
from tilewater.documents.running.material import NEVER_IN, RunningMaterial
from tilewater.documents.running.press import press_with

CHANGES, LOOKS = 14, 9
"""Lines to write on."""
HEIGHT = 8.5
"""Of a line, for a hand. [mm]"""


def press_form(material: RunningMaterial) -> bytes:
    """The form as a PDF file of one page."""
    return press_with("form.typ", form_data(material))


def form_data(material: RunningMaterial) -> dict[str, Any]:
    """What the form shows."""
    stacks = material.periods[0].stacks
    sets = ", ".join(set_said(stack.board_set, stacks).removesuffix(" boards") for stack in stacks)
    unit = material.words.say(0.0, "size").rpartition(" ")[2]
    return {
        "title": f"Log of the boards, {shown(material.title)}",
        "heading": "Log of the boards",
        "paper": material.paper,
        "foot": f"Tilewater {material.version}",
        "about": [
            shown(material.title),
            f"One line for each set that is moved: {sets}. Write the stack from the sill up, or "
            "what the tape says from the rim down to the top board.",
            NEVER_IN,
        ],
        "changes": _lines(
            CHANGES,
            ("date and time", 1.5),
            ("set", 0.9),
            (f"stack, {unit}", 1.1),
            (f"rim down, {unit}", 1.1),
            ("who", 1.0),
            ("note", 2.2),
        ),
        "looks": _lines(
            LOOKS, ("date", 1.0), ("what was seen", 3.0), ("what was done", 2.2), ("who", 1.0)
        ),
    }


def _lines(count: int, *columns: tuple[str, float]) -> dict[str, Any]:
    return {
        "count": count,
        "height_mm": HEIGHT,
        "columns": [{"head": head, "share": share} for head, share in columns],
    }

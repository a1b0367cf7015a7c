# SPDX-License-Identifier: Apache-2.0
"""What is looked at in a practice that runs, when, and what is done about it.

Common practice, without a source.
"""

from dataclasses import dataclass

BED, BUFFER, RAISED = "bed", "buffer", "raised"
ALL = frozenset({BED, BUFFER, RAISED})
TREATS = frozenset({BED, BUFFER})


@dataclass(frozen=True)
class Inspection:
    """One thing to look at.

    Attributes
    ----------
    what, when, do : str
        In words.
    practices : frozenset of str
        Those that have it.
    """

    what: str
    when: str
    do: str
    practices: frozenset[str] = ALL


INSPECTIONS = (
    Inspection(
        "Lids and locks",
        "every visit",
        "Shut and locked; a broken lid is fenced the same day and renewed.",
    ),
    Inspection(
        "Boards and seals, from above",
        "every visit",
        "Water runs over, not under or past them. Take out, clean the grooves, set again; renew a "
        "warped board.",
    ),
    Inspection(
        "The stack against the card",
        "every visit, and within a week after each day of the card",
        "Measure from the rim down, write it into the log.",
    ),
    Inspection(
        "Water into the practice",
        "after a wet week, spring and fall",
        "If all of it goes past: look for a shut gate, silt in the feed, a board too low; then "
        "call.",
        TREATS,
    ),
    Inspection(
        "Smell and colour at the outlet",
        "in dry spells and the first year",
        "Rotten eggs or black water: lower the outlet boards by one and look again in three days. "
        "Brown water in the first weeks is usual.",
        frozenset({BED}),
    ),
    Inspection(
        "The ground over the bed",
        "spring and fall",
        "Sunk places are filled with topsoil and seeded, noted and dated; no trees, no burrows, no "
        "ruts.",
        frozenset({BED}),
    ),
    Inspection(
        "The strip over the line",
        "spring and fall",
        "No trees or brush, no wet spots above the line, no burrows; mow once, after birds nest.",
        frozenset({BUFFER}),
    ),
    Inspection(
        "The bank of the ditch",
        "after high water, spring and fall",
        "Cracks along the top, soft places, running sand: lower the boards and call.",
    ),
    Inspection(
        "Outlet pipe and its guard",
        "spring and fall",
        "Guard on, pipe open, no scour below it; clear it from the bank, not from the water.",
    ),
    Inspection(
        "Low spots of the field",
        "after each wet week of the crop season",
        "Water on the ground, or a yellow crop, for longer than the wet days you agreed: lower one "
        "board, write it down and call.",
    ),
    Inspection(
        "Sediment in the boxes",
        "once a year, when the boards are out",
        "Deeper than half a board: have it taken out from above, by a pump or a vacuum truck.",
    ),
    Inspection(
        "Grass, rodents, livestock",
        "once a year",
        "Mow or spot-spray weeds; trap burrowing animals; keep the fence whole.",
    ),
    Inspection(
        "The log and this plan",
        "once a year, in winter",
        "Send the log to the office; ask whether the dates of next year are the same.",
    ),
)

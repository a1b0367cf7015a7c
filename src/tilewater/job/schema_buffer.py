# SPDX-License-Identifier: Apache-2.0
"""Table of the job file about a saturated buffer: its line and its strip.

Its soil is in `schema_buffer_soil`. All of it may be left out, since a bed needs none of it; what a
buffer misses is then not known.
The boards that let the rest by are those of the inlet structure and of `[boards]`.
"""

from typing import Annotated, Any

from tilewater.job.fields import Quantities, Quantity
from tilewater.job.schema_site import elevation, length
from tilewater.job.tables import Number, Table, Word
from tilewater.job.words import Choice, Text


def some(title: str, kind: str, example: str, low: str, high: str, **more: Any) -> Quantity:
    return Quantity(title, kind=kind, example=example, low=low, high=high, need="leave", **more)


class Buffer(Table):
    """The distribution line of a saturated buffer, and the strip between it and the ditch."""

    width: Annotated[
        Number | None,
        length("From the line to the water's edge", "55 ft", low="3 ft", need="leave"),
    ]
    width_available: Annotated[
        Number | None,
        length(
            "Widest strip that the line could leave to the water's edge",
            "55 ft",
            low="3 ft",
            need="leave",
            how="tape the ground that may be given to the buffer",
            help="Left out where the line stays at its distance; a search then keeps the width.",
        ),
    ]
    branches: Annotated[
        tuple[float, ...] | Number | None,
        Quantities(
            "Lengths of the perforated line, each branch from the structure",
            kind="length",
            example="550 ft, 550 ft",
            low="1 ft",
            high="5000 ft",
            need="leave",
            help="Solid pipe at the structure is not counted in.",
        ),
    ]
    length_available: Annotated[
        Number | None,
        length(
            "Length of strip that a line could use",
            "1100 ft",
            high="20000 ft",
            need="leave",
            how="tape the strip between trees, crossings and property lines",
        ),
    ]
    tree_length: Annotated[
        Number | None,
        length(
            "Length of the line within reach of roots, which is laid solid",
            "140 ft",
            high="5000 ft",
            need="leave",
            help="It lets no water out; 50 ft from a canopy is common practice.",
        ),
    ]
    pipe_diameter: Annotated[
        Number | None,
        some("Inside diameter of the line", "size", "4 in", "2 in", "24 in"),
    ]
    pipe_n: Annotated[
        Number | None,
        some(
            "Roughness of the line, Manning's n",
            "number",
            "0.015",
            "0.007",
            "0.04",
            help="0.015, of corrugated tubing, when it is not given.",
        ),
    ]
    line_invert: Annotated[
        Number | None, elevation("Invert of the line, level", "742.3 ft", need="leave")
    ]
    line_fall: Annotated[
        Number | None,
        some(
            "Most that the line departs from level",
            "size",
            "0.5 in",
            "0 in",
            "24 in",
            how="shoot it",
        ),
    ]
    ground_at_line: Annotated[
        Number | None, elevation("Ground over the line, its lowest", "745.6 ft", need="leave")
    ]
    ground_at_field_edge: Annotated[
        Number | None, elevation("Ground at the edge of the field", "746.4 ft", need="leave")
    ]
    trench_width: Annotated[
        Number | None, some("Width of the trench", "size", "12 in", "3 in", "48 in")
    ]
    envelope: Annotated[
        Word | None,
        Choice(
            "What lies round the line",
            choices=("soil", "gravel", "fabric sock"),
            example="soil",
            need="leave",
            help="It decides the head that is lost where the water leaves the pipe.",
        ),
    ]
    effective_radius: Annotated[
        Number | None,
        some(
            "Effective radius of the pipe",
            "size",
            "0.2 in",
            "0.05 in",
            "12 in",
            help="0.2 in of bare 4-in tubing and 2.3 in of a pipe in a sock when not given.",
        ),
    ]
    solid_at_structure: Annotated[
        Number | None,
        length("Solid pipe on each branch at the structure", "20 ft", high="500 ft", need="leave"),
    ]
    head_boards: Annotated[
        Number | None,
        some(
            "Height of the head boards, design setting",
            "size",
            "0 in",
            "0 in",
            "20 ft",
            help="Boards between the main and the chamber of the line, on the same sill as the "
            "bypass boards; left out where there are none. The bypass boards, which set the head "
            "at the line, are those of the inlet structure.",
        ),
    ]
    criterion_season: Annotated[
        Word | None,
        Text(
            "Season whose ordinary ditch water the share of capacity is judged by",
            example="spring",
            need="leave",
            help="That with the highest ordinary water when it is not given.",
        ),
    ]
    barrier: Annotated[
        Number | None,
        elevation(
            "Top of the restrictive layer under the strip",
            "735.0 ft",
            need="leave",
            how="bore in the strip until the auger will not turn",
        ),
    ]
    vegetation: Annotated[
        Word | None,
        Choice(
            "What grows on the strip",
            choices=("perennial", "annual", "bare"),
            example="perennial",
            need="leave",
        ),
    ]
    bank_slope: Annotated[
        Number | None,
        Quantity(
            "Slope of the bank, horizontal to vertical",
            kind="side_slope",
            example="1.5:1",
            low="0",
            high="10",
            need="leave",
        ),
    ]
    bank_study: Annotated[
        Word | None,
        Text(
            "Geotechnical judgement of the bank: who, when, what it says",
            example="none",
            need="leave",
        ),
    ]

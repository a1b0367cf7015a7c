# SPDX-License-Identifier: Apache-2.0
"""Table of the job file about a grid of ground heights."""

from typing import Annotated

from tilewater.job.tables import Table, Word
from tilewater.job.words import Choice, FileName

HEIGHTS = ("m", "international foot", "us survey foot")


class TerrainTable(Table):
    """A grid of ground heights, for the map; no elevation of the design is taken from it."""

    file: Annotated[
        Word | None,
        FileName(
            "File of ground heights, a plain-text grid",
            example="terrain.asc",
            need="leave",
            help="A head with ncols, nrows, xllcorner, yllcorner, cellsize, then rows from north.",
        ),
    ]
    heights: Annotated[
        Word | None,
        Choice(
            "Unit of its heights",
            choices=HEIGHTS,
            example="m",
            need="leave",
            help="Models from the air are often in metres where the job is in feet.",
        ),
    ]
    coordinates: Annotated[
        Word | None,
        Choice(
            "Unit of its coordinates",
            choices=HEIGHTS,
            example="us survey foot",
            need="leave",
            help="The foot of the job's grid when it is not given.",
        ),
    ]

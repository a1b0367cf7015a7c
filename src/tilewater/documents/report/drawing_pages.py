# SPDX-License-Identifier: Apache-2.0
"""Pages of drawings, each at the size that it was made for; what is wide has a page that lies."""

from collections.abc import Iterator
from itertools import groupby

from tilewater.documents.paper.blocks import Block, Figure, Heading, Lying
from tilewater.documents.report.material import Drawn
from tilewater.documents.report.reading import Reading

UPRIGHT_MM = 166.0
"""Width up to which a drawing stands on an upright page. [mm]"""


def drawing_pages(reading: Reading) -> tuple[Block, ...]:
    """Drawings one to a page or more; their titles stand in the outline."""
    return tuple(_pages(reading.material.drawings))


def _pages(drawings: tuple[Drawn, ...]) -> Iterator[Block]:
    first = True
    for lies, group in groupby(drawings, key=lambda drawn: drawn.width_mm > UPRIGHT_MM):
        blocks: list[Heading | Figure] = []
        for drawn in group:
            if first:
                blocks.append(Heading("Drawings", 1, new_page=True))
            blocks += [Heading(drawn.title, 2, new_page=not first), _figure(drawn)]
            first = False
        if lies:
            yield Lying(tuple(blocks))
        else:
            yield from blocks


def _figure(drawn: Drawn) -> Figure:
    alt = drawn.alt or drawn.caption
    return Figure(drawn.svg, drawn.width_mm, drawn.height_mm, drawn.caption, alt)

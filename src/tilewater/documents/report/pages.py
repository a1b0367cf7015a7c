# SPDX-License-Identifier: Apache-2.0
"""The engineer's report in the order of a review.

The signer's two pages, the bed and its drawings, what was put in, the calculation, the rules; then
what the design is by subject, what is not known, and the sources.
"""

from tilewater.chain.calculation import calculation
from tilewater.documents.paper.blocks import Block, Contents, Document, Heading, in_order
from tilewater.documents.report.bed_pages import bed_pages
from tilewater.documents.report.buffer_pages import buffer_pages
from tilewater.documents.report.drawing_pages import drawing_pages
from tilewater.documents.report.field_pages import field_pages
from tilewater.documents.report.input_pages import input_pages
from tilewater.documents.report.known_pages import known_pages, source_pages
from tilewater.documents.report.level_pages import level_pages
from tilewater.documents.report.material import ReportMaterial
from tilewater.documents.report.money_pages import money_pages
from tilewater.documents.report.raised_pages import raised_pages
from tilewater.documents.report.reading import Reading
from tilewater.documents.report.rule_pages import rule_pages
from tilewater.documents.report.season_pages import season_pages
from tilewater.documents.report.sheet import on_paper
from tilewater.documents.report.signer import signer_pages
from tilewater.documents.report.water_pages import water_pages
from tilewater.documents.report.working_pages import working_pages

OWN_PAGES = {"bed": bed_pages, "buffer": buffer_pages, "raised": raised_pages}
"""Pages that only one practice has."""


def report_document(material: ReportMaterial) -> Document:
    """Pages of the report."""
    reading = Reading(material, calculation(material.trace))
    first = (*signer_pages(reading), Heading("Contents", 1, new_page=True))
    rest = (
        *OWN_PAGES[material.design.practice.name](reading),
        *drawing_pages(reading),
        *input_pages(reading),
        *working_pages(reading),
        *rule_pages(reading),
        *level_pages(reading),
        *field_pages(reading),
        *water_pages(reading),
        *season_pages(reading),
        *money_pages(reading),
        *known_pages(reading),
        *source_pages(reading),
    )
    return on_paper(material, "Design report", (*first, Contents(_lines((*first, *rest))), *rest))


def _lines(blocks: tuple[Block, ...]) -> int:
    """Lines of the table of contents: the title, and every heading of its depth."""
    told = (block for block in in_order(blocks) if isinstance(block, Heading))
    return 1 + sum(block.level <= Contents.depth for block in told)

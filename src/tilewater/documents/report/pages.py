# SPDX-License-Identifier: Apache-2.0
"""The engineer's report, page after page: the signer's two first, the calculation last."""

from tilewater.chain.calculation import calculation
from tilewater.documents.paper.blocks import Contents, Document, Heading
from tilewater.documents.report.bed_pages import bed_pages, drawing_pages
from tilewater.documents.report.field_pages import field_pages
from tilewater.documents.report.input_pages import input_pages
from tilewater.documents.report.known_pages import known_pages, source_pages
from tilewater.documents.report.level_pages import level_pages
from tilewater.documents.report.material import ReportMaterial
from tilewater.documents.report.money_pages import money_pages
from tilewater.documents.report.reading import Reading
from tilewater.documents.report.rule_pages import rule_pages
from tilewater.documents.report.season_pages import season_pages
from tilewater.documents.report.sheet import on_paper
from tilewater.documents.report.signer import signer_pages
from tilewater.documents.report.water_pages import water_pages
from tilewater.documents.report.working_pages import working_pages


def report_document(material: ReportMaterial) -> Document:
    """Pages of the report."""
    reading = Reading(material, calculation(material.trace))
    return on_paper(
        material,
        "Design report",
        (
            *signer_pages(reading),
            Heading("Contents", 1, new_page=True),
            Contents(),
            *bed_pages(reading),
            *drawing_pages(reading),
            *level_pages(reading),
            *field_pages(reading),
            *water_pages(reading),
            *season_pages(reading),
            *rule_pages(reading),
            *money_pages(reading),
            *known_pages(reading),
            *input_pages(reading),
            *working_pages(reading),
            *source_pages(reading),
        ),
    )

# SPDX-License-Identifier: Apache-2.0
"""The engineer's report, page after page."""

from tilewater.documents.paper.blocks import Banner, Document
from tilewater.documents.report.material import ReportMaterial
from tilewater.documents.report.sheet import on_paper


def report_document(material: ReportMaterial) -> Document:
    """Pages of the report."""
    return on_paper(material, "Design report", (Banner(material.title, ()),))

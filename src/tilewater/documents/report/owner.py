# SPDX-License-Identifier: Apache-2.0
"""The owner's two pages: what the practice does and asks, in plain words."""

from tilewater.documents.paper.blocks import Banner, Document
from tilewater.documents.report.material import ReportMaterial
from tilewater.documents.report.sheet import on_paper


def owner_document(material: ReportMaterial) -> Document:
    """Pages for the owner."""
    return on_paper(material, "For the owner", (Banner(material.title, ()),))

# SPDX-License-Identifier: Apache-2.0
"""What every page of a document carries: job, kind of document, version, kind of copy."""

from tilewater.documents.paper.blocks import Block, Document
from tilewater.documents.report.material import ReportMaterial

HEAD = 80
"""Letters of a title that the head of a page has room for."""


def on_paper(material: ReportMaterial, kind: str, blocks: tuple[Block, ...]) -> Document:
    """Blocks as a document of a job."""
    title = material.title
    return Document(
        title=f"{title}: {kind.lower()}",
        head=title if len(title) <= HEAD else f"{title[:HEAD]}…",
        kind=kind,
        foot=f"Tilewater {material.version} · {material.status}",
        paper="us-letter" if material.units == "us" else "a4",
        blocks=blocks,
    )

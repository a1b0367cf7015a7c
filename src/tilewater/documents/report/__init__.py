# SPDX-License-Identifier: Apache-2.0
"""The papers that leave the office: the engineer's report and the owner's two pages."""

from tilewater.documents.paper.press import press
from tilewater.documents.report.material import REVIEW_COPY, Drawn, ReportMaterial
from tilewater.documents.report.owner import owner_document
from tilewater.documents.report.pages import report_document

__all__ = ["REVIEW_COPY", "Drawn", "ReportMaterial", "owner_pdf", "report_pdf"]


def report_pdf(material: ReportMaterial) -> bytes:
    """The engineer's report as PDF.

    Parameters
    ----------
    material : ReportMaterial
        The design and what goes with it.

    Returns
    -------
    bytes
        The file; the same material gives the same bytes.
    """
    return press(report_document(material))


def owner_pdf(material: ReportMaterial) -> bytes:
    """The owner's two pages as PDF, in plain words.

    Parameters
    ----------
    material : ReportMaterial
        The design and what goes with it.

    Returns
    -------
    bytes
        The file; the same material gives the same bytes.
    """
    return press(owner_document(material))

# SPDX-License-Identifier: Apache-2.0
"""The report on a measured practice: what it removed, how sure that is, and by which method."""

from tilewater.documents.measured.paper import measured_pdf

__all__ = ["measured_pdf"]

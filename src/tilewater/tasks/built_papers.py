# SPDX-License-Identifier: Apache-2.0
"""Files of finished work: the document as PDF, and its table as a file of columns."""

import csv
import io
from collections.abc import Iterator
from importlib.metadata import version

from tilewater.basis.errors import OutOfDomain
from tilewater.chain.design import Design
from tilewater.documents.built.document import (
    BuiltMaterial,
    RedSheet,
    built_document,
    table_rows,
)
from tilewater.documents.built.redlined import red_lined
from tilewater.documents.drawing.svg import to_svg
from tilewater.documents.paper.press import press
from tilewater.documents.words import Words
from tilewater.tasks.built_look import Looked
from tilewater.tasks.checking import Checked
from tilewater.tasks.designing import Outcome
from tilewater.tasks.inspection import Inspection
from tilewater.tasks.sheet_drawings import drawings_of

ROOM_MM = (230.0, 150.0)
"""Room of a drawing on a page that lies. [mm]"""
RED = ("long-section", "main", "cross-section", "plan", "line-section", "buffer-section")
RED_MORE = ("header-inlet", "header-outlet", "structure")


def built_pdf(inspection: Inspection, looked: Looked) -> bytes:
    """The document of finished work.

    Parameters
    ----------
    inspection : Inspection
    looked : Looked
        What was looked at.

    Returns
    -------
    bytes
        The file; the same work gives the same bytes.
    """
    built = looked.built
    red = () if built.is_found else tuple(_red(inspection, looked))
    foot = f"Tilewater {version('tilewater')} · draft, not sealed · {inspection.day.isoformat()}"
    material = BuiltMaterial(
        title=inspection.job.title,
        foot=foot,
        about=tuple(_about(inspection.job, looked, inspection.words)),
        built=built,
        words=inspection.words,
        red=red,
        paper="us-letter" if inspection.system == "us" else "a4",
    )
    return press(built_document(material))


def built_csv(looked: Looked, words: Words) -> str:
    """The table of finished work as a file of columns."""
    out = io.StringIO()
    csv.writer(out, lineterminator="\r\n").writerows(table_rows(looked.built, words))
    return out.getvalue()


def _about(job: Checked, looked: Looked, words: Words) -> Iterator[str]:
    """Who shot, when, with what, and how many shots."""
    by, on = job.value("inputs.as_built.taken_by"), job.value("inputs.as_built.taken_on")
    who = f" by {by}" if isinstance(by, str) else ""
    when = f" on {on}" if isinstance(on, str) else ""
    count = len(looked.survey.found)
    yield f"{looked.survey.read.file}: {count} shots taken{who}{when}"
    yield f"datum {job.value('inputs.site.vertical_datum')}, {words.foot}"


def _red(inspection: Inspection, looked: Looked) -> Iterator[RedSheet]:
    """Drawings of the design that the work as built changes, red-lined."""
    effect, system = looked.built.effect, inspection.system
    before, after = (
        drawings_of(_outcome(inspection, design), system)
        for design in (effect.before, effect.after)
    )
    for name in (*RED, *RED_MORE):
        if name not in before or name not in after:
            continue
        try:
            marked = red_lined(before[name](*ROOM_MM), after[name](*ROOM_MM))
        except OutOfDomain:  # no room for it on this paper
            continue
        if marked.changes:
            drawing = marked.drawing
            frame = drawing.frame
            told = "; ".join(f"{then} becomes {now}" for _, then, now in marked.changes)
            yield RedSheet(
                drawing.title,
                to_svg(drawing),
                frame.width_mm,
                frame.height_mm,
                f"Red lines: {told}",
            )


def _outcome(inspection: Inspection, design: Design) -> Outcome:
    return Outcome(inspection.job, design, {}, ())

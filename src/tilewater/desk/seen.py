# SPDX-License-Identifier: Apache-2.0
"""What the page of a job shows of one answer: its section, five numbers, questions, what binds."""

from dataclasses import dataclass
from typing import Any
from urllib.parse import quote

from fastapi import Request
from markupsafe import Markup

from tilewater.basis.errors import TilewaterError
from tilewater.chain.looked_at import LookedAt
from tilewater.chain.scene_looked_at import LookedScene
from tilewater.desk.bound import binds_of, now_binds
from tilewater.desk.five import five_of
from tilewater.desk.jobs import state_of
from tilewater.desk.questions import asked_of
from tilewater.desk.rings import handles_at, rings_of, rulers_of
from tilewater.desk.view import templates
from tilewater.documents.living.handles import Ring, ring_markup
from tilewater.documents.living.layout import Scale
from tilewater.documents.living.section import Living, living_section
from tilewater.documents.words import Words
from tilewater.tasks.held import Answer, HeldJob
from tilewater.tasks.held_water import scene_at

DESIGN = "design"
RULER_TYPE = 13.0
"""Size of the type beside a ruler. [px]"""


@dataclass(frozen=True)
class Look:
    """How a page looks at a job.

    Attributes
    ----------
    width : float
        Room of the section. [px]
    looked_at : LookedAt or None
        Flow, ditch and boards that are looked at.
    held : Scale or None
        Scale that is kept while something is dragged.
    """

    width: float
    looked_at: LookedAt | None = None
    held: Scale | None = None

    @property
    def setting(self) -> str:
        """Boards that are shown."""
        return DESIGN if self.looked_at is None else self.looked_at.setting


def look_of(
    width: float,
    *,
    flow_m3_s: float | None = None,
    ditch_stage_m: float | None = None,
    setting: str = DESIGN,
    held: Scale | None = None,
) -> Look:
    """How a page looks at a job; nothing is looked at where all is as designed."""
    if flow_m3_s is None and ditch_stage_m is None and setting == DESIGN:
        return Look(width, None, held)
    return Look(width, LookedAt(flow_m3_s, ditch_stage_m, setting), held)


@dataclass(frozen=True)
class Seen:
    """An answer as it is looked at.

    Attributes
    ----------
    answer : Answer
    looked : LookedScene or None
    living : Living or None
        None where the answer has faults.
    rulers : tuple of Ring
        What has no place in the section.
    fault : str
        Why what is looked at cannot be shown.
    """

    answer: Answer
    looked: LookedScene | None
    living: Living | None
    rulers: tuple[Ring, ...] = ()
    fault: str = ""


def see(answer: Answer, words: Words, look: Look, job: str, *, with_steps: bool = True) -> Seen:
    """Draw an answer as it is looked at.

    Parameters
    ----------
    answer : Answer
    words : Words
    look : Look
    job : str
        Name of the job in an address.
    with_steps : bool
        Whether what can be moved is given with all its steps.

    Returns
    -------
    Seen
    """
    design = answer.design
    if design is None:
        return Seen(answer, None, None)
    looked, fault = None, ""
    if look.looked_at is not None:
        try:
            looked = scene_at(answer, look.looked_at)
        except TilewaterError as error:
            fault = str(error)
    handles = handles_at(design, None if looked is None else looked.looked_at)
    living = living_section(
        design,
        words,
        width=look.width,
        looked=looked,
        rings=rings_of(handles, design, words, look.setting, with_steps=with_steps),
        binds=binds_of(design, words),
        link=f"/job/{quote(job, safe='')}/number/",
        held=look.held,
    )
    rulers = rulers_of(handles, design, words) if with_steps else ()
    return Seen(answer, looked, living, rulers, fault)


def section_record(seen: Seen) -> dict[str, Any] | None:
    """A section for the script of the page; None where there is none."""
    living = seen.living
    if living is None:
        return None
    scale = living.scale
    return {
        "drawn": living.drawn,
        "width": round(living.width, 2),
        "height": round(living.height, 2),
        "rings": {ring.name: [*map(_rounded, ring.at), ring_says(ring)] for ring in living.rings},
        "scale": None if scale is None else [scale.across, scale.up, scale.low, scale.high],
        "caption": caption(seen),
    }


def _rounded(value: float) -> float:
    return round(value, 2)


def ring_says(ring: Ring) -> str:
    """What the present step of a ring is called."""
    return ring.steps[ring.index].says


def caption(seen: Seen) -> str:
    """What stands under the section: its lines in words, its scales, what is not drawn."""
    return templates().get_template("section_caption.html").render(seen=seen, living=seen.living)


def ruler_markup(ring: Ring) -> Markup:
    """The ring of a ruler as markup."""
    return Markup(ring_markup(ring, RULER_TYPE))


def answer_record(
    request: Request, held: HeldJob, seen: Seen, words: Words, name: str, number: int
) -> dict[str, Any]:
    """All that follows while something is moved, as one record.

    Parameters
    ----------
    request : Request
    held : HeldJob
    seen : Seen
    words : Words
    name : str
        Of the job.
    number : int
        Of what was asked, so that the page can drop an older answer.

    Returns
    -------
    dict
    """
    answer, design = seen.answer, seen.answer.design
    binds = "" if design is None or design.governs is None else design.governs.text
    now = "" if design is None else now_binds(held.first().design, design, words)
    faults = [{"where": f.where, "line": f.line, "message": f.message} for f in answer.faults]
    if seen.fault:
        faults.append({"where": "looked_at", "line": None, "message": seen.fault})
    return {
        "number": number,
        "version": answer.version,
        "refined": answer.is_refined,
        "state": state_of(answer),
        "five": five_markup(request, seen, words, name),
        "section": section_record(seen),
        "questions": [
            {"slug": one.slug, "sentence": one.sentence} for one in asked_of(answer, words)
        ],
        "binds": binds,
        "now_binds": now,
        "faults": faults,
    }


def five_markup(request: Request, seen: Seen, words: Words, name: str) -> str:
    """The five numbers as they stand on the page; "" where there is no design."""
    five = five_of(seen.answer, words, seen.looked)
    if not five:
        return ""
    template = templates().get_template("five.html")
    return template.render(request=request, five=five, job={"name": name})

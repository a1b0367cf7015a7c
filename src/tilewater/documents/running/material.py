# SPDX-License-Identifier: Apache-2.0
"""What the papers of a practice that runs are made from, and what all of them say alike."""

from collections.abc import Iterator
from dataclasses import dataclass

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.chain.operate import Operation
from tilewater.chain.operate_plan import Period
from tilewater.chain.operate_record import EMPTY_LIMIT
from tilewater.documents.pages.operate_page import day_said
from tilewater.documents.paper.blocks import Paper
from tilewater.documents.words import Words


@dataclass(frozen=True)
class RunningMaterial:
    """What the papers are made from.

    Attributes
    ----------
    title : str
        Of the job.
    practice : str
        "bed", "buffer" or "raised".
    trace : Trace
        With the steps of the search.
    operation : Operation
    periods : tuple of Period
    findings : tuple of Finding
        What the engineer must know of the boards, in the units of the reader.
    words : Words
    call : str
        Who is called about the boards.
    district : str
        Who has the ditch; "" where nobody is named.
    version : str
    """

    title: str
    practice: str
    trace: Trace
    operation: Operation
    periods: tuple[Period, ...]
    findings: tuple[Finding, ...]
    words: Words
    call: str
    district: str
    version: str

    @property
    def paper(self) -> Paper:
        """Paper of the reader's country."""
        return "us-letter" if self.words.system == "us" else "a4"

    def text(self, key: str) -> str:
        """A text behind a key; "" where it is not known."""
        return str(self.trace.value(key)) if self.trace.known(key) else ""

    def say(self, key: str, kind: str) -> str:
        """A number behind a key as printed; "" where it is not known."""
        if not self.trace.known(key):
            return ""
        return self.words.say(self.trace.value(key), kind)


NEVER_IN = "Never climb in. Gas kills without warning; work from above, with the hook, not alone."
SMELL = {
    "bed": "Rotten eggs or black water: pull one outlet board, and call.",
    "buffer": "The bank cracks, slumps or runs with sand: pull two boards, and call.",
    "raised": "Water stands in the field too long: pull one board, and call.",
}


def frost_words(material: RunningMaterial) -> str:
    """When no board can be moved; "" where that is not known."""
    ends = [
        material.text(key)
        for name in ("frozen_from", "frozen_to")
        for key in (f"inputs.frost.{name}", f"operate.default.{name}")
        if material.text(key)
    ][:2]
    if len(ends) < 2:
        return ""
    first, last = (day_said(end) for end in ends)
    return f"Move no board from {first} to {last}: they may be frozen in."


def empty_words(material: RunningMaterial) -> str:
    """Above which ground water the bed is not emptied; "" where nothing lifts it."""
    limit = material.say(EMPTY_LIMIT, "elevation")
    if not limit or material.practice != "bed":
        return ""
    ground, level = "inputs.site.ground_at_bed_m", EMPTY_LIMIT
    depth = ""
    if material.trace.known(ground):
        under = float(material.trace.value(ground)) - float(material.trace.value(level))
        depth = f", {material.words.say(under, 'length')} under the ground there"
    return f"Do not empty the bed while ground water stands above {limit}{depth}: the sheet lifts."


def cautions(material: RunningMaterial) -> Iterator[str]:
    """What the lid card warns of, the most dangerous first."""
    yield NEVER_IN
    yield "Open water and ice: keep off. A lid is heavy: lift it with two."
    yield from filter(None, (frost_words(material), empty_words(material)))
    yield "One board in 12 hours in spring, for the bank. Top board first."
    yield SMELL[material.practice]

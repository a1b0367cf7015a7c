# SPDX-License-Identifier: Apache-2.0
"""One page of a tracer test as PDF."""

from collections.abc import Iterator

from tilewater.basis.trace import Trace
from tilewater.documents.pages.tracer_page import mass_kind, tracer_rows
from tilewater.documents.paper.blocks import (
    Banner,
    Block,
    Column,
    Document,
    Figure,
    Items,
    Paper,
    Paragraph,
    Table,
    number,
)
from tilewater.documents.paper.press import press
from tilewater.documents.tracing.curve import HEIGHT, WIDTH, draw_tracer
from tilewater.documents.words import Words
from tilewater.monitoring.tracer import TracerSummary
from tilewater.monitoring.tracer_checks import is_final, tracer_findings

MM = 25.4 / 96.0
FOOT = "Nobody enters a structure. Ask the local authority before a tracer goes to open water."
BASIS = (
    "Moments by trapezoid of the products of time, concentration and flow; t10 to t90 on the "
    "straight-line cumulative curve of what was found. The pore volume counts the effective "
    "porosity of the job; where that was itself measured by a tracer, dead zones are in it "
    "already and e lies near 1. Limits of recovery and effective volume are common practice."
)


def tracer_pdf(title: str, trace: Trace, name: str, words: Words) -> bytes:
    """The page of a test as PDF.

    Parameters
    ----------
    title : str
        Of the job.
    trace : Trace
        With the steps of the test.
    name : str
        Of the test.
    words : Words
        Units of the reader.

    Returns
    -------
    bytes
        The file; the same test gives the same bytes.
    """
    paper: Paper = "us-letter" if words.system == "us" else "a4"
    blocks = tuple(_blocks(title, trace, name, words))
    kind = f"tracer test {name}"
    return press(Document(f"{title}: {kind}", title, kind, FOOT, paper, blocks))


def _blocks(title: str, trace: Trace, name: str, words: Words) -> Iterator[Block]:
    here = f"tracer.{name}"
    yield Banner("Tracer test", (title, _put_in(trace, name, words)), _answer(trace, here, words))
    if not trace.known(f"{here}.summary"):
        yield Paragraph("What is missing is told by the page of the test.")
        return
    summary: TracerSummary = trace.value(f"{here}.summary")
    caption = (
        "Tracer above the background at the outlet, by sample; V/Q is pore volume over flow. The "
        "broken line is the extrapolated tail, which the second column of numbers counts."
    )
    alt = f"Curve of the tracer test {name}"
    yield Figure(draw_tracer(trace, name), WIDTH * MM, HEIGHT * MM, caption, alt)
    lines = tuple(
        (said, number(sampled), number(tailed) if tailed else "")
        for said, sampled, tailed, _ in tracer_rows(trace, name, words)
    )
    heads = (
        Column("", wide=True),
        Column("as sampled", "point"),
        Column("with tail", "point"),
    )
    yield Table(heads, lines, small=True)
    told = tuple(found.in_units(words.system).message for found in tracer_findings(summary, name))
    if told:
        yield Items(told)
    yield Paragraph(BASIS, "note")


def _put_in(trace: Trace, name: str, words: Words) -> str:
    given = f"inputs.tracer.{name}"
    mass = trace.value(f"{given}.mass_kg")
    said = [f"{words.say(mass, mass_kind(words))} put in"]
    for field in ("tracer", "date"):
        value = trace.value(f"{given}.{field}") if f"{given}.{field}" in trace else None
        if isinstance(value, str):
            said.append(value)
    return ", ".join(said)


def _answer(trace: Trace, here: str, words: Words) -> str:
    if not trace.known(f"{here}.summary"):
        return "Not known yet"
    summary: TracerSummary = trace.value(f"{here}.summary")
    stays = words.say(summary.mean_residence, "time")
    flow = words.say(trace.value(f"{here}.mean_flow_m3_s"), "flow")
    if not is_final(summary):
        return f"The water stayed {stays} at {flow}; check the test before it is used"
    used = words.say(summary.effective_volume_ratio, "ratio")
    return f"The water stayed {stays} at {flow} and used {used} of the pore volume"

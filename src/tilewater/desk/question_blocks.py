# SPDX-License-Identifier: Apache-2.0
"""What each question opens to: blocks of the design, findings, and the numbers behind them.

A block that rests on the days is left out of the first answer and comes with the refined one.
"""

import re
from collections.abc import Callable, Iterator, Mapping
from typing import NamedTuple

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Step, Trace
from tilewater.chain.alternatives import Alternative
from tilewater.chain.design import Design
from tilewater.desk.forms import question_of
from tilewater.documents.pages import (
    summary_bed,
    summary_buffer,
    summary_decides,
    summary_ditch,
    summary_levels,
    summary_main,
    summary_money,
    summary_raised,
    summary_rules,
    summary_season,
    summary_water,
)
from tilewater.documents.pages.said import Part
from tilewater.documents.words import Words
from tilewater.tasks.held import Answer

Make = Callable[[Answer, Design, Words], Part | None]


class Piece(NamedTuple):
    """A block of the design: how it is made, for which practices, whether it rests on the days."""

    make: Make
    of: tuple[str, ...] = ("bed", "buffer", "raised")
    by_days: bool = False


def _trace(block: Callable[[Trace, Words], Part | None]) -> Make:
    return lambda answer, design, words: block(design.trace, words)


def _design(block: Callable[[Design, Words], Part | None]) -> Make:
    return lambda answer, design, words: block(design, words)


def _verdict(answer: Answer, design: Design, words: Words) -> Part:
    title = next((str(g.value) for g in design.job.givens if g.key == "inputs.job.title"), "")
    return summary_rules.verdict(title, design, words)


def _judgement(answer: Answer, design: Design, words: Words) -> Part | None:
    return summary_rules.overrules(design.trace, words, design.job.assumptions)


def _open(answer: Answer, design: Design, words: Words) -> Part | None:
    return summary_rules.open_items(design)


def _decides(answer: Answer, design: Design, words: Words) -> Part | None:
    return summary_decides.decides(design.trace, design.practice.words)


def _tried(answer: Answer, design: Design, words: Words) -> Part | None:
    found = (answer.record or {}).get("alternatives") or ()
    tried = tuple(Alternative(str(one["what"]), str(one["why_not"])) for one in found)
    return summary_rules.alternatives(tried, words)


BED, BUFFER, RAISED = ("bed",), ("buffer",), ("raised",)
PIECES: Mapping[str, tuple[Piece, ...]] = {
    "tile": (Piece(_trace(summary_main.main)),),
    "water": (
        Piece(_trace(summary_bed.water)),
        Piece(_trace(summary_main.pump)),
        Piece(_trace(summary_bed.capacity), BED),
        Piece(_trace(summary_bed.seasons), BED),
        Piece(_trace(summary_buffer.taken), BUFFER),
        Piece(_trace(summary_buffer.by_season), BUFFER),
        Piece(_trace(summary_raised.where), RAISED, by_days=True),
    ),
    "practice": (
        Piece(_verdict, by_days=True),
        Piece(_design(summary_rules.criteria), by_days=True),
        Piece(_trace(summary_bed.bed), BED),
        Piece(_trace(summary_buffer.buffer), BUFFER),
        Piece(_trace(summary_buffer.conductivity), BUFFER),
        Piece(_trace(summary_buffer.bank), BUFFER),
        Piece(_trace(summary_raised.zone), RAISED),
        Piece(_design(summary_levels.site)),
        Piece(_tried, by_days=True),
    ),
    "height": (
        Piece(_trace(summary_bed.boards)),
        Piece(_design(summary_levels.ladder)),
        Piece(_trace(summary_ditch.ditch)),
        Piece(_design(summary_levels.groundwater), (*BED, *BUFFER)),
        Piece(_trace(summary_season.emptying), BED),
        Piece(_trace(summary_season.start_up), BED),
        Piece(_trace(summary_season.winter), BED),
        Piece(_trace(summary_season.lid_card), BED),
    ),
    "field": (
        Piece(_design(summary_levels.field)),
        Piece(_trace(summary_water.wet_days)),
    ),
    "removal": (
        Piece(_trace(summary_money.removal), (*BED, *BUFFER), by_days=True),
        Piece(_trace(summary_buffer.removal_of_line), BUFFER, by_days=True),
        Piece(_trace(summary_raised.kept_back), RAISED, by_days=True),
        Piece(_trace(summary_money.life), BED, by_days=True),
        Piece(_trace(summary_decides.side_effects), by_days=True),
    ),
    "cost": (
        Piece(_trace(summary_money.cost), by_days=True),
        Piece(_trace(summary_money.quantities)),
    ),
    "built": (),
    "years": (),
    "unknown": (
        Piece(_judgement),
        Piece(_open),
        Piece(_decides, by_days=True),
    ),
}
"""Blocks of each question in their order."""


def blocks_of(slug: str, answer: Answer, words: Words) -> Iterator[Part]:
    """Blocks that an answer has for a question."""
    design = answer.design
    if design is None:
        return
    for piece in PIECES[slug]:
        if design.practice.name in piece.of and (answer.is_refined or not piece.by_days):
            made = piece.make(answer, design, words)
            if made is not None:
                yield made


def waits_for_days(slug: str, answer: Answer) -> bool:
    """Whether more of a question comes with the days."""
    design = answer.design
    if design is None or answer.is_refined:
        return False
    return any(piece.by_days and design.practice.name in piece.of for piece in PIECES[slug])


GROUPS: Mapping[str, tuple[str, ...]] = {
    "tile": ("main", "old_main", "property_line"),
    "water": (
        *("drain_flow", "water", "capacity", "seasons", "system", "sizing", "days", "feed_gate"),
        "pump",
    ),
    "practice": (
        *("bed", "buffer", "raised", "criteria", "plan", "cross", "footprint", "right_of_way"),
        *("uplift", "flotation", "widest_cut", "pipes", "rules", "probability"),
    ),
    "height": (
        *("boards", "elevations", "structure", "ditch", "ditch_over_bypass", "board_step"),
        *("bypass", "emptying", "drain_down", "start_up", "frost"),
    ),
    "field": ("field", "field_storm", "highest_crest_m", "pool_reach_m"),
    "removal": ("removal", "side_effects", "life"),
    "cost": ("cost", "quantities"),
    "built": (),
    "years": (),
    "unknown": ("decides", "advice"),
}
"""First parts of the keys of the numbers behind each question."""
OF_FILES = {
    "price": "cost",
    "samples": "removal",
    "shots": "tile",
    "shot_places": "tile",
    "boring": "practice",
    "ditch_series": "height",
}
"""Inputs that stand in files beside the job file."""


def question_of_key(key: str) -> str:
    """Slug of the question that a number of the trace stands behind."""
    if key.startswith("inputs."):
        table = key.split(".")[1]
        return question_of(key) or OF_FILES.get(table, "unknown")
    first = key.partition(".")[0]
    return next((slug for slug, groups in GROUPS.items() if first in groups), "unknown")


def numbers_of(slug: str, trace: Trace) -> dict[str, list[Step]]:
    """Numbers behind a question by their group, in the order of the computation; no inputs."""
    found: dict[str, list[Step]] = {}
    for step in trace:
        if not step.key.startswith("inputs.") and question_of_key(step.key) == slug:
            found.setdefault(step.key.partition(".")[0], []).append(step)
    return found


FINDINGS = (
    (
        r"^(boring|roots|bank|flow-rule|buffer|what-removes|survey-conductivity|in-right)",
        "practice",
    ),
    (r"^(utility|confined|open-water|local-rules|cut|widest)", "practice"),
    (r"^(nitrate|middle-rate|published|days-rest|measured-buffers|first-flush)", "removal"),
    (r"^(shots|point|north-east|segment|stub|main|old-main|submain)", "tile"),
    (r"^(weather|et-|drain|gev|log-pearson|surcharge|field-|pump|header)", "water"),
    (r"^(frost|start-up|ditch|line-dry|weir|board|rating|structure)", "height"),
    (r"^wet-days", "field"),
    (r"^(price|cost|quantit)", "cost"),
)
"""Findings of a code, and the question that they are told under."""


def question_of_finding(finding: Finding) -> str:
    """Slug of the question that a finding is told under; "unknown" where none is nearer."""
    by_path = question_of(finding.subject) if "." in finding.subject else ""
    found = (slug for pattern, slug in FINDINGS if re.match(pattern, finding.code))
    return by_path or next(found, "unknown")


class Told(NamedTuple):
    """A finding as a page shows it: how grave it is, what it is about, what it says."""

    severity: str
    subject: str
    words: str


def told_of(slug: str, answer: Answer) -> tuple[Told, ...]:
    """Findings of an answer that are told under a question, as a page shows them."""
    return tuple(
        Told(one.severity, one.subject[:1].upper() + one.subject[1:], one.message)
        for one in findings_of(slug, answer)
    )


def findings_of(slug: str, answer: Answer) -> tuple[Finding, ...]:
    """Findings of an answer that are told under a question: what fails first, notes last."""
    found = (*answer.notes, *(answer.design.trace.findings if answer.design else ()))
    here = [one for one in dict.fromkeys(found) if question_of_finding(one) == slug]
    order = ("fails", "caution", "note")
    return tuple(sorted(here, key=lambda one: order.index(one.severity)))

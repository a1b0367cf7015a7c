# SPDX-License-Identifier: Apache-2.0
"""Finished work as other programs read it, in SI."""

from math import isinf
from typing import Any

from tilewater.basis.trace import Trace
from tilewater.basis.unknown import is_unknown
from tilewater.chain.built_conforms import level_status
from tilewater.chain.built_elements import Level
from tilewater.chain.built_judged import part_key
from tilewater.chain.built_lid import BoardSet, Reading
from tilewater.chain.plain import Record
from tilewater.documents.pages.built_page import Built
from tilewater.tasks.built_survey import BuiltSurvey
from tilewater.tasks.grade_part import unmatched_record

INCH = 0.0254


def built_record(survey: BuiltSurvey, built: Built) -> Record:
    """What was built, whether it conforms, and what it changes."""
    effect = built.effect
    return {
        "file": survey.read.file,
        "shots": len(survey.found),
        "unmatched": [unmatched_record(m) for m in survey.unmatched],
        "in_all": built.in_all,
        "parts": [{"name": p.element, "word": p.word, "why": p.why} for p in built.parts],
        "levels": [_level(built.trace, level) for level in built.levels if _is_shot(built, level)],
        "floor": _floor(built.trace),
        "verdict": {"before": effect.before.verdict, "after": effect.after.verdict},
        "newly_short": [{"key": one.key, "title": one.title} for one in effect.newly_short],
        "numbers": [
            {"key": one.key, "title": one.title, "before": one.before, "after": one.after}
            for one in effect.numbers
        ],
        "boards": [_set(each) for each in built.sets],
        "stacks": [
            {
                "structure": each.structure,
                "designed_crest_m": each.designed,
                "stack_in": [round(b / INCH, 6) for b in each.stack],
                "crest_m": each.crest,
            }
            for each in built.stacks
        ],
        "paid": [
            {
                "item": each.item,
                "unit": each.unit,
                "designed": each.designed,
                "measured": each.measured,
                "paid": each.paid,
            }
            for each in built.paid
        ],
        "pictures": [
            {"name": p.name, "file": p.file, "what": p.what, "when": p.when, "is_there": p.is_there}
            for p in built.pictures
        ],
        "unknown": [
            {"key": item.key, "why": item.why, "measure": item.measure}
            for item in effect.after.open_items
        ],
    }


def _is_shot(built: Built, level: Level) -> bool:
    here = part_key(level)
    return f"{here}_m" in built.trace or f"{here}.off_m" in built.trace


def _number(trace: Trace, key: str) -> float | None:
    if not key or key not in trace:
        return None
    value: Any = trace.value(key)
    return None if is_unknown(value) or isinf(value) else float(value)


def _level(trace: Trace, level: Level) -> Record:
    here = part_key(level)
    return {
        "part": level.element,
        "what": level.what,
        "built_m": _number(trace, f"{here}_m"),
        "design_m": _number(trace, level.design),
        "off_m": _number(trace, f"{here}.off_m"),
        "below_m": _number(trace, level.below),
        "above_m": _number(trace, level.above),
        "noise_m": _number(trace, f"{here}.noise_m"),
        "status": level_status(trace, level) or "not known",
    }


def _floor(trace: Trace) -> Record:
    own = "built.parts.bed"
    return {
        "mean_m": _number(trace, f"{own}.floor_m"),
        "worst_off_m": _number(trace, f"{own}.floor-worst-shot.off_m"),
        "slope": _number(trace, f"{own}.floor.slope"),
        "spread_m": _number(trace, f"{own}.floor.spread_m"),
    }


def _set(each: BoardSet) -> Record:
    structure, _, season = each.name.partition("-")
    return {
        "name": each.name,
        "structure": structure,
        "season": season,
        "before": _reading(each.before),
        "after": _reading(each.after),
        "is_changed": each.is_changed,
    }


def _reading(reading: Reading | None) -> Record | None:
    if reading is None:
        return None
    down = reading.rim_down
    return {
        "stack_in": [round(board / INCH, 6) for board in reading.stack],
        "crest_m": reading.crest,
        "rim_down_in": None if down is None else down / INCH,
    }

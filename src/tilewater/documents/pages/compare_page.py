# SPDX-License-Identifier: Apache-2.0
"""What changed since an earlier result: verdict, what binds, rows that turned, numbers moved."""

from collections.abc import Sequence

from tilewater.basis.errors import UnknownName
from tilewater.basis.trace import Step, Trace
from tilewater.chain.changes import Change, Comparison
from tilewater.chain.explain import keys_of
from tilewater.documents.pages.said import Cell, Part, Said, block, dim, pairs, rows
from tilewater.documents.words import Words, unit_of_key

TOLD_ELSEWHERE = (
    "alternatives",
    "unknown",
    "requirements",
    "removal.by_method",
    "cost.items",
    "overrules",
    "start_up.plan",
)
"""Groups whose numbers stand under another key too, or are the words of another block."""


STATUS_NAMES = ("status", "result")
RATES = {"p10": "low", "p50": "middle", "p90": "high"}


def compare_page(comparison: Comparison, trace: Trace, words: Words) -> Part:
    """The earlier result on the left, this one on the right."""
    verdict = pairs((("verdict", _both(comparison.verdict)), ("binds", _both(comparison.governs))))
    body: list[Part] = [verdict]
    for label, changes in (("rule", comparison.turned), ("number", comparison.moved)):
        lines = change_lines(changes, trace, words)
        if lines:
            body += [Said(), rows((label, "before", "now"), lines, right=(1, 2), wide=(0,))]
    if len(body) == 1:
        body.append(dim("Nothing else changed."))
    return block("Since then", "", *body)


def change_lines(changes: tuple[Change, ...], trace: Trace, words: Words) -> list[tuple[Cell, ...]]:
    """One line for each number, under its title; a number under two keys is told once.

    Seasons in which the same thing happened to the same rule share a line.
    """
    told: dict[str, tuple[str, str]] = {}
    for change in changes:
        if change.key.startswith(TOLD_ELSEWHERE) or isinstance(change.after, bool):
            continue
        if [] in (change.before, change.after):
            continue
        step = _step(trace, change)
        if step is None and change.key.startswith("quantities"):
            continue  # an item that is no longer listed; its unit went with it
        is_own = step is not None and not _renamed(change.key)
        unit = step.unit if step and is_own else unit_of_key(change.key)
        key = step.key if step and is_own else change.key
        before, now = (words.of_key(key, value, unit) for value in (change.before, change.after))
        told.setdefault(_title(change.key, step, words), (before, now))
    grouped: dict[tuple[str, str, str], list[str]] = {}
    seasons = trace.names("inputs.season")
    for title, values in told.items():
        rule, season = _season_of(title, seasons)
        grouped.setdefault((rule, *values), []).append(season)
    return [
        (rule.format(season=", ".join(found)), before, now)
        for (rule, before, now), found in grouped.items()
    ]


def _season_of(title: str, seasons: Sequence[str]) -> tuple[str, str]:
    """A title with room for its season, and the season; "" where it is of none."""
    escaped = title.replace("{", "{{").replace("}", "}}")
    for season in seasons:
        for ending in (f", {season}", f", {season} setting"):
            if escaped.endswith(ending):
                return escaped.removesuffix(ending) + ending.replace(season, "{season}"), season
    return escaped, ""


def _title(key: str, step: Step | None, words: Words) -> str:
    """What a number is called: its title in the trace, else its key in words."""
    if step is None:
        return ", ".join(p for p in key.split(".") if p not in STATUS_NAMES).replace("_", " ")
    title = step.title.removesuffix(": status")
    for ending, rate in RATES.items():
        title = title.replace(f", {ending}", f", {rate} rate")
    if key.startswith("cost.usd_per_kg") and words.system == "us":
        title = title.replace("kilogram", "pound")
    return title


def _step(trace: Trace, change: Change) -> Step | None:
    """The number behind a change; of a status that sums up several, the one that decides it."""
    try:
        keys = keys_of(trace, change.key)
    except UnknownName:
        return None
    steps = [trace.steps[key] for key in keys]
    if len(steps) > 1:
        steps = [step for step in steps if step.value == change.after]
        return steps[0] if steps and change.key.endswith(STATUS_NAMES) else None
    return steps[0]


def _renamed(key: str) -> bool:
    """Whether a result holds the number in another unit than the trace."""
    return key.endswith(("_mm", "_in"))


def _both(change: Change) -> str:
    before, after = change.before or "nothing", change.after or "nothing"
    return f"{after}, as before" if before == after else f"{before}, now: {after}"

# SPDX-License-Identifier: Apache-2.0
"""What changed since an earlier result: verdict, what binds, rows that turned, numbers moved."""

from rich.console import RenderableType
from rich.text import Text

from tilewater.basis.errors import UnknownName
from tilewater.basis.trace import Step, Trace
from tilewater.chain.changes import Change, Comparison
from tilewater.chain.explain import keys_of
from tilewater.cli.page import block, dim, pairs, rows
from tilewater.cli.words import Words, unit_of_key

TOLD_ELSEWHERE = ("alternatives", "unknown", "requirements", "removal.by_method", "cost.items")
"""Groups whose numbers stand under another key too, or are the words of another block."""


def compare_page(comparison: Comparison, trace: Trace, words: Words) -> RenderableType:
    """The earlier result on the left, this one on the right."""
    verdict = pairs((("verdict", _both(comparison.verdict)), ("binds", _both(comparison.governs))))
    body: list[RenderableType] = [verdict]
    for label, changes in (("rule", comparison.turned), ("number", comparison.moved)):
        lines = _lines(changes, trace, words)
        if lines:
            body += [Text(), rows((label, "before", "now"), lines, right=(1, 2), wide=(0,))]
    if len(body) == 1:
        body.append(dim("Nothing else changed."))
    return block("Since then", "", *body)


def _lines(
    changes: tuple[Change, ...], trace: Trace, words: Words
) -> list[tuple[str, RenderableType, RenderableType]]:
    """One line for each number, under its title; a number under two keys is told once."""
    lines: dict[str, tuple[str, RenderableType, RenderableType]] = {}
    for change in changes:
        if change.key.startswith(TOLD_ELSEWHERE) or isinstance(change.after, bool):
            continue
        step = _step(trace, change.key)
        unit = unit_of_key(change.key) if step is None or _renamed(change.key) else step.unit
        key = change.key if step is None or _renamed(change.key) else step.key
        title = change.key if step is None else step.title.removesuffix(": status")
        before, now = (words.of_key(key, value, unit) for value in (change.before, change.after))
        lines.setdefault(title, (title, before, now))
    return list(lines.values())


def _step(trace: Trace, key: str) -> Step | None:
    try:
        keys = keys_of(trace, key)
    except UnknownName:
        return None
    return trace.steps[keys[0]] if len(keys) == 1 else None


def _renamed(key: str) -> bool:
    """Whether a result holds the number in another unit than the trace."""
    return key.endswith(("_mm", "_in"))


def _both(change: Change) -> str:
    before, after = change.before or "nothing", change.after or "nothing"
    return f"{after}, as before" if before == after else f"{before}, now: {after}"

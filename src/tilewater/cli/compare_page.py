# SPDX-License-Identifier: Apache-2.0
"""What changed since an earlier result: verdict, what binds, rows that turned, numbers moved."""

from typing import Any

from rich.console import RenderableType
from rich.text import Text

from tilewater.chain.changes import Change, Comparison
from tilewater.cli.page import block, pairs, rows
from tilewater.cli.words import Words, unit_of_key


def compare_page(comparison: Comparison, words: Words) -> RenderableType:
    """The earlier result on the left, this one on the right."""
    head = pairs(
        (
            ("verdict", _both(comparison.verdict)),
            ("binds", _both(comparison.governs)),
        )
    )
    body: list[RenderableType] = [head]
    changes = (*comparison.turned, *comparison.moved)
    if changes:
        lines = (
            [c.key, _say(c.key, c.before, words), _say(c.key, c.after, words)] for c in changes
        )
        body.append(rows(("key", "before", "now"), lines, right=(1, 2), wide=(0,)))
    else:
        body.append(Text("Nothing else changed."))
    return block("Since then", "", *body)


def _both(change: Change) -> str:
    before, after = change.before or "nothing", change.after or "nothing"
    return f"{after}, as before" if before == after else f"{before}, now: {after}"


def _say(key: str, value: Any, words: Words) -> str:
    return words.of_key(key, value, unit_of_key(key))

# SPDX-License-Identifier: Apache-2.0
"""What changed since the last issued copy: what was typed, what was decided, what came of it."""

from collections.abc import Iterable, Iterator

from tilewater.basis.trace import Trace
from tilewater.chain.changes import Change
from tilewater.chain.since_issued import SinceIssued, TypedChange
from tilewater.documents.pages.compare_page import change_lines
from tilewater.documents.pages.said import Cell, Part, Said, block, dim, pairs, rows
from tilewater.documents.words import Words

NOTHING = "nothing"


def since_page(since: SinceIssued, trace: Trace, words: Words) -> Part:
    """The issued copy on the left, the job as it is now on the right."""
    note = f"{since.copy}, {since.by}"
    if since.is_same:
        return block("Since the last issued copy", note, dim("Nothing changed."))
    body = list(_parts(since, trace, words))
    rest = len(since.results.moved) - len(since.governing)
    if rest > 0:
        body.append(
            dim(f"{rest} other numbers moved; --json tells all under changed_since_issued.")
        )
    return block("Since the last issued copy", note, *body)


def _parts(since: SinceIssued, trace: Trace, words: Words) -> Iterator[Part]:
    sides = (("verdict", since.results.verdict), ("binds", since.results.governs))
    yield pairs((label, _both(change)) for label, change in sides)
    typed = (*_typed("input", since.inputs), *_typed("decision", since.decisions))
    if typed:
        heads = ("typed", "", "then", "now", "where")
        yield from (Said(), rows(heads, typed, wide=(1, 2, 3)))
    for label, changes in (("rule", since.rules), ("number", since.governing)):
        lines = change_lines(changes, trace, words)
        if lines:
            yield from (Said(), rows((label, "then", "now"), lines, right=(1, 2), wide=(0,)))


def _typed(kind: str, changes: Iterable[TypedChange]) -> Iterator[tuple[Cell, ...]]:
    for change in changes:
        where = change.file if change.line is None else f"{change.file} {change.line}"
        before, after = change.before, change.after
        yield (
            dim(kind),
            change.title,
            NOTHING if before is None else before,
            NOTHING if after is None else after,
            dim(where),
        )


def _both(change: Change) -> str:
    before, after = change.before or NOTHING, change.after or NOTHING
    return f"{after}, as then" if before == after else f"{before}, now: {after}"

# SPDX-License-Identifier: Apache-2.0
"""What an edit moved between two answers, in words: what binds now, and which rows turned."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from tilewater.chain.changes import Change, compare_results
from tilewater.chain.plain import Record
from tilewater.tasks.held_answers import LEFT_TO_REFINED, Answer, without

STATUSES = "requirements."
"""Rows that are told; the same status stands elsewhere in the record once more."""


@dataclass(frozen=True)
class Moves:
    """What moved between two answers.

    Attributes
    ----------
    verdict, governs : Change
        Also where they did not change; None on a side that has no design.
    turned : tuple of Change
        Requirements whose status changed, by their titles.
    moved : tuple of Change
        Numbers that moved by more than half a percent, by key of the record.
    sentences : tuple of str
        The same for a reader: what binds first, then the verdict, then the rows.
    """

    verdict: Change
    governs: Change
    turned: tuple[Change, ...]
    moved: tuple[Change, ...]
    sentences: tuple[str, ...]

    @property
    def now_binds(self) -> str:
        """What binds now and did not before; "" where that is the same."""
        return "" if self.governs.before == self.governs.after else str(self.governs.after or "")


def what_moves(before: Answer, after: Answer) -> Moves:
    """What moved between two answers.

    A first answer and a refined one are compared by what both can say; what only days decide is
    left out.

    Parameters
    ----------
    before, after : Answer
        Of the same job, with different edits.

    Returns
    -------
    Moves
    """
    first, second = before.record or {}, after.record or {}
    if before.is_refined != after.is_refined:
        first, second = (without(record, LEFT_TO_REFINED) for record in (first, second))
    found = compare_results(first, second)
    titles = {**_titles(first), **_titles(second)}
    turned = tuple(
        Change(titles[name], change.before, change.after)
        for change in found.turned
        if (name := _requirement(change.key)) in titles
    )
    sentences = _sentences(found.governs, found.verdict, turned, after)
    is_both = before.record is not None and after.record is not None
    moved = found.moved if is_both else ()
    return Moves(found.verdict, found.governs, turned if is_both else (), moved, sentences)


def _titles(record: Record) -> dict[str, str]:
    rows: list[Mapping[str, Any]] = record.get("requirements", [])
    return {row["name"]: row["title"] for row in rows}


def _requirement(key: str) -> str:
    """Name of the requirement whose status a key is; "" for another key."""
    if not key.startswith(STATUSES) or not key.endswith(".status"):
        return ""
    return key.removeprefix(STATUSES).removesuffix(".status")


def _sentences(
    governs: Change, verdict: Change, turned: tuple[Change, ...], after: Answer
) -> tuple[str, ...]:
    if after.record is None:
        return tuple(str(fault) for fault in after.faults)
    found = []
    if governs.after is None:
        found.append("Nothing binds: nothing could be judged.")
    elif governs.before == governs.after:
        found.append(f"Still binds: {governs.after}.")
    else:
        found.append(f"Now binds: {governs.after}.")
        if governs.before is not None:
            found.append(f"Bound before: {governs.before}.")
    if verdict.before != verdict.after:
        was = "" if verdict.before is None else f"; before: {verdict.before}"
        found.append(f"Verdict now: {verdict.after}{was}.")
    for change in turned:
        found.append(f"{change.key}: {_status(change.before)}, now {_status(change.after)}.")
    return tuple(found)


def _status(status: str | None) -> str:
    return "not asked" if status is None else status

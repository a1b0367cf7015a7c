# SPDX-License-Identifier: Apache-2.0
"""What is written on an issued copy: `issue.toml`, for people first."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from importlib.metadata import version
from typing import Any

import tomlkit

from tilewater.basis.units import System
from tilewater.chain.changes import Change
from tilewater.chain.since_issued import SinceIssued, TypedChange
from tilewater.chain.verdict import OpenItem
from tilewater.job.checksums import CHECKSUMS, digest_of_file
from tilewater.job.input_files import outside_files
from tilewater.job.issued import IssuedCopy
from tilewater.tasks.designing import Outcome

FORMAT = 1
HEAD = (
    "What was issued, by whom, and what changed since the copy before it.",
    f"Nothing in this folder is altered afterwards; {CHECKSUMS} tells whether it is as it was:",
    f"sha256sum -c {CHECKSUMS}",
)


@dataclass(frozen=True)
class IssueWords:
    """What the engineer writes on a copy.

    Attributes
    ----------
    status : str
        What kind of copy it is: "review copy".
    by : str
        Who answers for it.
    note : str
        For whom or for what, or "".
    """

    status: str
    by: str
    note: str = ""


def slip_text(
    outcome: Outcome, words: IssueWords, day: date, units: System, before: IssuedCopy | None
) -> str:
    """The words of a copy as TOML, for people first.

    Parameters
    ----------
    outcome : Outcome
        The design.
    words : IssueWords
        What the engineer writes on it.
    day : date
        Date of the copy.
    units : "us" or "si"
        Units of its papers.
    before : IssuedCopy or None
        The copy before it.

    Returns
    -------
    str
        Text of `issue.toml`.
    """
    governs = outcome.design.governs
    slip = tomlkit.document()
    for line in HEAD:
        slip.add(tomlkit.comment(line))
    said: dict[str, Any] = {
        "format": FORMAT,
        "status": words.status,
        "by": words.by,
        "date": day.isoformat(),
        "note": words.note,
        "program": f"tilewater {version('tilewater')}",
        "job": outcome.job.inputs.name,
        "title": outcome.job.title,
        "units": units,
        "verdict": outcome.design.verdict,
        "binds": "" if governs is None else governs.text,
        "open_items": _lines(_open_item(item) for item in outcome.design.open_items),
        "before": "" if before is None else before.name,
        "before_checksums": "" if before is None else _seal(before),
    }
    for key, value in said.items():
        slip.add(key, value)
    outside = outside_files(outcome.job.sources)
    if outside:
        slip.add("outside", tomlkit.item(outside))
    if outcome.since is not None:
        slip.add("changed", tomlkit.item(_changed(outcome.since)))
    return tomlkit.dumps(slip)


def _seal(copy: IssuedCopy) -> str:
    path = copy.folder / CHECKSUMS
    return digest_of_file(path) if path.is_file() else ""


def _changed(since: SinceIssued) -> dict[str, Any]:
    """What changed since the copy before, in words; in numbers it stands in the record."""
    results = since.results
    return {
        "since": since.copy,
        "verdict": _sides(results.verdict),
        "binds": _sides(results.governs),
        "inputs": _lines(map(_typed, since.inputs)),
        "decisions": _lines(map(_typed, since.decisions)),
        "rules": _lines(f"{change.key}: {_sides(change)}" for change in since.rules),
        "numbers": _lines(f"{change.key}: {_sides(change)}" for change in since.governing),
    }


def _lines(lines: Iterable[str]) -> Any:
    array = tomlkit.array()
    array.extend(lines)
    return array.multiline(len(array) > 0)


def _open_item(item: OpenItem) -> str:
    return f"{item.why}: {item.measure}" if item.measure else item.why


def _typed(change: TypedChange) -> str:
    line = "" if change.line is None else f" line {change.line}"
    return f"{change.key}: {_told(change.before)} -> {_told(change.after)} ({change.file}{line})"


def _sides(change: Change) -> str:
    before, after = _told(change.before), _told(change.after)
    return f"{after}, as before" if before == after else f"{before} -> {after}"


def _told(value: Any) -> str:
    if value is None:
        return "nothing"
    return f"{value:.6g}" if isinstance(value, float) else str(value)

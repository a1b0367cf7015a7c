# SPDX-License-Identifier: Apache-2.0
"""What changed since the last issued copy: typed inputs, decisions, rules, governing numbers.

The signer reads this before signing again. Inputs are compared as they were typed, so that each
change names the file and the line on which a person made it.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from tilewater.chain.changes import Change, Comparison, compare_results
from tilewater.chain.plain import Record

TOLD_OF_COPIES = ("issued", "changed_since_issued")
"""Members of a result record that speak of issued copies and are no result."""

LISTED = "requirements."
"""List of a result record in which every rule stands once more."""

GOVERNING = (
    "drain_flow.peak_for_share_m3_s",
    "drain_flow.annual_load_kg",
    "bed.length_bottom_m",
    "bed.width_bottom_m",
    "bed.media_volume_m3",
    "buffer.line_length_m",
    "buffer.width_m",
    "buffer.flow_m3_s",
    "capacity.criterion.flow_m3_s",
    "capacity.criterion.share_of_peak",
    "capacity.criterion.retention_h",
    "highest_crest_m",
    "life.permeability_years",
    "removal.site_percent.p50",
    "removal.removed_kg.p50",
    "cost.total_usd",
)
"""Numbers that a signer looks at first; the crests of the boards belong to them too."""


@dataclass(frozen=True)
class Typed:
    """One thing that a person typed into a file of the job.

    Attributes
    ----------
    key : str
        Its place in the job file, `bed.width_bottom`.
    title : str
    text : str
        As it was typed.
    file : str
    line : int or None
    """

    key: str
    title: str
    text: str
    file: str
    line: int | None = None


@dataclass(frozen=True)
class TypedChange:
    """One thing that was typed anew, added or taken out since the copy was issued.

    Attributes
    ----------
    key, title : str
    before, after : str or None
        As typed; None where it does not stand there.
    file : str
    line : int or None
        Where it stands now; where it stood, when it is gone.
    """

    key: str
    title: str
    before: str | None
    after: str | None
    file: str
    line: int | None


@dataclass(frozen=True)
class SinceIssued:
    """What changed since an issued copy.

    Attributes
    ----------
    copy : str
        Name of its folder.
    status, by, date : str
        What was written on it.
    inputs : tuple of TypedChange
        Inputs, those of data files included.
    decisions : tuple of TypedChange
        Overrules, assumptions and confirmations.
    results : Comparison
        Its result beside the one of now.
    """

    copy: str
    status: str
    by: str
    date: str
    inputs: tuple[TypedChange, ...]
    decisions: tuple[TypedChange, ...]
    results: Comparison

    @property
    def is_same(self) -> bool:
        """Whether nothing that is told here changed."""
        verdict, governs = self.results.verdict, self.results.governs
        return not (
            self.inputs
            or self.decisions
            or self.results.turned
            or self.results.moved
            or verdict.before != verdict.after
            or governs.before != governs.after
        )

    @property
    def rules(self) -> tuple[Change, ...]:
        """Rules that turned, each once: a rule also stands in the list of all requirements."""
        keys = {change.key.rpartition(".")[0] for change in self.results.turned}
        return tuple(
            change
            for change in self.results.turned
            if not change.key.startswith(LISTED)
            or change.key.removeprefix(LISTED).rpartition(".")[0] not in keys
        )

    @property
    def governing(self) -> tuple[Change, ...]:
        """Of the numbers that moved those that a signer looks at first."""
        return tuple(change for change in self.results.moved if _governs(change.key))


def compare_typed(before: Iterable[Typed], after: Iterable[Typed]) -> tuple[TypedChange, ...]:
    """What was typed anew, added or taken out.

    Parameters
    ----------
    before, after : iterable of Typed
        What stood and what stands in the files of a job. [-]

    Returns
    -------
    tuple of TypedChange
        In the order of the files as they are now, what is gone last. [-]
    """
    first = {typed.key: typed for typed in before}
    second = {typed.key: typed for typed in after}
    shown = {key: second.get(key, typed) for key, typed in (second | first).items()}
    return tuple(
        _change(typed, first.get(key), second.get(key))
        for key, typed in shown.items()
        if _text(first.get(key)) != _text(second.get(key))
    )


def compare_with_issued(before: Mapping[str, Any], after: Mapping[str, Any]) -> Comparison:
    """Compare the result of an issued copy with the one of now.

    Parameters
    ----------
    before, after : mapping
        Result records; what they say of issued copies is no result and is left out. [-]

    Returns
    -------
    Comparison
        What changed. [-]
    """
    return compare_results(result_alone(before), result_alone(after))


def result_alone(record: Mapping[str, Any]) -> Record:
    """A result record without what it says of issued copies."""
    return {key: value for key, value in record.items() if key not in TOLD_OF_COPIES}


def since_issued_record(since: SinceIssued | None) -> Record | None:
    """What changed since the last issued copy as JSON has it; None where none was issued."""
    if since is None:
        return None
    return {
        "copy": since.copy,
        "status": since.status,
        "by": since.by,
        "date": since.date,
        "verdict": _sides(since.results.verdict),
        "governs": _sides(since.results.governs),
        "inputs": [_typed_record(change) for change in since.inputs],
        "decisions": [_typed_record(change) for change in since.decisions],
        "rules": [_change_record(change) for change in since.rules],
        "numbers": [_change_record(change) for change in since.results.moved],
    }


def _governs(key: str) -> bool:
    return key in GOVERNING or (key.startswith("boards.") and key.endswith(".crest_m"))


def _change(shown: Typed, before: Typed | None, after: Typed | None) -> TypedChange:
    return TypedChange(shown.key, shown.title, _text(before), _text(after), shown.file, shown.line)


def _text(typed: Typed | None) -> str | None:
    return None if typed is None else typed.text


def _sides(change: Change) -> Record:
    return {"before": change.before, "after": change.after}


def _change_record(change: Change) -> Record:
    return {"key": change.key, **_sides(change)}


def _typed_record(change: TypedChange) -> Record:
    return {
        "key": change.key,
        "title": change.title,
        "before": change.before,
        "after": change.after,
        "file": change.file,
        "line": change.line,
    }

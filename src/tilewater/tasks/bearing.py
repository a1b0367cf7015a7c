# SPDX-License-Identifier: Apache-2.0
"""Which findings bear on what a verb makes; the others are left to `design`, which shows all."""

from collections.abc import Collection, Iterable

from tilewater.basis.findings import Finding

STAKING = frozenset(
    (
        *("survey", "shots", "point", "benchmark", "baseline", "bend", "place", "line"),
        *("stake", "hub", "leg", "traverse"),
    )
)
"""First words of subjects that bear on setting out."""
SETS = STAKING | frozenset(
    (
        *("hole", "segment", "old", "main", "utilities", "structures", "open", "local", "right"),
        *("distribution", "pipe", "bank", "lining", "sheets"),
    )
)
"""First words of subjects that bear on a set of sheets."""


def bearing(notes: Iterable[Finding], subjects: Collection[str]) -> tuple[Finding, ...]:
    """Findings that are about one of some subjects, or that fail.

    Parameters
    ----------
    notes : iterable of Finding
    subjects : collection of str
        First words of subjects, in lower case.

    Returns
    -------
    tuple of Finding
        In their order, each once.
    """
    kept = (
        note for note in notes if note.severity == "fails" or _first_word(note.subject) in subjects
    )
    return tuple(dict.fromkeys(kept))


def _first_word(subject: str) -> str:
    words = subject.lower().replace(".", " ").replace("-", " ").split()
    return words[0] if words else ""


def others_line(count: int) -> str:
    """How many notes are shown elsewhere; "" for none."""
    if not count:
        return ""
    noun = "note" if count == 1 else "notes"
    return f"{count} more {noun} on the design; tilewater design shows them."

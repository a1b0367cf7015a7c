# SPDX-License-Identifier: Apache-2.0
"""What an edit changed: verdict, what binds, rows that turned, numbers that moved."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

TOLD = 0.005
"""Relative change from which a number is told."""


@dataclass(frozen=True)
class Change:
    """One thing that differs between two results."""

    key: str
    before: Any
    after: Any


@dataclass(frozen=True)
class Comparison:
    """Two results side by side.

    Attributes
    ----------
    verdict, governs : Change
        Also where they did not change.
    turned : tuple of Change
        Rows whose status changed.
    moved : tuple of Change
        Numbers that moved by more than half a percent.
    """

    verdict: Change
    governs: Change
    turned: tuple[Change, ...]
    moved: tuple[Change, ...]


def compare_results(before: Mapping[str, Any], after: Mapping[str, Any]) -> Comparison:
    """Compare two result records of `design --json`.

    Parameters
    ----------
    before, after : mapping
        Result records. [-]

    Returns
    -------
    Comparison
        What changed. [-]
    """
    first, second = flatten(before), flatten(after)
    turned, moved = [], []
    for key in dict.fromkeys((*first, *second)):
        old, new = first.get(key), second.get(key)
        if old == new or key in ("verdict", "tilewater") or key.startswith(("governs", "findings")):
            continue
        last = key.rpartition(".")[2]
        if last in ("status", "result"):
            turned.append(Change(key, old, new))
        elif _moved(old, new):
            moved.append(Change(key, old, new))
    return Comparison(
        verdict=Change("verdict", before.get("verdict"), after.get("verdict")),
        governs=Change("governs", _governs(before), _governs(after)),
        turned=tuple(turned),
        moved=tuple(moved),
    )


def flatten(record: Mapping[str, Any], prefix: str = "") -> dict[str, Any]:
    """Leaves of a record by dotted key; members of lists by their name."""
    leaves: dict[str, Any] = {}
    for key, value in record.items():
        path = f"{prefix}{key}"
        if isinstance(value, Mapping):
            leaves |= flatten(value, f"{path}.")
        elif isinstance(value, list) and value and isinstance(value[0], Mapping):
            for member in value:
                leaves |= flatten(member, f"{path}.{member_name(member)}.")
        else:
            leaves[path] = value
    return leaves


def member_name(member: Mapping[str, Any]) -> str:
    """Name by which a member of a list is addressed."""
    for key in ("name", "spot", "code", "item", "key", "what"):
        if key in member:
            return str(member[key])
    return "?"


def _governs(record: Mapping[str, Any]) -> Any:
    governs = record.get("governs")
    return governs["text"] if governs else None


def _moved(old: Any, new: Any) -> bool:
    numbers = all(isinstance(v, int | float) and not isinstance(v, bool) for v in (old, new))
    if not numbers:
        return (old is None) != (new is None)
    return bool(abs(new - old) > TOLD * max(abs(old), abs(new)))

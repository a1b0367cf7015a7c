# SPDX-License-Identifier: Apache-2.0
"""Which parts of the job file belong to one practice only, and what stands in for them.

A job of a buffer need not have the tables of a bed. What is not there is read as "unknown", so
that the rest of the file can be checked, and is no input of the job.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from tilewater.job.fields import UNKNOWN
from tilewater.job.schema import JobFile
from tilewater.job.tables import Member, Table

Path = tuple[str, ...]

ONLY_FOR: dict[Path, str] = {
    ("bed",): "bed",
    ("media",): "bed",
    ("structure", "outlet"): "bed",
    ("boards", "outlet"): "bed",
}
"""Parts of the file that one practice alone needs."""


def kinds_of(data: Mapping[str, Any]) -> tuple[str, ...]:
    """Practices that a job file asks for, as written; a bed where it says nothing."""
    practice = data.get("practice")
    kind = practice.get("kind") if isinstance(practice, Mapping) else None
    if isinstance(kind, list):
        return tuple(str(each).strip().casefold() for each in kind)
    return ("bed",) if kind is None else (str(kind).strip().casefold(),)


def stood_in_for(data: Mapping[str, Any]) -> tuple[Path, ...]:
    """Parts that the file leaves out and need not have."""
    kinds = kinds_of(data)
    if not set(kinds) & {"buffer", "raised"}:
        return ()
    return tuple(
        path
        for path, practice in ONLY_FOR.items()
        if practice not in kinds and not _is_there(data, path)
    )


def with_stand_ins(data: Mapping[str, Any]) -> Mapping[str, Any]:
    """The data of a file with "unknown" in every part that it need not have."""
    filled = dict(data)
    for path in stood_in_for(data):
        inside: dict[str, Any] = filled
        table: type[Table] = JobFile
        for key in path[:-1]:
            inside[key] = dict(inside.get(key, {}))
            inside, table = inside[key], _member(table, key).model
        member = _member(table, path[-1])
        inside[path[-1]] = UNKNOWN if member.ask is not None else _all_unknown(member.model)
    return filled


def _all_unknown(table: type[Table]) -> dict[str, Any]:
    return dict(_answers(table))


def _answers(table: type[Table]) -> Iterator[tuple[str, Any]]:
    for member in table.members():
        if not member.is_required():
            continue
        yield member.key, UNKNOWN if member.ask is not None else _all_unknown(member.model)


def _member(table: type[Table], key: str) -> Member:
    return next(member for member in table.members() if member.key == key)


def _is_there(data: Mapping[str, Any], path: Path) -> bool:
    value: Any = data
    for key in path:
        if not isinstance(value, Mapping):
            return True  # what is no table is answered by the reader, with its line
        if key not in value:
            return False
        value = value[key]
    return True

# SPDX-License-Identifier: Apache-2.0
"""A job file as it was typed: its values by key and line, and the files that it names.

Reads any job file that is TOML, also one of another version of the program, since nothing is asked
of its values.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from tilewater.chain.since_issued import Typed
from tilewater.job.fields import UNKNOWN
from tilewater.job.lines import key_lines, nearest_line
from tilewater.job.schema import JOB_FILE, JUDGEMENTS, JobFile, asks, member_at
from tilewater.job.toml_text import tables_of
from tilewater.job.words import FileName

DECISIONS = {"confirm": "Confirmation", "overrule": "Overrule", "assume": "Assumption"}
"""What an entry of the tables of decisions is called."""


@dataclass(frozen=True)
class NamedFile:
    """A data file that a job file names.

    Attributes
    ----------
    key, title : str
        Where it is named, `survey.shots`, and what it is.
    name : str
        As it was typed, seen from the job folder.
    """

    key: str
    title: str
    name: str


def typed_values(text: str) -> tuple[Typed, ...]:
    """Every value of a job file as it was typed; a decision is told as a whole.

    Raises
    ------
    ValueError
        If the text is not TOML.
    """
    data = tables_of(text)
    lines = key_lines(text.removeprefix("\ufeff"))
    return tuple(
        Typed(".".join(path), title, words, JOB_FILE, nearest_line(lines, path))
        for path, title, words in _leaves(data, ())
    )


def is_decision(key: str) -> bool:
    """Whether a key of a job file says what the engineer decides, and is no input."""
    return key.partition(".")[0] in JUDGEMENTS


def named_files(text: str) -> tuple[NamedFile, ...]:
    """The data files that a job file names, in its order.

    Raises
    ------
    ValueError
        If the text is not TOML.
    """
    found = []
    data = tables_of(text)
    for path, _, ask in asks(JobFile, data):
        value = _at(data, path)
        is_name = isinstance(value, str) and value.strip().casefold() not in ("", UNKNOWN)
        if isinstance(ask, FileName) and is_name:
            found.append(NamedFile(".".join(path), ask.title, value))
    return tuple(found)


_Leaf = tuple[tuple[str, ...], str, str]


def _leaves(table: Mapping[str, Any], above: tuple[str, ...]) -> Iterator[_Leaf]:
    for key, value in table.items():
        path = (*above, key)
        if isinstance(value, Mapping):
            is_entry = len(path) == 2 and path[0] in DECISIONS
            yield from (_decision(path, value),) if is_entry else _leaves(value, path)
        else:
            yield path, _title(path), _words(value)


def _decision(path: tuple[str, ...], entry: Mapping[str, Any]) -> _Leaf:
    words = "; ".join(_words(value) for value in entry.values())
    return path, f"{DECISIONS[path[0]]} {path[1]}", words


def _title(path: tuple[str, ...]) -> str:
    member = member_at(path)
    if member is None or member.ask is None:
        return path[-1].replace("_", " ")
    name = f", {path[-2]}" if len(path) > 2 else ""
    return f"{member.ask.title}{name}"


def _words(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    return ", ".join(map(_words, value)) if isinstance(value, list) else str(value)


def _at(data: Mapping[str, Any], path: tuple[str, ...]) -> Any:
    found: Any = data
    for key in path:
        found = found.get(key) if isinstance(found, Mapping) else None
    return found

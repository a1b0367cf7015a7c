# SPDX-License-Identifier: Apache-2.0
"""Change values in the text of a job file without touching anything around them.

An edit replaces, adds or removes one value. Every comment survives: behind a value that is replaced
or removed, and inside a list that is. A new key goes below the last key of its table, before the
blank lines and comments that lead over to the next. After all edits the text is read again and
compared with what was meant, so that a file of a shape not foreseen here is refused, never spoilt.
"""

import re
import tomllib
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any

import tomlkit

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.job.lines import Path, Place, comments, key_places
from tilewater.job.schema import JOB_FILE
from tilewater.job.toml_text import tables_of

Edit = str | int | float | bool | Sequence[str] | None
"""A new value; None removes the key, or the table with all its keys."""


def edited(text: str, edits: Mapping[str, Edit]) -> str:
    """Text of a TOML file with the values at dotted paths replaced, added or removed.

    Parameters
    ----------
    text : str
        Text of the file.
    edits : mapping of str to Edit
        By path, `main.diameter` or `overrule.bed-length.reason`.

    Returns
    -------
    str
        The new text.

    Raises
    ------
    BadInputFile
        If a path cannot be edited in this file.
    """
    leaves = _leaves_of(text)
    is_windows = "\r\n" in text and text.count("\r\n") == text.count("\n")
    plain = text.replace("\r\n", "\n") if is_windows else text
    for key, value in edits.items():
        path: Path = tuple(key.split("."))
        if not all(re.fullmatch(r"[A-Za-z0-9_-]+", str(part)) for part in path):
            raise _refused(key, None)
        try:
            leaves = _changed(leaves, path, value)
            plain = _without(plain, path) if value is None else _with(plain, path, value)
            is_meant = _leaves(tables_of(plain)) == leaves
        except (tomllib.TOMLDecodeError, TypeError, ValueError):
            is_meant = False
        if not is_meant:
            place = key_places(text).get(path[:1])
            raise _refused(key, place.line if place else None)
    return plain.replace("\n", "\r\n") if is_windows else plain


def as_toml(value: Edit) -> str:
    """A value as TOML text on one line."""
    if isinstance(value, Sequence) and not isinstance(value, str):
        return f"[{', '.join(as_toml(member) for member in value)}]"
    return str(tomlkit.item(value).as_string())


def _refused(key: str, line: int | None) -> BadInputFile:
    message = f"{key} cannot be changed in the file as it is written. Change it by hand."
    return BadInputFile(Fault(JOB_FILE, line, key, message))


@lru_cache(maxsize=4)
def _leaves_of(text: str) -> Mapping[Path, Any]:
    """Every value of a text by its path; a job that is held is edited again and again."""
    return _leaves(tables_of(text))


def _leaves(data: Mapping[str, Any], above: Path = ()) -> dict[Path, Any]:
    """Every value by its path; tables without values do not count."""
    found: dict[Path, Any] = {}
    for key, value in data.items():
        if isinstance(value, dict):
            found |= _leaves(value, (*above, key))
        else:
            found[(*above, key)] = value
    return found


def _changed(leaves: Mapping[Path, Any], path: Path, value: Edit) -> dict[Path, Any]:
    """What the file should say after one edit."""
    if value is None:
        return {key: leaf for key, leaf in leaves.items() if key[: len(path)] != path}
    is_list = isinstance(value, Sequence) and not isinstance(value, str)
    return {**leaves, path: list(value) if is_list else value}  # type: ignore[arg-type]


def _with(text: str, path: Path, value: Edit) -> str:
    places = key_places(text)
    if path in places and not places[path].is_table:
        return _replaced(text, places[path], as_toml(value))
    parent = places.get(path[:-1])
    if parent is not None and not parent.is_table:
        return _into_inline_table(text, parent, f"{path[-1]} = {as_toml(value)}")
    keys = [p for at, p in places.items() if at[:-1] == path[:-1] and not p.is_table]
    anchor = keys[-1] if keys else parent
    if anchor is None and len(path) > 1:
        return _new_table(text, places, path, value)
    if anchor is None:
        return f"{path[-1]} = {as_toml(value)}\n{text}"
    key = ".".join(str(part) for part in path[len(_table_around(places, anchor)) :])
    return _below(text, anchor.end, f"{key} = {as_toml(value)}")


def _table_around(places: Mapping[Path, Place], key: Place) -> Path:
    """The table whose header stands last before a key, or is the place itself."""
    above = [path for path, p in places.items() if p.is_table and p.start <= key.start]
    return above[-1] if above else ()


def _replaced(text: str, old: Place, new: str) -> str:
    start = text.rfind("\n", 0, old.start) + 1
    indent = re.match(r"[ \t]*", text[start:])
    kept = "".join(
        f"{indent[0] if indent else ''}{comment}\n"
        for comment in comments(f"v = {text[old.start : old.end]}")
    )
    return text[:start] + kept + text[start : old.start] + new + text[old.end :]


def _into_inline_table(text: str, table: Place, pair: str) -> str:
    inside = text[table.start + 1 : table.end - 1].rstrip()
    comma = ", " if inside.strip() else " "
    return f"{text[: table.start]}{{{inside}{comma}{pair} }}{text[table.end :]}"


def _new_table(text: str, places: Mapping[Path, Place], path: Path, value: Edit) -> str:
    """A new table below the last of its group, else at the end of the file."""
    lines = f"[{'.'.join(map(str, path[:-1]))}]\n{path[-1]} = {as_toml(value)}"
    headers = [p for p in places.values() if p.is_table]
    group = [p for at, p in places.items() if p.is_table and at[0] == path[0]]
    if not group:
        return f"{text.rstrip()}\n\n{lines}\n" if text.strip() else f"{lines}\n"
    after = [p.start for p in headers if p.start > group[-1].start]
    section_end = min(after, default=len(text))
    last = max(p.end for p in places.values() if group[-1].start <= p.start < section_end)
    return _below(text, last, f"\n{lines}")


def _below(text: str, position: int, lines: str) -> str:
    end = text.find("\n", position)
    if end < 0:
        return f"{text}\n{lines}\n"
    return f"{text[:end]}\n{lines}{text[end:]}"


def _without(text: str, path: Path) -> str:
    """The text without a key or a table; their comments stay on lines of their own."""
    places = key_places(text)
    inside = {at: p for at, p in places.items() if at[: len(path)] == path}
    for at, place in reversed(inside.items()):
        pairs = (at[:n] for n in range(1, len(at)))
        holder = next((a for a in pairs if a in places and not places[a].is_table), None)
        if holder is None:
            text = _cut(text, place)
        elif holder not in inside:
            raise ValueError("a key of an inline table")
    return text


def _cut(text: str, place: Place) -> str:
    start = text.rfind("\n", 0, place.start) + 1
    end = text.find("\n", place.end)
    end = len(text) if end < 0 else end + 1
    kept = comments(
        f"v = {text[place.start : end]}" if not place.is_table else text[place.end : end]
    )
    return text[:start] + "".join(f"{comment}\n" for comment in kept) + text[end:]

# SPDX-License-Identifier: Apache-2.0
"""On which line of a TOML file a key stands, and where its value begins and ends.

`tomllib` gives values without places. This scanner gives the places and no values: messages name
the line, and an edit replaces one value without touching a character around it. It takes text
that `tomllib` has read; what it says about any other text has no meaning.
"""

import re
import tomllib
from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass, field

Path = tuple[str | int, ...]
"""Way to a key through tables; a number counts the members of an array."""

_BLANK = re.compile(r"[ \t]*")
_SPACE = re.compile(r"(?:\s|#[^\n]*)*")
_COMMENT = re.compile(r"#[^\r\n]*")
_STRING = re.compile(
    r'"""(?:\\.|(?!""").)*"""(?:"{0,2})'
    r"|'''.*?'''(?:'{0,2})"
    r'|"(?:\\.|[^"\\\n])*"'
    r"|'[^'\n]*'",
    re.DOTALL,
)
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_SCALAR = re.compile(r"[^,\]}#\n]*[^,\]}#\s]")


@dataclass(frozen=True)
class Place:
    """Where a key stands.

    Attributes
    ----------
    line : int
        Line of the key, counted from 1.
    start, end : int
        The value, as positions in the text; for a table header the header itself.
    is_table : bool
        Whether the place is the header of a table.
    """

    line: int
    start: int
    end: int
    is_table: bool = False


def key_places(text: str) -> dict[Path, Place]:
    """Place of every key and table header of a TOML text, in the order of the file."""
    return _Scan(text).run().places


def key_lines(text: str) -> dict[Path, int]:
    """Line of every key and table header of a TOML text."""
    return {path: place.line for path, place in key_places(text).items()}


def nearest_line(lines: dict[Path, int], path: Path) -> int | None:
    """Line of a key, else of the nearest table above it that has one."""
    while path:
        if path in lines:
            return lines[path]
        path = path[:-1]
    return None


def comments(text: str) -> tuple[str, ...]:
    """Every comment of a TOML text, in order."""
    return tuple(_Scan(text).run().comments)


@dataclass
class _Scan:
    text: str
    at: int = 0
    places: dict[Path, Place] = field(default_factory=dict)
    comments: list[str] = field(default_factory=list)
    _arrays: dict[Path, int] = field(default_factory=dict)
    _ends: list[int] = field(default_factory=list)

    def __post_init__(self) -> None:
        self._ends = [match.start() for match in re.finditer("\n", self.text)]

    def run(self) -> "_Scan":
        table: Path = ()
        for _ in self._statements():
            if self.text.startswith("[", self.at):
                table = self._header()
            else:
                self._pair(table)
        return self

    def _statements(self) -> Iterator[None]:
        self._skip_space()
        while self.at < len(self.text):
            yield
            self._skip_space()

    def _header(self) -> Path:
        start = self.at
        is_array = self.text.startswith("[[", start)
        self.at += 2 if is_array else 1
        keys = self._keys()
        self.at = self.text.index("]", self.at) + (2 if is_array else 1)
        path: Path = ()
        for key in keys[:-1]:
            path = self._member((*path, key))
        path = (*path, keys[-1])
        if is_array:
            self._arrays[path] = self._arrays.get(path, -1) + 1
            path = self._member(path)
        self.places[path] = Place(self._line(start), start, self.at, is_table=True)
        return path

    def _member(self, path: Path) -> Path:
        return (*path, self._arrays[path]) if path in self._arrays else path

    def _pair(self, table: Path) -> None:
        line = self._line(self.at)
        path = (*table, *self._keys())
        self.at = self.text.index("=", self.at) + 1
        self.at = self._after(_BLANK)
        start = self.at
        self._value(path)
        self.places[path] = Place(line, start, self.at)

    def _keys(self) -> list[str]:
        keys = []
        while True:
            self.at = self._after(_BLANK)
            quoted = self.text[self.at] in "\"'"
            end = self._after(_STRING if quoted else _BARE_KEY)
            word, self.at = self.text[self.at : end], end
            keys.append(next(iter(tomllib.loads(f"{word}=0"))) if quoted else word)
            end = self._after(_BLANK)
            if not self.text.startswith(".", end):
                return keys
            self.at = end + 1

    def _value(self, path: Path) -> None:
        opening = self.text[self.at]
        if opening == "[":
            self._list(path)
        elif opening == "{":
            self._inline_table(path)
        else:
            self.at = self._after(_STRING if opening in "\"'" else _SCALAR)

    def _list(self, path: Path) -> None:
        self.at += 1
        member = 0
        self._skip_space()
        while self.text[self.at] != "]":
            self._value((*path, member))
            member += 1
            self._skip_space()
            if self.text[self.at] == ",":
                self.at += 1
                self._skip_space()
        self.at += 1

    def _inline_table(self, path: Path) -> None:
        self.at += 1
        self._skip_space()
        while self.text[self.at] != "}":
            self._pair(path)
            self._skip_space()
            if self.text[self.at] == ",":
                self.at += 1
                self._skip_space()
        self.at += 1

    def _skip_space(self) -> None:
        end = self._after(_SPACE)
        self.comments += _COMMENT.findall(self.text, self.at, end)
        self.at = end

    def _after(self, pattern: re.Pattern[str]) -> int:
        match = pattern.match(self.text, self.at)
        if match is None:
            raise ValueError(f"no TOML at position {self.at}; read the text with tomllib first")
        return match.end()

    def _line(self, position: int) -> int:
        return bisect_left(self._ends, position) + 1

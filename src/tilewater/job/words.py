# SPDX-License-Identifier: Apache-2.0
"""Values of the job file that are no quantities: words, choices, dates, names of files.

See `fields` for what all values have in common.
"""

import re
from dataclasses import dataclass
from datetime import date
from typing import Any

from tilewater.basis.units import did_you_mean, join_or
from tilewater.basis.unknown import Unknown
from tilewater.job.fields import UNKNOWN, Ask, Setting, Wrong, as_typed
from tilewater.job.file_names import is_file, lies_in, strange_name

SHOWN = 80
"""Letters of a name that are shown where it can be none."""


@dataclass(frozen=True)
class Text(Ask):
    """Words; a number is taken as it is written."""

    def read(self, raw: Any, setting: Setting) -> Any:
        if isinstance(raw, bool) or not isinstance(raw, (str, int, float)):
            raise Wrong(f"{as_typed(raw)} is not a text. Write it like {self.sample}.")
        if not (text := str(raw).strip()):
            raise Wrong(f'it is blank. Write it like {self.sample}, or "unknown".')
        return text

    def json_type(self) -> dict[str, Any]:
        return {"type": ["string", "number"]}


@dataclass(frozen=True)
class Texts(Ask):
    """A list of words."""

    @property
    def sample(self) -> str:
        return "[" + ", ".join(f'"{part.strip()}"' for part in self.example.split(",")) + "]"

    def read(self, raw: Any, setting: Setting) -> tuple[str, ...]:
        if not isinstance(raw, list) or not all(isinstance(member, str) for member in raw):
            raise Wrong(f"{as_typed(raw)} is not a list of texts. Write it like {self.sample}.")
        return tuple(raw)

    def json_type(self) -> dict[str, Any]:
        return {"anyOf": [{"type": "array", "items": {"type": "string"}}, {"const": UNKNOWN}]}


@dataclass(frozen=True)
class Choice(Ask):
    """One of a few words."""

    choices: tuple[str, ...] = ()

    @property
    def sample(self) -> str:
        return f'"{self.example or self.default or self.choices[0]}"'

    @property
    def allowed(self) -> str:
        return join_or(f'"{choice}"' for choice in self.choices)

    def read(self, raw: Any, setting: Setting) -> str:
        word = " ".join(str(raw).split()).casefold() if isinstance(raw, (str, int)) else ""
        for choice in self.choices:
            if word == choice.casefold():
                return choice
        told = f"'{raw}'" if isinstance(raw, str) else as_typed(raw)
        near = did_you_mean(word, self.choices) if word else ""
        raise Wrong(f"{told} is not one of the choices. Write {join_or(self.choices)}.{near}")

    def json_type(self) -> dict[str, Any]:
        return {"enum": list(dict.fromkeys((*self.choices, UNKNOWN)))}


@dataclass(frozen=True)
class Choices(Choice):
    """One of a few words, or a list of some of them in their order."""

    listed: tuple[str, ...] = ()

    def read(self, raw: Any, setting: Setting) -> Any:
        if not isinstance(raw, list):
            return super().read(raw, setting)
        words = tuple(str(super(Choices, self).read(each, setting)) for each in raw)
        wrong = [word for word in words if word not in self.listed]
        if wrong or len(set(words)) != len(words) or len(words) < 2:
            raise Wrong(
                f"{', '.join(words) or 'an empty list'} cannot follow each other. "
                f"Write a list of two of {join_or(self.listed)}, in the order of the water."
            )
        return words

    def json_type(self) -> dict[str, Any]:
        one = super().json_type()
        several = {"type": "array", "items": {"enum": list(self.listed)}, "minItems": 2}
        return {"anyOf": [one, several]}


@dataclass(frozen=True)
class Answer(Choice):
    """One of a few words, and behind it what one likes to say: `given, letter of 2026-04-11`.

    Held with the word as it is listed. Words that begin with none of them do not answer, so the
    question stays open; `other` names words that mean one of the choices.
    """

    other: tuple[tuple[str, str], ...] = ()

    @property
    def allowed(self) -> str:
        return f"{join_or(self.choices)}, then what you have of it"

    def read(self, raw: Any, setting: Setting) -> Any:
        if not isinstance(raw, str) or not (text := " ".join(raw.split())):
            raise Wrong(f"{as_typed(raw)} is no answer. Write {join_or(self.choices)} first.")
        for word, choice in (*((each, each) for each in self.choices), *self.other):
            rest = text[len(word) :]
            if text.casefold().startswith(word.casefold()) and not rest[:1].isalnum():
                more = rest.lstrip(" ,:;.")
                return f"{choice}, {more}" if more else choice
        why = f"'{text}' does not begin with {join_or(self.choices)}"
        return Unknown(why, f"write {join_or(self.choices)} first, then what you have of it")

    def json_type(self) -> dict[str, Any]:
        return {"type": "string"}


@dataclass(frozen=True)
class Day(Ask):
    """A date, held as `2024-05-14`."""

    @property
    def allowed(self) -> str:
        return "year-month-day"

    def read(self, raw: Any, setting: Setting) -> str:
        try:
            return date.fromisoformat(str(raw)).isoformat()
        except ValueError:
            raise Wrong(
                f"'{raw}' is not a date. Write year-month-day, like {self.sample}."
            ) from None


@dataclass(frozen=True)
class MonthDay(Ask):
    """A day of every year, held as `03-20`."""

    @property
    def allowed(self) -> str:
        return "month-day"

    def read(self, raw: Any, setting: Setting) -> str:
        try:
            if not re.fullmatch(r"\d\d-\d\d", str(raw)):
                raise ValueError
            return date.fromisoformat(f"2024-{raw}").isoformat()[5:]  # a leap year, for 02-29
        except ValueError:
            raise Wrong(
                f"'{raw}' is not a day of the year. Write month-day, like {self.sample}."
            ) from None


@dataclass(frozen=True)
class Year(Ask):
    """A calendar year."""

    @property
    def sample(self) -> str:
        return self.example

    def read(self, raw: Any, setting: Setting) -> int:
        if not re.fullmatch(r"(19|20|21)\d\d", str(raw)):
            raise Wrong(f"'{raw}' is not a year. Write it like {self.sample}.")
        return int(raw)

    def json_type(self) -> dict[str, Any]:
        return {"type": ["integer", "string"]}


@dataclass(frozen=True)
class FileName(Ask):
    """A file of the job folder, which must be there."""

    def read(self, raw: Any, setting: Setting) -> str:
        if not isinstance(raw, str) or not raw.strip():
            raise Wrong(f"{as_typed(raw)} is not the name of a file. Write it like {self.sample}.")
        if why := strange_name(raw):
            raise Wrong(f"{as_typed(raw[:SHOWN])} {why}")
        folder, within = setting.folder, setting.within
        if folder is not None and within is not None and not lies_in(folder / raw, within):
            raise Wrong(
                f"the file '{raw}' lies outside the folder that may be read here. "
                "Copy it into the job folder, and name that copy."
            )
        if folder is not None and not is_file(folder / raw):
            here = sorted(p.name for p in folder.iterdir() if p.is_file())
            raise Wrong(
                f"there is no file '{raw}' in the job folder. Put it there, or correct the name."
                f"{did_you_mean(raw, here)}"
            )
        return raw


@dataclass(frozen=True)
class Typed(Ask):
    """A value whose kind follows from the key that it stands for; kept as typed."""

    def read(self, raw: Any, setting: Setting) -> str | int | float | bool:
        if isinstance(raw, (str, int, float)) and str(raw).strip():
            return raw
        raise Wrong(f"{as_typed(raw)} is not a value. Write it like {self.sample}.")

    def json_type(self) -> dict[str, Any]:
        return {"type": ["string", "number", "boolean"]}

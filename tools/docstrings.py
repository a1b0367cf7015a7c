# SPDX-License-Identifier: Apache-2.0
"""Reads numpydoc docstrings: sections, the unit of each line, the sources cited."""

import inspect
import re
from dataclasses import dataclass
from functools import cache

from tools.package import PURE_FLOORS, Function, public_functions

SECTIONS = (
    "Parameters",
    "Returns",
    "Yields",
    "Raises",
    "Warns",
    "See Also",
    "Notes",
    "References",
    "Examples",
)
HEADING = re.compile(r"^(?P<title>[A-Z][A-Za-z ]+)\n-{3,}$", re.MULTILINE)
UNIT = re.compile(r"\[(?P<unit>[^\[\]]+)\]$")
CITED_AT_EQUATION = re.compile(r"\s{2,}\((?P<key>[a-z][a-z0-9_-]*)(?:, [^()]*)?\)$", re.MULTILINE)


@dataclass(frozen=True)
class Docstring:
    """A docstring taken apart: its first line and its sections by heading."""

    summary: str
    sections: dict[str, str]

    def units(self, section: str) -> dict[str, str | None]:
        """Return the unit by name of a section's items, None where an item ends without one."""
        found: dict[str, str | None] = {}
        for names, description in items(self.sections.get(section, "")):
            unit = UNIT.search(description)
            for name in names.split(","):
                found[name.strip().lstrip("*")] = unit["unit"] if unit else None
        return found

    def cited(self) -> list[str]:
        """Return the source keys of the References and beside the equations of the Notes."""
        lines = self.sections.get("References", "").splitlines()
        keys = [line.partition(",")[0].strip() for line in lines if line.strip()]
        return keys + CITED_AT_EQUATION.findall(self.sections.get("Notes", ""))


@cache
def docstrings(floors: range = PURE_FLOORS) -> dict[str, Docstring]:
    """Return the docstring of every public function of the given floors, by full name."""
    return {name: docstring_of(function) for name, function in public_functions(floors).items()}


def docstring_of(function: Function) -> Docstring:
    """Return the docstring of a function, taken apart."""
    text = inspect.getdoc(function) or ""
    top, *rest = HEADING.split(text)
    sections = dict(zip(rest[::2], (body.strip("\n") for body in rest[1::2]), strict=True))
    return Docstring(top.strip().partition("\n")[0], sections)


def items(section: str) -> list[tuple[str, str]]:
    """Return the (names, description) of a section: a name starts a line, its text is indented."""
    found: list[tuple[str, list[str]]] = []
    for line in section.splitlines():
        if line and not line[0].isspace():
            found.append((line.partition(" : ")[0], []))
        elif found:
            found[-1][1].append(line.strip())
    return [(names, " ".join(words).strip()) for names, words in found]

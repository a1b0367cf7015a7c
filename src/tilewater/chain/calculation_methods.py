# SPDX-License-Identifier: Apache-2.0
"""What the docstring of a function tells of its method: equation, letters, sources, checks."""

import inspect
import re
from dataclasses import dataclass
from functools import cache

from tilewater.chain import explain
from tilewater.chain.explain import Source

_EQUATION = re.compile(r"\s{2,}\((?P<key>[\w-]+)\)$")
_CHECKED = ("published", "independent library", "by hand", "law", "common practice")


@dataclass(frozen=True)
class MethodText:
    """A method in words.

    Attributes
    ----------
    function : str
        Dotted name.
    summary : str
        What it gives.
    equations : tuple of (equation, source key)
        As the docstring has them; none for what is only put together.
    parameters : tuple of (name, description)
        What is put in, each with its unit.
    sources : tuple of Source
    checked_by : tuple of str
        Kinds of tests that check it; empty where none does.
    """

    function: str
    summary: str
    equations: tuple[tuple[str, str], ...]
    parameters: tuple[tuple[str, str], ...]
    sources: tuple[Source, ...]
    checked_by: tuple[str, ...]


@cache
def method_text(function: str) -> MethodText:
    """What the docstring of a function says of its method.

    Parameters
    ----------
    function : str
        Dotted name, as a step has it. [-]

    Returns
    -------
    MethodText
    """
    doc = inspect.getdoc(explain.function_of(function)) or ""
    kinds = {check.partition(" · ")[0] for check in explain.checks_of(function)}
    return MethodText(
        function=function,
        summary=doc.split("\n", 1)[0],
        equations=_equations(explain.equation_of(doc)),
        parameters=tuple(_parameters(explain.section_of(doc, "Parameters"))),
        sources=explain.sources_of(doc),
        checked_by=tuple(kind for kind in _CHECKED if kind in kinds),
    )


def _equations(text: str) -> tuple[tuple[str, str], ...]:
    found = []
    for line in text.splitlines():
        match = _EQUATION.search(line)
        found.append((line[: match.start()], match["key"]) if match else (line, ""))
    return tuple(found)


def _parameters(lines: list[str]) -> list[tuple[str, str]]:
    """Name and description of each parameter; names that share a description stay together."""
    found: list[tuple[str, list[str]]] = []
    for line in lines:
        if line and not line[0].isspace():
            found.append((line.partition(" : ")[0].lstrip("*"), []))
        elif line.strip() and found:
            found[-1][1].append(line.strip())
    return [(name, " ".join(words)) for name, words in found]

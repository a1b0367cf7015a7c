# SPDX-License-Identifier: Apache-2.0
"""Docstrings are data: `--explain` and the docs read units, equations and sources from them."""

import inspect
import re
from collections import defaultdict
from collections.abc import Iterator

import pytest

from tilewater.basis.units import DOCSTRING_UNITS
from tools.docstrings import SECTIONS, docstrings
from tools.package import (
    ROOT,
    Function,
    public_functions,
    quantities,
    returns_quantity,
    sources,
)

pytestmark = pytest.mark.works


def unit_is_an_argument(function: Function) -> bool:
    """Whether the caller states the unit, so that the docstring cannot."""
    return not {"unit", "kind"}.isdisjoint(inspect.signature(function).parameters)


def quantities_and_units() -> Iterator[tuple[str, str, str | None]]:
    """Yield (function, parameter or 'return', stated unit) of all that is taken and returned."""
    for name, function in public_functions().items():
        if unit_is_an_argument(function):
            continue
        taken = docstrings()[name].units("Parameters")
        yield from ((name, each, taken.get(each)) for each in quantities(function))
        if returns_quantity(function):
            returned = docstrings()[name].units("Returns").values() or [None]
            yield from ((name, "return", unit) for unit in returned)


def test_first_line_is_one_sentence() -> None:
    assert [] == [
        f"{name}: '{docstring.summary}'"
        for name, docstring in docstrings().items()
        if not re.fullmatch(r"[A-Z0-9`].*\.", docstring.summary)
    ]


def test_sections_have_their_numpydoc_names() -> None:
    assert [] == [
        f"{name}: {heading}"
        for name, docstring in docstrings().items()
        for heading in docstring.sections
        if heading not in SECTIONS
    ]


def test_parameters_are_those_of_the_signature() -> None:
    assert [] == [
        f"{name}: {parameter}"
        for name, function in public_functions().items()
        for parameter in docstrings()[name].units("Parameters")
        if parameter not in inspect.signature(function).parameters
    ]


def test_every_quantity_states_a_known_unit() -> None:
    assert [] == [
        f"{name}: {quantity} [{unit}]"
        for name, quantity, unit in quantities_and_units()
        if unit not in DOCSTRING_UNITS
    ]


def test_every_computing_function_cites_a_source() -> None:
    engineering = public_functions(range(1, 6))
    assert [] == [
        name
        for name, function in engineering.items()
        if returns_quantity(function) and not docstrings()[name].cited()
    ]


def test_every_cited_source_exists() -> None:
    assert [] == [
        f"{name}: {key}"
        for name, docstring in docstrings().items()
        for key in docstring.cited()
        if key not in sources()
    ]


def test_shared_words_are_in_the_glossary_with_their_units() -> None:
    page = (ROOT / "docs" / "glossary.md").read_text(encoding="utf-8")
    stated = dict(re.findall(r"^\| `(\w+)` \|(?:[^|]*\|){2} ([^|]*) \|", page, re.MULTILINE))
    below_chain = public_functions(range(6))
    units_of: dict[str, list[str]] = defaultdict(list)
    for name, quantity, unit in quantities_and_units():
        if quantity != "return" and name in below_chain:
            units_of[quantity].append(str(unit))
    assert [] == [
        f"{word}: {sorted(set(units))}, glossary says {stated.get(word, 'nothing')}"
        for word, units in sorted(units_of.items())
        if len(units) > 1 and not set(units) <= set(stated.get(word, "").split(", "))
    ]

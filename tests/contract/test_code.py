# SPDX-License-Identifier: Apache-2.0
"""Every file is short, licensed and free of the machine it was written on."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tools.package import ROOT, python_files, text_files

LICENCE = "# SPDX-License-Identifier: Apache-2.0"
MODULE_LINES = 400
FUNCTION_LINES = 60  # without its docstring
LONGER_MODULES: frozenset[str] = frozenset()
LONGER_FUNCTIONS: frozenset[str] = frozenset()

MACHINE_PATH = re.compile(r"(?:^|[^\w.~])/(?:work|root|home|Users)/[A-Za-z]|[A-Z]:\\\\Users")

pytestmark = pytest.mark.works


def name_of(file: Path) -> str:
    return file.relative_to(ROOT).as_posix()


def functions_of(file: Path) -> Iterator[ast.FunctionDef]:
    tree = ast.parse(file.read_text(encoding="utf-8"))
    return (node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef))


def lines_of(function: ast.FunctionDef) -> int:
    """Return the length of a function without its docstring and decorators."""
    last = function.end_lineno or function.lineno
    first = function.body[0]
    explained = ast.get_docstring(function, clean=False) is not None
    docstring = (first.end_lineno or first.lineno) - first.lineno + 1 if explained else 0
    return last - function.lineno + 1 - docstring


def test_modules_are_short() -> None:
    lengths = {
        name_of(file): len(file.read_text(encoding="utf-8").splitlines())
        for file in python_files("src", "tools", "benchmarks")
    }
    longer = {name: lines for name, lines in lengths.items() if lines > MODULE_LINES}
    assert LONGER_MODULES == set(longer), longer


def test_functions_are_short() -> None:
    longer = {
        f"{name_of(file)}::{function.name}": lines_of(function)
        for file in (*python_files("src", "tools", "benchmarks"), ROOT / "dev.py")
        for function in functions_of(file)
        if lines_of(function) > FUNCTION_LINES
    }
    assert LONGER_FUNCTIONS == set(longer), longer


def test_every_module_names_its_licence_first() -> None:
    assert [] == [
        name_of(file)
        for file in (*python_files("src", "tests", "tools", "benchmarks"), ROOT / "dev.py")
        if LICENCE
        not in file.read_text(encoding="utf-8").splitlines()[: 2 if file.stem == "dev" else 1]
    ]


def test_no_file_names_a_machine() -> None:
    assert [] == [
        f"{name_of(file)}: {found[0].strip()}"
        for file, text in text_files()
        if (found := MACHINE_PATH.search(text))
    ]

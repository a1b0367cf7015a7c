# SPDX-License-Identifier: Apache-2.0
"""The tests keep their own rules: one kind each, an assertion each, a register that is fresh."""

import ast

import pytest

from tests.conftest import FAULTS
from tools.checks import REGISTER_FILE, Register, as_text, stale_lines
from tools.package import ROOT, python_files

CONTEXTS_THAT_ASSERT = ("raises", "warns")

pytestmark = pytest.mark.works


def asserts(test: ast.FunctionDef) -> bool:
    """Whether a test can fail on what it looks at, not only by crashing."""
    for node in ast.walk(test):
        if isinstance(node, ast.Assert):
            return True
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            name = node.func.attr
            if name in CONTEXTS_THAT_ASSERT or name.startswith("assert_"):
                return True
    return False


def test_every_test_has_one_kind_and_names_what_it_checks(pytestconfig: pytest.Config) -> None:
    assert [] == pytestconfig.stash[FAULTS]


def test_every_test_asserts() -> None:
    assert [] == [
        f"{file.relative_to(ROOT).as_posix()}::{node.name}"
        for file in python_files("tests")
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.FunctionDef) and node.name.startswith("test_") and not asserts(node)
    ]


def test_no_test_module_is_skipped_as_a_whole() -> None:
    """A module that is not collected would fall out of the register without a word."""
    assert [] == [
        file.relative_to(ROOT).as_posix()
        for file in python_files("tests")
        for statement in ast.parse(file.read_text(encoding="utf-8")).body
        for node in ast.walk(statement)
        if not isinstance(statement, ast.FunctionDef)
        and isinstance(node, ast.Attribute)
        and node.attr in ("importorskip", "skip")
        and getattr(node.value, "id", "") == "pytest"
    ]


def test_register_of_checks_is_fresh(register: Register, pytestconfig: pytest.Config) -> None:
    collected = {(ROOT / path.partition("::")[0]).resolve() for path in pytestconfig.args}
    if collected != {ROOT / "tests"}:
        pytest.skip("only a run of all tests can judge the register")
    shipped = (ROOT / REGISTER_FILE).read_text(encoding="utf-8")
    assert [] == stale_lines(shipped, as_text(register)), "run: python3 dev.py docs"

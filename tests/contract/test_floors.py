# SPDX-License-Identifier: Apache-2.0
"""The floors hold, and everything that states them states the same."""

import re

import pytest
from importlinter.api import read_configuration
from importlinter.cli import lint_imports

from tools.package import FLOORS, PURE_FLOORS, ROOT

CONFIGURATION = ROOT / ".importlinter"

pytestmark = pytest.mark.works


def contract(kind: str) -> dict[str, str]:
    found = read_configuration(str(CONFIGURATION))["contracts_options"]
    (only,) = (each for each in found if each["type"] == kind)
    return only


def test_imports_keep_the_floors(capsys: pytest.CaptureFixture[str]) -> None:
    failed = lint_imports(config_filename=str(CONFIGURATION), no_logo=True)
    assert failed == 0, capsys.readouterr().out


def test_linter_knows_the_floors_of_the_package() -> None:
    stated = [set(re.findall(r"\w+", line)) for line in contract("layers")["layers"]]
    assert stated == [set(floor) for floor in reversed(FLOORS)]


def test_linter_keeps_the_pure_floors_pure() -> None:
    pure = {f"tilewater.{package}" for floor in PURE_FLOORS for package in FLOORS[floor]}
    there = {name for name in pure if (ROOT / "src" / name.replace(".", "/")).is_dir()}
    assert set(contract("forbidden")["source_modules"]) == there


def test_docs_state_the_floors_of_the_package() -> None:
    page = (ROOT / "docs" / "floors.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| (\d+) \| ([^|]+) \|", page, re.MULTILINE)
    stated = {int(number): tuple(re.findall(r"`(\w+)`", names)) for number, names in rows}
    assert stated == dict(enumerate(FLOORS))

# SPDX-License-Identifier: Apache-2.0
"""The register of checks: which function is checked by which test, of which kind.

Built from the markers of the collected tests; the program ships it, so that `--explain` can say
what a number was checked against. It does not say that a test passed; the test run does.
"""

import difflib
import json
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import pytest

KINDS = ("published", "oracle", "by_hand", "law", "practice", "pinned", "works")
PLACED = {"published": ("source", "where"), "oracle": ("library",)}
"""What the markers of a kind state before `of`."""

REGISTER_FILE = Path("src/tilewater/basis/checks.json")

Register = dict[str, list[dict[str, str]]]


def kinds_of(item: pytest.Item) -> list[pytest.Mark]:
    """Return the kind markers of one test, nearest first."""
    return [mark for mark in item.iter_markers() if mark.name in KINDS]


def kind_of(item: pytest.Item) -> str:
    """Return the name of the kind of one test, or 'none'."""
    return next((mark.name for mark in kinds_of(item)), "none")


def dotted(checked: Any) -> str:
    """Return the full name of a checked function or class."""
    return f"{checked.__module__}.{checked.__qualname__}"


def checked_by(mark: pytest.Mark) -> tuple[Any, ...]:
    """Return what a kind marker names in `of`, one thing or several."""
    of = mark.kwargs.get("of", ())
    return tuple(of) if isinstance(of, list | tuple) else (of,)


def source_and_place(mark: pytest.Mark) -> dict[str, str]:
    """Return the source (and place in it) that a marker states; empty for our own checks."""
    return dict(zip(("source", "where"), map(str, mark.args), strict=False))


def faults_of(items: Iterable[pytest.Item]) -> list[str]:
    """Return what is wrong with the kind markers of the given tests, one line each."""
    faults = set()
    for item in items:
        test, kinds = item.nodeid.partition("[")[0], kinds_of(item)
        if len(kinds) != 1:
            faults.add(f"{test}: {len(kinds)} kinds, needs one")
        for mark in kinds:
            if not checked_by(mark) and mark.name != "works":
                faults.add(f"{test}: `of` names no function")
            if len(mark.args) != len(PLACED.get(mark.name, ())):
                faults.add(f"{test}: {mark.name} takes {' and '.join(PLACED.get(mark.name, ()))}")
    return sorted(faults)


def register_of(items: Iterable[pytest.Item]) -> Register:
    """Return the register of the given tests, in an order that does not depend on theirs."""
    found: dict[str, dict[str, dict[str, str]]] = {}
    for item in items:
        test = item.nodeid.partition("[")[0]
        for mark in kinds_of(item)[:1]:
            entry = {"test": test, "kind": mark.name} | source_and_place(mark)
            for checked in checked_by(mark):
                found.setdefault(dotted(checked), {})[test] = entry
    return {
        name: [tests[test] for test in sorted(tests)]
        for name, tests in sorted(found.items())
        if name.startswith("tilewater.")
    }


def stale_lines(written: str, now: str) -> list[str]:
    """Return the lines in which a generated file differs from what it should be."""
    lines = difflib.unified_diff(written.splitlines(), now.splitlines(), n=0, lineterm="")
    return [line for line in lines if not line.startswith(("---", "+++", "@@"))]


def as_text(register: Register) -> str:
    """Return the register as JSON, one line a check so that a change reads well."""
    blocks = []
    for name, checks in register.items():
        lines = ",\n".join(f"  {json.dumps(check, ensure_ascii=False)}" for check in checks)
        blocks.append(f" {json.dumps(name)}: [\n{lines}\n ]")
    return "{\n" + ",\n".join(blocks) + "\n}\n"

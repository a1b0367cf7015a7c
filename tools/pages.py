# SPDX-License-Identifier: Apache-2.0
"""Writes what the docs say about the code: sources, checks, units, verbs, shipped register.

    python -m tools.pages

Every page is computed from what the package holds, so a contract test can tell a stale one.
"""

import json
import subprocess
import sys
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from typing import Any

from tilewater.job.pages import job_file_page, job_schema_text
from tools.checks import KINDS, REGISTER_FILE, Register
from tools.command_line import command_line_page
from tools.docstrings import docstrings
from tools.package import (
    FLOORS,
    PURE_FLOORS,
    ROOT,
    public_functions,
    returns_quantity,
    sources,
)
from tools.units import units_page

SEEN = {
    "read": "The text or data was seen at the address given.",
    "memory": "Recalled, not checked against the text.",
    "practice": "A habit of the trade, no text behind it.",
    "derived": "Algebra or judgement of this project.",
}
OTHER_SIDE = {
    "published, read": "a value printed by a source that was read",
    "published, from memory": "a value printed by a source, recalled and not looked up",
    "oracle": "an independent library or independent numerical solution",
    "by_hand": "our own arithmetic, written out in the test",
    "law": "a property or a limiting case",
    "practice": "a rule of the trade",
    "pinned": "our own digits, only to notice change",
    "works": "wiring, parsing, messages",
}
NO_EVIDENCE = {"pinned", "works"}


def sources_page() -> str:
    """Return the page of sources by how they were seen, with the functions that cite each."""
    citing: dict[str, list[str]] = defaultdict(list)
    for name, docstring in docstrings().items():
        for key in dict.fromkeys(docstring.cited()):
            citing[key].append(name)
    tests: dict[str, set[str]] = defaultdict(set)
    for check in (check for checks in shipped_register().values() for check in checks):
        if check["kind"] == "published":
            tests[check["source"]].add(check["test"])
    lines = ["# Sources", "", "What the numbers rest on. Written by `python3 dev.py docs`."]
    for seen, meaning in SEEN.items():
        lines += ["", f"## {seen.capitalize()}", "", meaning]
        for key, source in sorted(sources().items()):
            if source["seen"] == seen:
                lines += ["", f"### {key}", "", *source_lines(source)]
                lines += ["", f"Cited by {listed(citing[key])}."] if citing[key] else []
                lines += (
                    ["", f"Tests against its printed values: {len(tests[key])}."]
                    if tests[key]
                    else []
                )
    return "\n".join(lines) + "\n"


def source_lines(source: dict[str, Any]) -> Iterator[str]:
    """Yield the lines of one source: who, when, what; where it was seen; what to know about it."""
    who = ", ".join(str(source[field]) for field in ("author", "year") if field in source)
    what = [source[field] for field in ("title", "publisher", "report") if field in source]
    yield ". ".join(text.rstrip(".") for text in (who, *what) if text) + "."
    if "address" in source:
        yield f"Seen at <{source['address']}>."
    if "note" in source:
        yield source["note"]


def checks_page() -> str:
    """Return the page of checks: how many of each kind, and which kinds each function has."""
    register = shipped_register()
    functions = public_functions()
    computing = [name for name, function in functions.items() if returns_quantity(function)]
    unchecked = [name for name in computing if not kinds(register, name) - NO_EVIDENCE]
    lines = [
        "# Checks",
        "",
        "What each function of the pure floors is checked against. Written by `python3 dev.py docs`"
        " from the tests as they stand; the test run says whether each holds.",
        "",
        "| kind | tests | what stands on the other side |",
        "| --- | --- | --- |",
    ]
    for kind, count in counts(register).items():
        lines.append(f"| {kind.replace('_', ' ')} | {count} | {OTHER_SIDE[kind]} |")
    lines += ["", "## Not checked", ""]
    lines.append(
        f"Of {len(computing)} functions that return a number, {len(unchecked)} have no check but"
        " our own digits or that they run."
    )
    lines += ["", *(f"- `{short(name)}`" for name in unchecked)] if unchecked else []
    for package in (package for floor in PURE_FLOORS for package in FLOORS[floor]):
        names = [name for name in functions if name.startswith(f"tilewater.{package}.")]
        if names:
            lines += ["", f"## {package}", "", *table_of_checks(register, names)]
    return "\n".join(lines) + "\n"


def counts(register: Register) -> dict[str, int]:
    """Return the number of tests by kind; a remembered published value is a kind of its own."""
    tests: dict[str, set[str]] = {kind: set() for kind in OTHER_SIDE}
    for check in (check for checks in register.values() for check in checks):
        kind = check["kind"]
        if kind == "published":
            read = sources()[check["source"]]["seen"] == "read" and "memory" not in check["where"]
            kind += ", read" if read else ", from memory"
        tests[kind].add(check["test"])
    return {kind: len(names) for kind, names in tests.items()}


def table_of_checks(register: Register, names: Iterable[str]) -> Iterator[str]:
    """Yield a table with a row for each function and its number of tests of each kind."""
    yield "| function | " + " | ".join(kind.replace("_", " ") for kind in KINDS) + " |"
    yield "| --- |" + " --- |" * len(KINDS)
    for name in names:
        of_kind = [check["kind"] for check in register.get(name, [])]
        cells = (str(of_kind.count(kind) or "") for kind in KINDS)
        within = short(name).partition(".")[2]
        yield f"| `{within}` | " + " | ".join(cells) + " |"


def shipped_register() -> Register:
    """Return the register of checks as the package ships it."""
    register: Register = json.loads((ROOT / REGISTER_FILE).read_text(encoding="utf-8"))
    return register


def kinds(register: Register, name: str) -> set[str]:
    """Return the kinds of check that a function has."""
    return {check["kind"] for check in register.get(name, [])}


def short(name: str) -> str:
    """Return the name of a function without the package that all share."""
    return name.removeprefix("tilewater.")


def listed(names: Iterable[str]) -> str:
    """Return names of functions as a list in one line."""
    return ", ".join(f"`{short(name)}`" for name in names)


PAGES: dict[str, Callable[[], str]] = {
    "docs/sources.md": sources_page,
    "docs/checks.md": checks_page,
    "docs/cli.md": command_line_page,
    "docs/units.md": units_page,
    "docs/job-file.md": job_file_page,
    "docs/job.schema.json": job_schema_text,
}


def main() -> int:
    """Collect the tests for the register, then write every page."""
    collect = ["-m", "pytest", "--collect-only", "--quiet", f"--write-checks={REGISTER_FILE}"]
    done = subprocess.run(
        [sys.executable, *collect], cwd=ROOT, stdout=subprocess.PIPE, text=True, check=False
    )
    if done.returncode:
        print(done.stdout)
        return done.returncode
    for name, page in PAGES.items():
        (ROOT / name).write_text(page(), encoding="utf-8")
    print(f"written: {', '.join([str(REGISTER_FILE), *PAGES])}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())

# SPDX-License-Identifier: Apache-2.0
"""What the checkout holds: its text files, modules, public functions and sources.

The contract tests judge it and the generated pages list it, both from here.
"""

import importlib
import inspect
import pkgutil
import re
import tomllib
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
SOURCES = ROOT / "src" / "tilewater" / "basis" / "sources.toml"

# Lowest first; packages of one floor do not know each other.
FLOORS: tuple[tuple[str, ...], ...] = (
    ("basis",),
    ("hydraulics",),
    ("hydrology", "nitrate"),
    ("practices",),
    ("criteria",),
    ("economics", "ground", "monitoring"),
    ("chain",),
    ("documents",),
    ("job",),
    ("tasks",),
    ("county",),
    ("cli", "desk"),
)
PURE_FLOORS = range(7)

Function = Callable[..., Any]


def modules(floors: range = PURE_FLOORS) -> list[ModuleType]:
    """Return the modules of the given floors, lowest first; a package not yet there is left out."""
    found = []
    for package in (package for floor in floors for package in FLOORS[floor]):
        if (ROOT / "src" / "tilewater" / package).is_dir():
            top = importlib.import_module(f"tilewater.{package}")
            found.append(top)
            for below in pkgutil.walk_packages(top.__path__, f"{top.__name__}."):
                found.append(importlib.import_module(below.name))
    return found


@cache
def public_functions(floors: range = PURE_FLOORS) -> dict[str, Function]:
    """Return the public functions of the public modules of the given floors, by full name."""
    return {
        f"{module.__name__}.{name}": inspect.unwrap(function)
        for module in modules(floors)
        if "._" not in module.__name__
        for name, function in vars(module).items()
        if not name.startswith("_")
        and getattr(function, "__module__", "") == module.__name__
        and callable(function)
        and inspect.isfunction(inspect.unwrap(function))
    }


def is_quantity(annotation: object) -> bool:
    """Whether an annotation is of a number or numbers, which then have a unit."""
    if getattr(annotation, "__origin__", None) is Callable:
        return False
    said = getattr(annotation, "__constraints__", annotation)  # of a type variable
    return re.search(r"\b(float|float64|int)\b", str(said)) is not None


def quantities(function: Function) -> list[str]:
    """Return the parameters of a function that are quantities; what is passed on is left out."""
    passed_on = (inspect.Parameter.VAR_POSITIONAL, inspect.Parameter.VAR_KEYWORD)
    return [
        each.name
        for each in inspect.signature(function).parameters.values()
        if each.kind not in passed_on and is_quantity(each.annotation)
    ]


def returns_quantity(function: Function) -> bool:
    """Whether a function returns a plain number or numbers, not a record, a text or a truth."""
    return is_quantity(inspect.signature(function).return_annotation)


@cache
def sources() -> dict[str, dict[str, Any]]:
    """Return every source the program leans on, by key."""
    return tomllib.loads(SOURCES.read_text(encoding="utf-8"))


def python_files(*folders: str) -> list[Path]:
    """Return the Python files under the given folders of the checkout."""
    return sorted(file for folder in folders for file in (ROOT / folder).rglob("*.py"))


def text_files() -> Iterator[tuple[Path, str]]:
    """Yield every text file of the project with its text; not caches, environments or results."""
    tops = [top for top in ROOT.iterdir() if not top.name.startswith(".") or top.name == ".ci"]
    made = {"__pycache__", "results", "site"}
    for file in sorted(file for top in tops for file in (top, *top.rglob("*"))):
        if file.is_file() and not made.intersection(file.relative_to(ROOT).parts):
            try:
                yield file, file.read_text(encoding="utf-8")
            except UnicodeDecodeError:
                continue  # a picture or another file without words

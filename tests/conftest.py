# SPDX-License-Identifier: Apache-2.0
"""What every test shares: the kinds of check, the register of what is checked, the field data.

Each test carries exactly one kind. The kinds name the functions that a test checks, so that a
printed number can be followed to its checks; `python3 dev.py docs` writes that register.
"""

import os
from pathlib import Path

import pytest
from hypothesis import settings

from tilewater.basis.compiled import keep_compiled_in
from tools.checks import KINDS, Register, as_text, faults_of, kind_of, register_of

FIELD_DATA = "TILEWATER_FIELD_DATA"
REAL_RECORD = "TILEWATER_REAL_RECORD"
REGISTER = pytest.StashKey[Register]()
FAULTS = pytest.StashKey[list[str]]()

# A busy machine is no fault of a law, and CI must say the same of the same commit.
settings.register_profile("here", deadline=None, print_blob=True)
settings.register_profile("ci", settings.get_profile("here"), derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "here")

KIND_HELP = {
    "published": "published(source, where, *, of): a value printed outside the project",
    "oracle": "oracle(library, *, of): an independent library or independent numerical solution",
    "by_hand": "by_hand(*, of): our own arithmetic, written out in the test",
    "law": "law(*, of): a property or a limiting case",
    "practice": "practice(*, of): a rule of the trade; common practice, no source",
    "pinned": "pinned(*, of): our own digits, only to notice change",
    "works": "works(*, of=()): wiring, parsing, messages",
}


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--write-checks", type=Path, help="write the register of checks to this file")


def pytest_configure(config: pytest.Config) -> None:
    keep_compiled_in(str(config.rootpath / ".pytest_cache" / "kernels"))
    for kind in KINDS:
        config.addinivalue_line("markers", KIND_HELP[kind])
    config.addinivalue_line("markers", "slow: kept out of the default run; dev.py test --slow")
    config.addinivalue_line("markers", "field_data: needs the measured data beside the checkout")


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Read the register before any test is deselected, so that `-m` and `-k` cannot thin it."""
    for item in items:
        if "field_data" in getattr(item, "fixturenames", ()):
            item.add_marker("field_data")
        item.user_properties.append(("kind", kind_of(item)))
    config.stash[REGISTER] = register_of(items)
    config.stash[FAULTS] = faults_of(items)
    if target := config.getoption("--write-checks"):
        target.write_text(as_text(config.stash[REGISTER]), encoding="utf-8")


@pytest.fixture
def register(pytestconfig: pytest.Config) -> Register:
    """Which function is checked by which test, of the tests collected in this run."""
    return pytestconfig.stash[REGISTER]


@pytest.fixture
def field_data(pytestconfig: pytest.Config) -> Path:
    """Folder of the measured drain flow and saturated buffer data."""
    beside = pytestconfig.rootpath.parent / "shared" / "data"
    folder = Path(os.environ.get(FIELD_DATA, beside))
    if not folder.is_dir():
        pytest.skip(f"no measured data at {folder}; set {FIELD_DATA} to its folder")
    return folder


@pytest.fixture(scope="session")
def real_record(pytestconfig: pytest.Config) -> Path:
    """Folder of the wheel that holds thirty years of real weather."""
    folder = Path(os.environ.get(REAL_RECORD, pytestconfig.rootpath / ".real-record"))
    if not any(folder.glob("*.whl")):
        pytest.skip(f"no weather record in {folder}; dev.py test --slow downloads it")
    return folder


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say how many tests of each kind passed: by kind is how a reader judges them."""
    passed = [
        dict(report.user_properties)["kind"] for report in terminalreporter.getreports("passed")
    ]
    if passed:
        counts = ", ".join(f"{passed.count(kind)} {kind}" for kind in KINDS)
        terminalreporter.write_line(f"passed by kind of check: {counts}")

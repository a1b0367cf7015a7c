# SPDX-License-Identifier: Apache-2.0
"""A checkout sets itself up: locks that fit, an environment that is made whole or made again."""

import ast
import importlib.util
import os
import re
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path
from types import ModuleType

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from tools.package import ROOT

LOCKS = sorted(ROOT.glob("requirements*.lock"))
PIN = re.compile(r"^([a-z0-9.-]+)==(\S+)", re.MULTILINE)

pytestmark = pytest.mark.works


@pytest.fixture
def dev(tmp_path: Path) -> ModuleType:
    """The set-up script in a checkout of its own, in a folder with a space and an accent."""
    checkout = tmp_path / "Fläche 2"
    checkout.mkdir()
    for name in ("dev.py", "pyproject.toml", "requirements.lock"):
        (checkout / name).write_bytes((ROOT / name).read_bytes())
    found = importlib.util.spec_from_file_location("dev_of_checkout", checkout / "dev.py")
    assert found is not None
    assert found.loader is not None
    module = importlib.util.module_from_spec(found)
    found.loader.exec_module(module)
    return module


@pytest.fixture
def ran(dev: ModuleType, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What the script would have run; making an environment only makes its folder."""
    lines: list[str] = []

    def record(*words: str | Path, stdout: object = None) -> int:
        lines.append(" ".join(map(str, words)))
        if "venv" in words:
            Path(words[-1]).mkdir(exist_ok=True)
        return 0

    monkeypatch.setattr(dev, "run", record)
    return lines


def steps(lines: list[str]) -> list[str]:
    """Return what the lines do, in three words."""
    words = {"-m venv": "make", "--require-hashes": "install libraries", "--editable": "install us"}
    return [step for line in lines for mark, step in words.items() if mark in line]


def test_environment_is_made_once(dev: ModuleType, ran: list[str]) -> None:
    python = dev.environment("run")
    assert steps(ran) == ["make", "install libraries", "install us"]
    assert python == dev.environment("run")
    assert len(ran) == 3


def test_half_made_environment_is_made_again(
    dev: ModuleType, ran: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as interrupted:
        interrupted.setattr(dev, "pip_install", interrupt)
        with pytest.raises(KeyboardInterrupt):
            dev.environment("run")
    dev.environment("run")
    assert steps(ran) == ["make", "make", "install libraries", "install us"]


def interrupt(*_: object) -> None:
    raise KeyboardInterrupt


def test_changed_lock_makes_another_environment(dev: ModuleType, ran: list[str]) -> None:
    before = dev.environment("run")
    with (dev.ROOT / "requirements.lock").open("a", encoding="utf-8") as lock:
        lock.write("# changed\n")
    assert before != dev.environment("run")
    assert steps(ran).count("make") == 2


def test_changed_project_is_installed_again_alone(dev: ModuleType, ran: list[str]) -> None:
    dev.environment("run")
    with dev.PROJECT.open("a", encoding="utf-8") as project:
        project.write("# changed\n")
    dev.environment("run")
    assert steps(ran) == ["make", "install libraries", "install us", "install us"]


def test_missing_venv_is_answered_with_what_to_install(
    dev: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(dev.importlib.util, "find_spec", lambda name: None)
    with pytest.raises(SystemExit, match="On Debian and Ubuntu install python3-venv"):
        dev.environment("run")


def test_failed_install_says_what_to_do(dev: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(dev, "run", lambda *words, stdout=None: int("pip" in words))
    with pytest.raises(SystemExit, match="Check the way to your package index"):
        dev.environment("run")


def test_old_python_can_read_why_it_is_refused() -> None:
    script = (ROOT / "dev.py").read_text(encoding="utf-8")
    tree = ast.parse(script, feature_version=(3, 6))
    refusal = next(node for node in tree.body if isinstance(node, ast.If))
    definitions = [node.lineno for node in tree.body if isinstance(node, ast.FunctionDef)]
    assert refusal.lineno < min(definitions)


@pytest.mark.parametrize("lock", LOCKS, ids=lambda lock: lock.name)
def test_lock_has_hashes_and_no_address(lock: Path) -> None:
    text = lock.read_text(encoding="utf-8")
    entries = re.split(r"^(?=[a-z0-9])", text, flags=re.MULTILINE)[1:]
    assert "://" not in text
    assert entries
    assert all("--hash=sha256:" in entry for entry in entries)


@pytest.mark.parametrize(
    ("lock", "groups"),
    [
        ("requirements.lock", ["build"]),
        ("requirements-dev.lock", ["build", "test", "lint"]),
        ("requirements-docs.lock", ["docs"]),
    ],
)
def test_lock_holds_what_the_project_asks_for(lock: str, groups: list[str]) -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    asked = [line for group in groups for line in project["dependency-groups"][group]]
    asked += project["project"]["dependencies"] if "docs" not in groups else []
    pinned = dict(PIN.findall((ROOT / lock).read_text(encoding="utf-8")))
    for requirement in map(Requirement, asked):
        name = canonicalize_name(requirement.name)
        assert name in pinned, f"{name} is not in {lock}; run: python3 dev.py lock"
        assert pinned[name] in requirement.specifier


def test_running_needs_no_test_tools() -> None:
    pinned = dict(PIN.findall((ROOT / "requirements.lock").read_text(encoding="utf-8")))
    assert not {"pytest", "ruff", "mypy", "hypothesis", "playwright", "mkdocs"} & set(pinned)


@pytest.mark.slow
def test_demo_runs_from_a_folder_with_a_space_and_an_accent(tmp_path: Path) -> None:
    checkout = tmp_path / "Büro 2"
    leave_out = shutil.ignore_patterns(".venv*", ".git", ".*_cache", "__pycache__", "results")
    shutil.copytree(ROOT, checkout, ignore=leave_out)
    home = {**os.environ, "HOME": str(tmp_path)}
    demo = [sys.executable, str(checkout / "dev.py"), "demo"]
    first = subprocess.run(demo, env=home, capture_output=True, encoding="utf-8", check=False)
    again = subprocess.run(demo, env=home, capture_output=True, encoding="utf-8", check=False)
    assert first.returncode == 0, first.stderr
    assert "Setting up" in first.stderr
    assert "Setting up" not in again.stderr
    assert first.stdout == again.stdout

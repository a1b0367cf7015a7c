# SPDX-License-Identifier: Apache-2.0
"""A desk in a test: copies of the examples in a folder, and a program that holds its token."""

import shutil
from pathlib import Path

from fastapi.testclient import TestClient

from tilewater.desk.app import make_app
from tools.package import ROOT

TOKEN = "the-token-of-this-start"
HERE = "http://127.0.0.1:8600"
EXAMPLES = ROOT / "examples"


def copy_of(example: str, root: Path, name: str = "") -> Path:
    """A copy of an example in a folder of jobs, without what was computed."""
    folder = root / (name or example)
    computed = shutil.ignore_patterns("results", "issued")
    return Path(shutil.copytree(EXAMPLES / example, folder, ignore=computed))


def desk_of(root: Path) -> TestClient:
    """A program beside the browser that asks a desk, with its token."""
    client = stranger_to(root)
    client.headers["authorization"] = f"Bearer {TOKEN}"
    return client


def stranger_to(root: Path) -> TestClient:
    """A program that asks a desk and knows nothing."""
    app = make_app(root, token=TOKEN)
    return TestClient(app, base_url=HERE, follow_redirects=False)


def version_of(desk: TestClient, name: str) -> str:
    """The version of a job as the desk holds it."""
    held = desk.app.state.shelf.held(name)  # type: ignore[attr-defined]
    return str(held.version)


def edit(folder: Path, old: str, new: str) -> None:
    """Change a text of the job file as another program would."""
    file = folder / "job.toml"
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")

# SPDX-License-Identifier: Apache-2.0
"""A job file with every table and field, to be changed in the tests."""

from pathlib import Path

import pytest

WHOLE = Path(__file__).parents[1] / "files" / "format-1"


@pytest.fixture(scope="session")
def whole_text() -> str:
    """Text of a job file with every field."""
    return (WHOLE / "job.toml").read_text(encoding="utf-8")


@pytest.fixture(scope="session")
def whole_folder() -> Path:
    """Its folder, with the files that it names."""
    return WHOLE

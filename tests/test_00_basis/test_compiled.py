# SPDX-License-Identifier: Apache-2.0
"""Compiled twins: one source, one folder for its state, one word before the first of them."""

from pathlib import Path

import pytest

from tilewater.basis import compiled as module
from tilewater.basis.compiled import compiled, keep_compiled_in, kernel_key, kernel_sources
from tilewater.hydraulics._bed_section import area

pytestmark = pytest.mark.works(of=(compiled, keep_compiled_in, kernel_key, kernel_sources))


def twice(depth: float) -> float:
    return 2.0 * area(depth, 3.0, 1.0)


def thrice(depth: float) -> float:
    return 3.0 * area(depth, 3.0, 1.0)


def test_a_twin_gives_the_same_number_and_follows_what_it_calls() -> None:
    pytest.importorskip("numba")
    assert compiled(twice)(0.7) == twice(0.7) == 2.0 * 0.7 * 3.7
    assert compiled(twice) is compiled(twice)


def test_the_door_is_told_once_where_the_compiled_lies(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    pytest.importorskip("numba")
    monkeypatch.setattr(module, "_folder", [])
    monkeypatch.setattr(module, "_tell", [])
    told: list[str] = []
    keep_compiled_in(str(tmp_path), told.append)
    assert compiled(thrice)(0.7) == thrice(0.7)
    compiled(thrice)
    assert told == [f"{tmp_path}/{kernel_key()}"]
    assert any((tmp_path / kernel_key()).rglob("*.nbi"))


def test_without_a_compiler_the_plain_function_answers(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "has_compiler", lambda: False)
    assert compiled(twice) is twice


def test_the_key_is_of_every_source_that_a_kernel_may_come_from() -> None:
    pytest.importorskip("numba")
    names = [source.name for source in kernel_sources()]
    assert {"roots.py", "_bed_section.py", "_field.py", "_route.py", "_system.py"} <= set(names)
    assert len(kernel_key()) == 16

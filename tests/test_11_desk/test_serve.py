# SPDX-License-Identifier: Apache-2.0
"""The desk as a process: it opens before anything is compiled, and ends when it is told to."""

import os
import signal
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from http.cookiejar import CookieJar
from pathlib import Path
from threading import Thread

import pytest

from tests.desks import copy_of
from tilewater.basis.compiled import compiled, has_compiler
from tilewater.basis.readiness import READY, Readiness
from tilewater.basis.unknown import Unknown
from tilewater.desk import warming
from tilewater.desk.serve import serve
from tilewater.desk.server import Server
from tilewater.desk.warming import Warming, run_quick_twins
from tilewater.hydraulics import _line_run
from tilewater.hydrology import _field
from tilewater.tasks.held import HeldJob
from tilewater.tasks.held_answers import QUICK, Computing
from tools.package import ROOT

needs_compiler = pytest.mark.skipif(not has_compiler(), reason="nothing compiles here")
STARTED = """
import sys
from pathlib import Path
from tilewater.basis.compiled import keep_compiled_in
from tilewater.desk.verb import desk
keep_compiled_in(sys.argv[2])
desk(Path(sys.argv[1]), port=0, browser=False)
"""


@pytest.mark.works(of=(serve, Server, Warming))
@pytest.mark.parametrize("name", ["SIGINT", "SIGTERM"])
@pytest.mark.skipif(os.name == "nt", reason="no such signals")
def test_a_desk_ends_at_once_though_it_computes(tmp_path: Path, name: str) -> None:
    copy_of("corbel-farm", tmp_path)
    words = (sys.executable, "-c", STARTED, tmp_path, tmp_path / "kernels")
    with subprocess.Popen(words, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        address = process.stdout.readline().strip()
        browser = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(CookieJar()))
        browser.open(address).read()
        page = browser.open(f"{address.partition('?')[0]}job/corbel-farm").read()
        assert b"corbel-farm" in page
        days = f"{address.partition('?')[0]}job/corbel-farm/days"
        Thread(target=_forsaken, args=(browser, days), daemon=True).start()
        time.sleep(0.5)

        process.send_signal(getattr(signal, name))

        assert process.wait(timeout=20) == 0


def _forsaken(browser: urllib.request.OpenerDirector, address: str) -> None:
    try:
        browser.open(address).read()
    except OSError:
        return


@contextmanager
def nothing_ready() -> Iterator[Readiness]:
    READY.compiles()
    try:
        yield READY
    finally:
        READY.all_is_ready()


@pytest.mark.works(of=(Readiness, Computing))
def test_readable_twins_answer_until_kernels_are_compiled(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[str] = []

    def telling(twin):  # type: ignore[no-untyped-def]
        def tell(*given, **named):  # type: ignore[no-untyped-def]
            asked.append(twin.__name__)
            return twin(*given, **named)

        return tell

    quick = {readable: telling(twin) for readable, twin in QUICK.items()}
    monkeypatch.setattr("tilewater.tasks.held_answers.QUICK", quick)
    folder = ROOT / "examples" / "merridew-farm"
    with nothing_ready():
        early = HeldJob(folder).first()
        assert not asked
    later = HeldJob(folder).first()
    assert {"field_run_compiled", "flow_at_heads_compiled"} <= set(asked)
    assert early.record == later.record


@pytest.mark.works(of=(Readiness, Computing))
def test_while_kernels_are_loaded_wet_days_follow_and_nothing_else_moves() -> None:
    held = HeldJob(ROOT / "examples" / "merridew-farm")
    READY.compiles(is_near=True)
    try:
        early = held.first()
    finally:
        READY.all_is_ready()
    later = held.first()
    assert early.design is not None
    assert later.design is not None
    moved = {
        step.key
        for step in later.design.trace
        if isinstance(early.design.trace.value(step.key), Unknown)
        and not isinstance(step.value, Unknown)
    }
    runs = {key for key in moved if key.endswith(".run")}
    assert runs
    assert all(key.startswith(("water.spot.", "field.", "verdict")) for key in moved), moved
    assert held.latest() is later


@pytest.mark.works(of=(Readiness, Computing))
def test_a_refined_answer_waits_for_the_kernels_or_is_given_up() -> None:
    held = HeldJob(ROOT / "examples" / "merridew-farm")
    patience = iter([True, True, False])
    with nothing_ready():
        assert not held.refined(goes_on=lambda: next(patience, False)).is_refined
    assert next(patience, None) is None


@needs_compiler
@pytest.mark.works(of=(run_quick_twins,))
def test_after_the_quick_twins_have_run_no_first_answer_compiles() -> None:
    run_quick_twins()
    kernels = (compiled(_field.run_field), compiled(_line_run.branch_run))
    before = [len(kernel.signatures) for kernel in kernels]  # type: ignore[attr-defined]
    for farm in ("corbel-farm", "merridew-farm", "sorrel-farm", "verling-farm"):
        HeldJob(ROOT / "examples" / farm).first()
    assert [len(kernel.signatures) for kernel in kernels] == before  # type: ignore[attr-defined]
    assert min(before) > 0


@needs_compiler
@pytest.mark.works(of=(Warming,))
def test_warming_leaves_everything_ready_also_where_no_process_can_start(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(warming, "kept_in", lambda: f"{tmp_path}/kernels/key")
    monkeypatch.setattr(warming.sys, "executable", str(tmp_path / "none"))
    ran: list[bool] = []
    monkeypatch.setattr(warming, "run_quick_twins", lambda: ran.append(READY.quick.is_set()))
    with Warming():
        READY.wait(lambda: True)
    assert ran == [False]
    assert READY.quick.is_set()

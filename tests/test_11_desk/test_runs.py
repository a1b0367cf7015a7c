# SPDX-License-Identifier: Apache-2.0
"""Long work of the desk: one of a kind at a time, stopped when asked, never lost in silence."""

from threading import Event

import pytest

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.memory import Stopped
from tilewater.desk.runs import DONE, FAILED, STOPPED, Run, Runs

SECONDS = 5.0
"""Far more than any of these takes."""


@pytest.mark.works(of=(Runs, Run))
def test_a_second_start_finds_the_first_that_still_runs() -> None:
    runs, gate = Runs(), Event()
    first = runs.start("farm", "search", "v1", lambda run: gate.wait(SECONDS))
    second = runs.start("farm", "search", "v2", lambda run: "never")
    other = runs.start("meadow", "search", "v1", lambda run: "its own")
    assert second is first
    assert other is not first
    gate.set()
    assert first.wait(SECONDS)
    assert first.state == DONE
    assert runs.start("farm", "search", "v2", lambda run: "anew") is not first


@pytest.mark.works(of=(Run,))
def test_what_is_known_at_a_stop_is_kept() -> None:
    def work(run: Run) -> list[int]:
        known: list[int] = []
        while run.goes_on():
            known.append(len(known))
            run.tell(f"{len(known)} known", 0.5)
            Event().wait(0.001)
        return known

    run = Runs().start("farm", "search", "v1", work)
    while run.share is None:
        Event().wait(0.001)
    run.stop()
    assert run.wait(1.0)
    assert run.state == STOPPED
    assert run.result[0] == 0


@pytest.mark.works(of=(Run,))
def test_work_that_is_refused_says_why_and_work_that_lets_go_keeps_nothing() -> None:
    def refused(run: Run) -> None:
        raise OutOfDomain("The bed is in cells. Take them out.")

    def let_go(run: Run) -> None:
        raise Stopped("Stopped before it was whole.")

    runs = Runs()
    failed, stopped = runs.start("a", "x", "", refused), runs.start("b", "x", "", let_go)
    assert failed.wait(SECONDS)
    assert stopped.wait(SECONDS)
    assert (failed.state, failed.faults) == (FAILED, ("The bed is in cells. Take them out.",))
    assert (stopped.state, stopped.result) == (STOPPED, None)

# SPDX-License-Identifier: Apache-2.0
"""Long work of a job in a thread: how far it is, the wish to stop it, what came of it.

What runs is kept with the desk, not with the page: a page that is loaded again finds it. One work
of a kind runs for a job at a time.
"""

from collections.abc import Callable
from threading import Event, Lock, Thread
from time import monotonic
from typing import Any

from fastapi import Request

from tilewater.basis.errors import BadInputFile, TilewaterError
from tilewater.basis.memory import Stopped

RUNS, DONE, STOPPED, FAILED = "runs", "done", "stopped", "failed"


class Run:
    """One long work.

    Attributes
    ----------
    version : str
        Of the job that it was started for.
    state : "runs", "done", "stopped" or "failed"
    said : str
        What it does now, in words.
    share : float or None
        Of the work that is done, where that can be told. [-]
    result : object
        What came of it, also of one that was stopped where something was known.
    faults : tuple of str
        Why it failed.
    """

    def __init__(self, version: str) -> None:
        self.version = version
        self.state = RUNS
        self.said = ""
        self.share: float | None = None
        self.result: Any = None
        self.faults: tuple[str, ...] = ()
        self._stop = Event()
        self._began = monotonic()
        self._thread: Thread | None = None

    @property
    def is_running(self) -> bool:
        """Whether it has not ended."""
        return self.state == RUNS

    @property
    def is_stopping(self) -> bool:
        """Whether it was asked to stop."""
        return self._stop.is_set()

    @property
    def seconds(self) -> float:
        """Time since it was started. [s]"""
        return monotonic() - self._began

    def goes_on(self) -> bool:
        """Whether nobody asked it to stop."""
        return not self._stop.is_set()

    def tell(self, said: str, share: float | None = None) -> None:
        """Say what it does now."""
        self.said, self.share = said, share

    def stop(self) -> None:
        """Ask it to stop; it keeps what is known."""
        self._stop.set()

    def wait(self, seconds: float) -> bool:
        """Whether it ended within a time. [s]"""
        if self._thread is not None:
            self._thread.join(seconds)
        return not self.is_running

    def begin(self, work: "Callable[[Run], Any]") -> None:
        """Do the work in a thread of its own."""
        self._thread = Thread(target=self._do, args=(work,), daemon=True)
        self._thread.start()

    def _do(self, work: "Callable[[Run], Any]") -> None:
        try:
            self.result = work(self)
        except Stopped:
            self.state = STOPPED
        except BadInputFile as error:
            self.faults = tuple(str(fault) for fault in error.faults)
            self.state = FAILED
        except TilewaterError as error:
            self.faults = tuple(str(error).splitlines())
            self.state = FAILED
        except Exception as error:  # a thread has nobody above it who would hear
            self.faults = (f"It ended by a defect of the program: {type(error).__name__}.",)
            self.state = FAILED
            raise
        else:
            self.state = STOPPED if self.is_stopping else DONE


class Runs:
    """Works of the jobs of a desk, the last of each kind for each job."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._runs: dict[tuple[str, str], Run] = {}

    def of(self, name: str, kind: str) -> Run | None:
        """The last work of a kind for a job."""
        return self._runs.get((name, kind))

    def start(self, name: str, kind: str, version: str, work: Callable[[Run], Any]) -> Run:
        """Start a work; the one that runs already where there is one."""
        with self._lock:
            before = self._runs.get((name, kind))
            if before is not None and before.is_running:
                return before
            run = Run(version)
            self._runs[(name, kind)] = run
            run.begin(work)
            return run


_MAKING = Lock()


def runs_of(request: Request) -> Runs:
    """The works of this desk."""
    with _MAKING:
        if not hasattr(request.app.state, "runs"):
            request.app.state.runs = Runs()
    runs: Runs = request.app.state.runs
    return runs

# SPDX-License-Identifier: Apache-2.0
"""Whether kernels are compiled yet, or still being compiled while readable twins answer.

Says nothing of how they are compiled; see `compiled`. Where nobody compiles ahead everything counts
as ready, and a kernel is compiled when it is first called.
"""

from collections.abc import Callable
from threading import Event

PATIENCE = 0.05
"""How long one waits before asking whether to go on. [s]"""


class Readiness:
    """What is compiled.

    Attributes
    ----------
    quick : Event
        The kernels of quick twins: until they are ready the readable ones answer.
    whole : Event
        All kernels: who cannot do without waits for them.
    is_near : bool
        Whether they lie on disk and are only loaded, in a moment.
    """

    def __init__(self) -> None:
        self.quick, self.whole = Event(), Event()
        self.is_near = False
        self.all_is_ready()

    def compiles(self, *, is_near: bool = False) -> None:
        """From now on nothing is ready; it is in a moment where all lies on disk."""
        self.is_near = is_near
        self.quick.clear()
        self.whole.clear()

    def all_is_ready(self) -> None:
        """Nothing is being compiled any more."""
        self.quick.set()
        self.whole.set()

    @property
    def in_a_moment(self) -> bool:
        """Whether quick twins are not there yet and come in a moment."""
        return self.is_near and not self.quick.is_set()

    def wait_in_a_moment(self, longest: float) -> None:
        """Wait for what comes in a moment; not for what has yet to be compiled."""
        if self.in_a_moment:
            self.quick.wait(longest)

    def wait(self, goes_on: Callable[[], bool]) -> None:
        """Wait until all is ready, or nobody waits for the answer any more."""
        while not self.whole.is_set() and goes_on():
            self.whole.wait(PATIENCE)


READY = Readiness()
"""That of this process."""

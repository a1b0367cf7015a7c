# SPDX-License-Identifier: Apache-2.0
"""Progress of long work beside the result, and the wish of the reader to stop it.

The first interrupt ends the work with what is known so far; a second one ends the program.
"""

import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType

from rich.console import Console

from tilewater.basis.memory import Stopped
from tilewater.chain.search_ask import Progress

STOPPING = "Stopping: what is known so far will be shown. Once more to leave at once."


@contextmanager
def watched(console: Console) -> Iterator[Callable[[Progress], bool]]:
    """Show the progress while work goes on, and say whether it should."""
    stopped = False

    def stop(number: int, frame: FrameType | None) -> None:
        nonlocal stopped
        if stopped:
            raise KeyboardInterrupt
        stopped = True
        console.print(STOPPING)

    before = signal.signal(signal.SIGINT, stop)
    try:
        with console.status("Designing") as status:

            def goes_on(progress: Progress) -> bool:
                status.update(
                    f"{progress.at}: {progress.tried:,} asked, {progress.routed:,} of at most "
                    f"{progress.budget:,} led through the days"
                )
                return not stopped

            yield goes_on
    finally:
        signal.signal(signal.SIGINT, before)


@contextmanager
def told(console: Console) -> Iterator[Callable[[str, float], None]]:
    """Show what long work does and how far it is; an interrupt ends it where it tells the next."""
    stopped = False

    def stop(number: int, frame: FrameType | None) -> None:
        nonlocal stopped
        if stopped:
            raise KeyboardInterrupt
        stopped = True
        console.print("Stopping; nothing is written. Once more to leave at once.")

    before = signal.signal(signal.SIGINT, stop)
    try:
        with console.status("Designing") as status:

            def tell(said: str, share: float) -> None:
                if stopped:
                    raise Stopped(f"Stopped before {said}.")
                status.update(f"{share:4.0%}  {said}")

            yield tell
    finally:
        signal.signal(signal.SIGINT, before)

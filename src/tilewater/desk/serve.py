# SPDX-License-Identifier: Apache-2.0
"""Start the desk on this machine, open it in the browser, end it with Ctrl-C."""

import gc
import os
import socket
import webbrowser
from collections.abc import Callable
from pathlib import Path
from threading import Timer

import uvicorn
from fastapi import FastAPI

from tilewater.desk.app import make_app
from tilewater.desk.guard import KEY
from tilewater.desk.warming import Warming

ADDRESS = "127.0.0.1"
SELDOM = (50_000, 20, 50)
"""Thresholds of the search for garbage."""
WAIT_S = 0.4
"""Between the start and the opening of the browser; the page waits for the server anyway."""
PATIENCE_S = 1
"""For requests that are answered when the desk is ended; what takes longer is given up."""


class Desk(uvicorn.Server):
    """A server that says when it has ended, though a request may still be computed in a thread."""

    def __init__(self, config: uvicorn.Config, ended: Callable[[], None]) -> None:
        super().__init__(config)
        self._ended = ended

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        """End the connections, then say so."""
        await super().shutdown(sockets)
        self._ended()


def serve(
    root: Path,
    *,
    port: int = 0,
    open_browser: bool = True,
    tell: Callable[[str], None] = print,
    ended: Callable[[], None] = lambda: None,
) -> None:
    """Serve the desk of a folder until it is stopped.

    Parameters
    ----------
    root : Path
        A folder of job folders, or one job folder.
    port : int
        Port on this machine; a free one where it is 0.
    open_browser : bool
        Whether the browser is opened.
    tell : callable
        Told the address.
    ended : callable
        Called once it was asked to end and its connections are closed; threads may still compute.

    Raises
    ------
    OSError
        If the port is taken.
    """
    app = make_app(root)
    _pause_less()
    with listening_on(port) as listening:
        listening.listen()  # who opens the address before the server runs waits, and is not refused
        here = f"http://{ADDRESS}:{listening.getsockname()[1]}/"
        tell(f"{here}?{KEY}={app.state.token}")
        if open_browser:
            once = f"{here}?{KEY}={app.state.tickets.new()}"
            opening = Timer(WAIT_S, webbrowser.open, (once,))
            opening.daemon = True
            opening.start()
        with Warming() as warming:

            def end() -> None:
                warming.stop()
                ended()

            Desk(config_of(app), end).run(sockets=[listening])


def _pause_less() -> None:
    """Look for garbage seldom, and never among what is there from the start.

    More than a hundred thousand objects last as long as the desk. To walk them takes a tenth of a
    second each time, which a hand that drags a board would feel.
    """
    gc.collect()
    gc.freeze()
    gc.set_threshold(*SELDOM)


def listening_on(port: int) -> socket.socket:
    """A socket of this machine's own address, which no other machine reaches."""
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        if os.name != "nt":  # where it would let another program take the same port
            listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listening.bind((ADDRESS, port))
        listening.listen()  # before its address is told: who is quick waits, and is not refused
    except OSError:
        listening.close()
        raise
    return listening


def config_of(app: FastAPI) -> uvicorn.Config:
    """How the desk is served: no log of addresses, no sockets, nothing taken from a proxy."""
    return uvicorn.Config(
        app,
        log_level="warning",
        access_log=False,
        lifespan="off",
        ws="none",
        proxy_headers=False,
        server_header=False,
        timeout_graceful_shutdown=PATIENCE_S,
    )

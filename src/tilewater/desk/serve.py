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

ADDRESS = "127.0.0.1"
SELDOM = (50_000, 20, 50)
"""Thresholds of the search for garbage."""
WAIT_S = 0.4
"""Between the start and the opening of the browser; the page waits for the server anyway."""


def serve(
    root: Path, *, port: int = 0, open_browser: bool = True, tell: Callable[[str], None] = print
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

    Raises
    ------
    OSError
        If the port is taken.
    """
    app = make_app(root)
    _pause_less()
    with listening_on(port) as listening:
        here = f"http://{ADDRESS}:{listening.getsockname()[1]}/"
        tell(f"{here}?{KEY}={app.state.token}")
        if open_browser:
            once = f"{here}?{KEY}={app.state.tickets.new()}"
            Timer(WAIT_S, webbrowser.open, (once,)).start()
        uvicorn.Server(config_of(app)).run(sockets=[listening])


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
    )

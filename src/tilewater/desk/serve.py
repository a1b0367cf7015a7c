# SPDX-License-Identifier: Apache-2.0
"""Start the desk on this machine, open it in the browser, end it with Ctrl-C.

The browser is started first: it takes as long to come up as the pages take to load, and its request
waits in the socket until they are there.
"""

import gc
import os
import socket
import webbrowser
from collections.abc import Callable
from pathlib import Path
from threading import Thread

from tilewater.desk.keys import KEY, Tickets, new_token

ADDRESS = "127.0.0.1"
SELDOM = (50_000, 20, 50)
"""Thresholds of the search for garbage."""


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
    token, tickets = new_token(), Tickets()
    with listening_on(port) as listening:
        here = f"http://{ADDRESS}:{listening.getsockname()[1]}/"
        tell(f"{here}?{KEY}={token}")
        if open_browser:
            once = (f"{here}?{KEY}={tickets.new()}",)
            Thread(target=webbrowser.open, args=once, daemon=True).start()
        gc.disable()  # loading leaves nothing to collect, and looking takes a sixth of the time
        from tilewater.desk.server import serve_pages

        gc.enable()
        _pause_less()
        serve_pages(root, listening, token, tickets, ended)


def _pause_less() -> None:
    """Look for garbage seldom, and never among what is there from the start.

    More than a hundred thousand objects last as long as the desk. To walk them takes a tenth of a
    second each time, which a hand that drags a board would feel.
    """
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

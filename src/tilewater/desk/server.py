# SPDX-License-Identifier: Apache-2.0
"""The server of the desk's pages, and what is loaded once they are seen."""

import socket
from collections.abc import Callable
from pathlib import Path
from threading import Timer

import uvicorn
from fastapi import FastAPI

from tilewater.desk.app import make_app
from tilewater.desk.keys import Tickets
from tilewater.desk.warming import LATER_S, Warming

PATIENCE_S = 1
"""For requests that are answered when the desk is ended; what takes longer is given up."""


class Server(uvicorn.Server):
    """A server that says when it has ended, though a request may still be computed in a thread."""

    def __init__(self, config: uvicorn.Config, ended: Callable[[], None]) -> None:
        super().__init__(config)
        self._ended = ended

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        """End the connections, then say so."""
        await super().shutdown(sockets)
        self._ended()


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


def serve_pages(
    root: Path,
    listening: socket.socket,
    token: str,
    tickets: Tickets,
    ended: Callable[[], None],
) -> None:
    """Serve the pages of a folder on a socket until they are stopped; see `serve`."""
    app = make_app(root, token=token, tickets=tickets)
    rest = Timer(LATER_S, app.load_all)
    rest.daemon = True
    rest.start()
    with Warming() as warming:

        def end() -> None:
            rest.cancel()
            warming.stop()
            ended()

        Server(config_of(app), end).run(sockets=[listening])

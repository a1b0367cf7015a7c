# SPDX-License-Identifier: Apache-2.0
"""The token of a start, and the address of the desk: known before any page is loaded."""

import secrets
from threading import Lock

KEY = "key"
"""Name of the token in the opened address."""


def new_token() -> str:
    """A token that nobody guesses."""
    return secrets.token_urlsafe(32)


class Tickets:
    """Tokens that open the desk once.

    The browser is started with one in its address, since other users of this machine can see how
    a program was started.
    """

    def __init__(self) -> None:
        self._open: set[str] = set()
        self._lock = Lock()

    def new(self) -> str:
        """A ticket that is good once."""
        ticket = new_token()
        with self._lock:
            self._open.add(ticket)
        return ticket

    def take(self, said: str) -> bool:
        """Whether this is a ticket; it is none any more."""
        with self._lock:
            taken = said in self._open
            self._open.discard(said)
            return taken

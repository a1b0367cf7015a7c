# SPDX-License-Identifier: Apache-2.0
"""Who may ask the desk, and how much: this machine's browser, with the token, from the desk's page.

Four gates stand before every page. The address asked must be a loopback name, so that a foreign
name that was pointed at this machine is turned away. What changes anything must come from the
desk's own page. The token of this start must be known: it comes once in the opened address and
then in a cookie that scripts cannot read. And nothing larger than a data file may be sent.
"""

import hmac
import secrets
from http import HTTPStatus
from urllib.parse import parse_qsl, urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse, RedirectResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

LOOPBACK = frozenset({"127.0.0.1", "localhost", "[::1]"})
COOKIE = "tilewater-desk"
KEY = "key"
"""Name of the token in the opened address."""
READING = frozenset({"GET", "HEAD"})
MOST_BYTES = 64 * 1024 * 1024
"""Largest body that is taken; a survey or a logger file of years is far below."""

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; "
    "img-src 'self' data: blob:; font-src 'self'; connect-src 'self'; frame-src 'self'; "
    "form-action 'self'; base-uri 'none'; frame-ancestors 'self'; object-src 'none'"
)
"""No script, style, picture or connection from elsewhere; no script written into a page."""
HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
}


def new_token() -> str:
    """A token that nobody guesses."""
    return secrets.token_urlsafe(32)


class Guard:
    """The gates before the desk's pages.

    Parameters
    ----------
    app : ASGIApp
        What is guarded.
    token : str
        Token of this start.
    """

    def __init__(self, app: ASGIApp, *, token: str) -> None:
        self._app = app
        self._token = token

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let one request through, or answer why not."""
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        if scope["type"] != "http":  # the desk has no socket
            return
        headers = Headers(scope=scope)
        refusal = self._refusal(scope, headers)
        if refusal is not None:
            await refusal(scope, receive, _with_headers(send))
            return
        await self._app(scope, _bounded(receive), _with_headers(send))

    def _refusal(
        self, scope: Scope, headers: Headers
    ) -> PlainTextResponse | RedirectResponse | None:
        if _name_of(headers.get("host", "")) not in LOOPBACK:
            return _refused(HTTPStatus.MISDIRECTED_REQUEST, "The desk answers this machine only.")
        if scope["method"] not in READING and not _is_own(headers):
            return _refused(HTTPStatus.FORBIDDEN, "Changes are taken from the desk's page only.")
        if int(headers.get("content-length") or 0) > MOST_BYTES:
            most = MOST_BYTES // 2**20
            return _refused(HTTPStatus.REQUEST_ENTITY_TOO_LARGE, f"At most {most} MB are taken.")
        said = dict(parse_qsl(scope["query_string"].decode("latin-1")))
        if KEY in said and self._knows(said[KEY]) and scope["method"] in READING:
            return self._welcome(scope)
        if not self._knows(_cookie(headers)) and not self._knows(_bearer(headers)):
            return _refused(
                HTTPStatus.UNAUTHORIZED,
                "Open the desk by the address that it printed when it was started.",
            )
        return None

    def _knows(self, said: str) -> bool:
        return hmac.compare_digest(said.encode(), self._token.encode())

    def _welcome(self, scope: Scope) -> RedirectResponse:
        """The same page without the token in its address; from now on the cookie says it."""
        answer = RedirectResponse(scope["path"], status_code=HTTPStatus.SEE_OTHER)
        answer.set_cookie(COOKIE, self._token, httponly=True, samesite="strict", path="/")
        return answer


def _refused(status: HTTPStatus, words: str) -> PlainTextResponse:
    return PlainTextResponse(f"{words}\n", status_code=status)


def _name_of(host: str) -> str:
    """A host without its port; an address of six parts keeps its brackets."""
    if host.startswith("["):
        return host.partition("]")[0] + "]"
    return host.partition(":")[0].lower()


def _is_own(headers: Headers) -> bool:
    """Whether a change comes from the desk's own page: same host and port, nothing in between."""
    origin = headers.get("origin")
    if origin is None:  # a program beside the browser, which holds the token
        return bool(_bearer(headers)) and headers.get("sec-fetch-site") in (None, "none")
    return urlsplit(origin).netloc == headers.get("host", "")


def _cookie(headers: Headers) -> str:
    for pair in headers.get("cookie", "").split(";"):
        name, _, value = pair.strip().partition("=")
        if name == COOKIE:
            return value
    return ""


def _bearer(headers: Headers) -> str:
    kind, _, value = headers.get("authorization", "").partition(" ")
    return value if kind.lower() == "bearer" else ""


class TooLarge(Exception):
    """A body went past what is taken."""


def _bounded(receive: Receive) -> Receive:
    """The body, cut off where it goes past what is taken, whatever its stated length."""
    taken = 0

    async def bounded() -> Message:
        nonlocal taken
        message = await receive()
        taken += len(message.get("body", b""))
        if taken > MOST_BYTES:
            raise TooLarge
        return message

    return bounded


def _with_headers(send: Send) -> Send:
    async def sent(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers.setdefault(name, value)
            headers.setdefault("cache-control", "no-store")
        await send(message)

    return sent

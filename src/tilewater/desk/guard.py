# SPDX-License-Identifier: Apache-2.0
"""Who may ask the desk, and how much: this machine's browser, with the token, from the desk's page.

Before every page stand these gates. The way of asking must be one that the desk has. The address
asked must be a loopback name, so that a foreign name that was pointed at this machine is turned
away. A page of another address may open the desk, and neither read it nor take parts of it. What
changes anything must come from the desk's own page. The token of this start must be known: it
comes once in the opened address and then in a cookie that scripts cannot read. And nothing larger
than a data file may be sent.
"""

import hmac
import re
from http import HTTPStatus
from urllib.parse import parse_qsl, quote

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse, RedirectResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from tilewater.desk.keys import KEY, Tickets

HOST = re.compile(r"(?P<name>127\.0\.0\.1|localhost|\[::1\])(?::(?P<port>\d{1,5}))?", re.IGNORECASE)
"""A loopback name, with a port or without."""
COOKIE = "tilewater-desk"
READING = frozenset({"GET", "HEAD"})
METHODS = READING | {"POST"}
FILES = "multipart/form-data"
MOST_BYTES = 64 * 1024 * 1024
"""Largest body with files that is taken; a survey or a logger file of years is far below."""
MOST_TYPED = 2 * 1024 * 1024
"""Largest body of typed values that is taken."""

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


class Guard:
    """The gates before the desk's pages.

    Parameters
    ----------
    app : ASGIApp
        What is guarded.
    token : str
        Token of this start.
    tickets : Tickets
        Tokens that open the desk once in its place.
    """

    def __init__(self, app: ASGIApp, *, token: str, tickets: Tickets) -> None:
        self._app = app
        self._token = token
        self._tickets = tickets

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let one request through, or answer why not."""
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        if scope["type"] != "http":  # the desk has no socket
            await send({"type": "websocket.close", "code": 1008})
            return
        headers = Headers(scope=scope)
        answer = self._refusal(scope, headers)
        if answer is not None:
            await answer(scope, receive, _with_headers(send))
            return
        await self._app(scope, _bounded(receive, _most(headers)), _with_headers(send))

    def _refusal(
        self, scope: Scope, headers: Headers
    ) -> PlainTextResponse | RedirectResponse | None:
        if scope["method"] not in METHODS:
            return _refused(HTTPStatus.METHOD_NOT_ALLOWED, "The desk has pages to get and post.")
        host = _host(headers)
        if host is None:
            return _refused(HTTPStatus.MISDIRECTED_REQUEST, "The desk answers this machine only.")
        if _is_taken_elsewhere(headers):
            return _refused(HTTPStatus.FORBIDDEN, "The desk shows itself on its own page only.")
        if scope["method"] not in READING and not self._is_own(headers, host):
            return _refused(HTTPStatus.FORBIDDEN, "Changes are taken from the desk's page only.")
        if not _is_length(headers.get("content-length", "0"), _most(headers)):
            most = _most(headers) // 2**20
            return _refused(HTTPStatus.REQUEST_ENTITY_TOO_LARGE, f"At most {most} MB are taken.")
        cookie = cookie_of(host["port"])
        key = dict(parse_qsl(scope["query_string"].decode("latin-1"))).get(KEY, "")
        if key and scope["method"] == "GET" and (self._knows(key) or self._tickets.take(key)):
            return self._welcome(scope["path"], cookie)
        if not self._knows(_cookie(headers, cookie)) and not self._knows(_bearer(headers)):
            return _refused(
                HTTPStatus.UNAUTHORIZED,
                "Open the desk by the address that it printed when it was started.",
            )
        return None

    def _knows(self, said: str) -> bool:
        return hmac.compare_digest(said.encode(), self._token.encode())

    def _is_own(self, headers: Headers, host: re.Match[str]) -> bool:
        """Whether a change comes from the desk's own page: same host and port, nothing between."""
        origin = headers.get("origin")
        if origin is None:  # a program beside the browser, which holds the token
            return self._knows(_bearer(headers)) and "sec-fetch-site" not in headers
        return origin.lower() == f"http://{host[0].lower()}"

    def _welcome(self, path: str, cookie: str) -> RedirectResponse:
        """The same page without the token in its address; from now on the cookie says it."""
        here = "/" + quote(path.lstrip("/\\"))  # two slashes would name another host
        answer = RedirectResponse(here, status_code=HTTPStatus.SEE_OTHER)
        answer.set_cookie(cookie, self._token, httponly=True, samesite="strict", path="/")
        return answer


def cookie_of(port: str | None) -> str:
    """Name of the cookie of a desk: cookies know no port, and two desks may be open."""
    return f"{COOKIE}-{port or '80'}"


def _refused(status: HTTPStatus, words: str) -> PlainTextResponse:
    return PlainTextResponse(f"{words}\n", status_code=status)


def _host(headers: Headers) -> re.Match[str] | None:
    """The one loopback name that is asked for."""
    said = headers.getlist("host")
    return HOST.fullmatch(said[0]) if len(said) == 1 else None


def _is_taken_elsewhere(headers: Headers) -> bool:
    """Whether a page of another address asks, but for a link to the desk that is followed."""
    if headers.get("sec-fetch-site", "none") in ("same-origin", "none"):
        return False
    is_link = headers.get("sec-fetch-mode") == "navigate"
    return not (is_link and headers.get("sec-fetch-dest") == "document")


def _most(headers: Headers) -> int:
    has_files = headers.get("content-type", "").lower().startswith(FILES)
    return MOST_BYTES if has_files else MOST_TYPED


def _is_length(said: str, most: int) -> bool:
    return re.fullmatch(r"[0-9]{1,12}", said) is not None and int(said) <= most


def _cookie(headers: Headers, wanted: str) -> str:
    for pair in headers.get("cookie", "").split(";"):
        name, _, value = pair.strip().partition("=")
        if name == wanted:
            return value
    return ""


def _bearer(headers: Headers) -> str:
    kind, _, value = headers.get("authorization", "").partition(" ")
    return value if kind.lower() == "bearer" else ""


class TooLarge(Exception):
    """A body went past what is taken."""


def _bounded(receive: Receive, most: int) -> Receive:
    """The body, cut off where it goes past what is taken, whatever its stated length."""
    taken = 0

    async def bounded() -> Message:
        nonlocal taken
        message = await receive()
        taken += len(message.get("body", b""))
        if taken > most:
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

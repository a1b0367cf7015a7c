# SPDX-License-Identifier: Apache-2.0
"""Who may ask the desk: not a foreign page, not a foreign name, nobody without the token."""

import io
import logging
from collections.abc import Iterator
from pathlib import Path

import anyio
import pytest
from fastapi.testclient import TestClient
from starlette.types import Message, Receive, Scope, Send
from starlette.websockets import WebSocketDisconnect

from tests.desks import HERE, TOKEN, desk_of, stranger_to
from tilewater.desk.guard import (
    HEADERS,
    MOST_BYTES,
    MOST_TYPED,
    Guard,
    cookie_of,
)
from tilewater.desk.keys import Tickets, new_token
from tilewater.desk.serve import ADDRESS, listening_on
from tilewater.desk.server import config_of

OWN = HERE
FOREIGN = "http://weather.example"
OTHER_PORT = "http://127.0.0.1:9999"
BROWSER = {"sec-fetch-site": "same-origin", "sec-fetch-mode": "cors", "sec-fetch-dest": "empty"}


@pytest.fixture
def stranger(tmp_path: Path) -> TestClient:
    return stranger_to(tmp_path)


@pytest.fixture
def browser(tmp_path: Path) -> TestClient:
    """A browser that opened the desk by its address."""
    client = stranger_to(tmp_path)
    assert client.get(f"/?key={TOKEN}").status_code == 303
    return client


@pytest.mark.works(of=(Guard,))
def test_without_the_token_nothing_is_told(stranger: TestClient) -> None:
    for path in (
        "/",
        "/new",
        "/jobs.json",
        "/openapi.json",
        "/static/desk.css",
        "/job/corbel-farm",
    ):
        answer = stranger.get(path)
        assert answer.status_code == 401
        assert answer.text == (
            "Open the desk by the address that it printed when it was started.\n"
        )


@pytest.mark.works(of=(Guard,))
@pytest.mark.parametrize("key", ["", "x", TOKEN[:-1], TOKEN + "x", "é", "\x00", TOKEN.upper()])
def test_a_guessed_token_opens_nothing(stranger: TestClient, key: str) -> None:
    assert stranger.get("/", params={"key": key}).status_code == 401
    assert stranger.get("/", headers={"authorization": f"Basic {TOKEN}"}).status_code == 401
    assert stranger.get("/", headers={"cookie": f"tilewater-desk={TOKEN}"}).status_code == 401


@pytest.mark.works(of=(Guard, cookie_of))
def test_the_opened_address_loses_its_token_and_leaves_a_cookie_no_script_reads(
    stranger: TestClient,
) -> None:
    answer = stranger.get(f"/new?key={TOKEN}")
    assert (303, "/new") == (answer.status_code, answer.headers["location"])
    assert answer.headers["set-cookie"] == (
        f"tilewater-desk-8600={TOKEN}; HttpOnly; Path=/; SameSite=strict"
    )
    assert answer.headers["referrer-policy"] == "same-origin"
    assert answer.headers["cache-control"] == "no-store"
    assert stranger.get("/new").status_code == 200


@pytest.mark.works(of=(Guard,))
@pytest.mark.parametrize("path", ["//weather.example", "///weather.example/", "/\\weather.example"])
def test_the_way_on_never_leads_to_another_host(stranger: TestClient, path: str) -> None:
    answer = stranger.get(f"{HERE}{path}?key={TOKEN}")
    assert answer.status_code == 303
    assert answer.headers["location"].startswith("/weather.example")


@pytest.mark.works(of=(Guard, cookie_of))
def test_two_desks_of_one_machine_keep_their_cookies_apart(tmp_path: Path) -> None:
    desk = stranger_to(tmp_path)
    other = {"host": "127.0.0.1:8601"}
    desk.get(f"/?key={TOKEN}")
    assert desk.get("/").status_code == 200
    assert desk.get("/", headers=other).status_code == 401
    assert cookie_of("8600") != cookie_of("8601")
    assert cookie_of(None) == "tilewater-desk-80"


@pytest.mark.works(of=(Tickets, Guard))
def test_a_ticket_opens_once(stranger: TestClient) -> None:
    tickets: Tickets = stranger.app.state.tickets  # type: ignore[attr-defined]
    ticket = tickets.new()
    assert stranger.head("/", params={"key": ticket}).status_code == 401
    assert stranger.get("/", params={"key": ticket}).status_code == 303
    stranger.cookies.clear()
    assert stranger.get("/", params={"key": ticket}).status_code == 401


@pytest.mark.works(of=(new_token,))
def test_no_two_starts_have_a_token_alike() -> None:
    tokens = {new_token() for _ in range(100)}
    assert len(tokens) == 100
    assert all(len(token) >= 43 for token in tokens)


@pytest.mark.works(of=(Guard,))
@pytest.mark.parametrize(
    "host",
    [
        "weather.example",
        "weather.example:8600",
        "127.0.0.1.weather.example:8600",
        "localhost.weather.example",
        "127.0.0.1@weather.example",
        "127.0.0.1:8600@weather.example",
        "127.0.0.2:8600",
        "10.0.0.1:8600",
        "0.0.0.0:8600",
        "[::ffff:127.0.0.1]",
        "localhost.",
        "127.0.0.1:port",
        "127.0.0.1:999999",
        "",
    ],
)
def test_a_foreign_name_for_this_machine_is_turned_away(tmp_path: Path, host: str) -> None:
    answer = desk_of(tmp_path).get("/", headers={"host": host})
    assert (421, "The desk answers this machine only.\n") == (answer.status_code, answer.text)


@pytest.mark.works(of=(Guard,))
@pytest.mark.parametrize("host", ["127.0.0.1", "localhost:8600", "LOCALHOST:1", "[::1]:8600"])
def test_every_name_of_this_machine_is_answered(tmp_path: Path, host: str) -> None:
    assert desk_of(tmp_path).get("/", headers={"host": host}).status_code == 200


@pytest.mark.works(of=(Guard,))
def test_two_names_in_one_request_are_turned_away(tmp_path: Path) -> None:
    hosts = [("host", "127.0.0.1:8600"), ("host", "weather.example")]
    auth = [("authorization", f"Bearer {TOKEN}")]
    assert stranger_to(tmp_path).get("/", headers=[*hosts, *auth]).status_code == 421


@pytest.mark.works(of=(Guard,))
@pytest.mark.parametrize(
    "origin",
    [FOREIGN, OTHER_PORT, "null", "", "http://127.0.0.1", "https://127.0.0.1:8600", "http://["],
)
def test_a_change_from_another_page_is_refused(browser: TestClient, origin: str) -> None:
    answer = browser.post("/new/rough", data={"area": "1 acre"}, headers={"origin": origin})
    assert answer.status_code == 403
    assert answer.text == "Changes are taken from the desk's page only.\n"


@pytest.mark.works(of=(Guard,))
def test_a_change_without_an_origin_needs_the_token_itself(browser: TestClient) -> None:
    assert browser.post("/new/rough").status_code == 403
    guessed = {"authorization": "Bearer x"}
    assert browser.post("/new/rough", headers=guessed).status_code == 403
    known = {"authorization": f"Bearer {TOKEN}"}
    assert browser.post("/new/rough", headers=known).status_code == 422


@pytest.mark.works(of=(Guard,))
def test_a_change_from_the_own_page_is_taken(browser: TestClient) -> None:
    answer = browser.post("/new/rough", headers={"origin": OWN, **BROWSER})
    assert answer.status_code == 422  # the boxes are empty, and that is said
    assert "Without it there is no answer at all." in answer.text


@pytest.mark.works(of=(Guard,))
@pytest.mark.parametrize("site", ["cross-site", "same-site"])
@pytest.mark.parametrize(
    ("mode", "dest"),
    [
        ("cors", "empty"),
        ("no-cors", "script"),
        ("no-cors", "image"),
        ("navigate", "iframe"),
        ("navigate", "object"),
    ],
)
def test_another_page_takes_no_part_of_the_desk(
    browser: TestClient, site: str, mode: str, dest: str
) -> None:
    asked = {"sec-fetch-site": site, "sec-fetch-mode": mode, "sec-fetch-dest": dest}
    answer = browser.get("/", headers=asked)
    assert (403, "The desk shows itself on its own page only.\n") == (
        answer.status_code,
        answer.text,
    )


@pytest.mark.works(of=(Guard,))
def test_a_link_to_the_desk_may_be_followed(browser: TestClient) -> None:
    link = {
        "sec-fetch-site": "cross-site",
        "sec-fetch-mode": "navigate",
        "sec-fetch-dest": "document",
    }
    assert browser.get("/", headers=link).status_code == 200
    assert browser.post("/new/rough", headers={**link, "origin": FOREIGN}).status_code == 403


@pytest.mark.works(of=(Guard,))
@pytest.mark.parametrize(
    "method", ["PUT", "PATCH", "DELETE", "OPTIONS", "TRACE", "CONNECT", "PROPFIND"]
)
def test_the_desk_has_pages_to_get_and_post_only(tmp_path: Path, method: str) -> None:
    answer = desk_of(tmp_path).request(method, "/")
    assert answer.status_code == 405
    assert "access-control-allow-origin" not in answer.headers


@pytest.mark.works(of=(Guard,))
def test_every_answer_tells_the_browser_what_it_may_not_do(browser: TestClient) -> None:
    for path in ("/", "/nowhere", "/static/desk.css", "/?key=x", "/static/none.js"):
        answer = browser.get(path)
        for name, value in HEADERS.items():
            assert answer.headers[name] == value
        assert "access-control-allow-origin" not in answer.headers
    policy = HEADERS["content-security-policy"]
    assert "default-src 'none'; script-src 'self'" in policy
    assert "frame-ancestors 'self'" in policy
    assert "unsafe-eval" not in policy
    assert "http:" not in policy


@pytest.mark.works(of=(Guard,))
def test_a_socket_is_closed_before_it_opens(tmp_path: Path) -> None:
    with (
        pytest.raises(WebSocketDisconnect) as closed,
        desk_of(tmp_path).websocket_connect("/"),
    ):
        pass
    assert closed.value.code == 1008


@pytest.mark.works(of=(Guard,))
@pytest.mark.parametrize("length", [str(MOST_TYPED + 1), "9" * 30, "-1", "1e3", "much", " 1"])
def test_a_length_that_is_none_or_too_much_is_refused(tmp_path: Path, length: str) -> None:
    answer = desk_of(tmp_path).post("/new/rough", headers={"content-length": length})
    assert (413, "At most 2 MB are taken.\n") == (answer.status_code, answer.text)


@pytest.mark.works(of=(Guard,))
def test_a_body_longer_than_it_says_is_cut_off(tmp_path: Path) -> None:
    def body() -> Iterator[bytes]:
        for _ in range(3 * MOST_TYPED // 2**16):
            yield b"a=" + b"b" * (2**16 - 3) + b"&"

    form = {"content-type": "application/x-www-form-urlencoded"}
    answer = desk_of(tmp_path).post("/new/rough", content=body(), headers=form)
    assert answer.status_code in (400, 413)


@pytest.mark.works(of=(Guard,))
def test_a_file_may_be_larger_than_what_is_typed(tmp_path: Path) -> None:
    assert MOST_TYPED < MOST_BYTES
    files = {"content-type": "multipart/form-data; boundary=b"}
    desk = desk_of(tmp_path)
    said = desk.post("/new/rough", headers={**files, "content-length": str(MOST_BYTES + 1)})
    assert (413, "At most 64 MB are taken.\n") == (said.status_code, said.text)


@pytest.mark.works(of=(Guard,))
@pytest.mark.parametrize(
    "path",
    [
        "/static/../guard.py",
        "/static/%2e%2e/guard.py",
        "/static/..%2fguard.py",
        "/static/..%5cguard.py",
        "/static//etc/passwd",
        "/static/%00",
        "/fonts/..%2f..%2f..%2fpyproject.toml",
        "/fonts/....//guard.py",
        "/job/..%2f..%2fetc/files",
        "/job/%2e%2e",
        "/job/%00",
        "/job/.",
    ],
)
def test_no_address_leads_out_of_the_folder(tmp_path: Path, path: str) -> None:
    answer = desk_of(tmp_path).get(f"{HERE}{path}")
    assert answer.status_code in (307, 404)
    assert "import" not in answer.text  # as every module here has it


@pytest.mark.works(of=(config_of, listening_on))
def test_nothing_logs_an_address_and_no_other_machine_is_heard(tmp_path: Path) -> None:
    app = stranger_to(tmp_path).app
    config = config_of(app)  # type: ignore[arg-type]
    assert not config.access_log
    assert not config.proxy_headers
    assert config.ws == "none"
    with listening_on(0) as listening:
        assert listening.getsockname()[0] == ADDRESS == "127.0.0.1"
        with pytest.raises(OSError, match="in use"):
            listening_on(listening.getsockname()[1])


@pytest.mark.works(of=(Guard,))
def test_the_token_is_in_no_log_when_something_fails(tmp_path: Path) -> None:
    heard = io.StringIO()
    handler = logging.StreamHandler(heard)
    logging.getLogger().addHandler(handler)
    try:
        desk = stranger_to(tmp_path)
        desk.get(f"/?key={TOKEN}")
        desk.get(f"/nowhere?key={TOKEN}x")
        desk.post("/new/rough", headers={"content-length": "much"})
    finally:
        logging.getLogger().removeHandler(handler)
    assert TOKEN not in heard.getvalue()


@pytest.mark.works(of=(Guard,))
def test_what_is_no_request_is_led_through_unasked(tmp_path: Path) -> None:
    seen: list[str] = []

    async def app(scope: Scope, receive: Receive, send: Send) -> None:
        seen.append(scope["type"])

    async def receive() -> Message:
        return {"type": "lifespan.startup"}

    async def send(message: Message) -> None:
        seen.append(message["type"])

    guard = Guard(app, token=TOKEN, tickets=Tickets())
    anyio.run(guard, {"type": "lifespan"}, receive, send)
    assert seen == ["lifespan"]

# SPDX-License-Identifier: Apache-2.0
"""A page of another address in the same browser reads nothing of a desk and changes nothing."""

import threading
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

import pytest

from tests.browsers import a_browser, opened_at, served
from tests.desks import TOKEN, copy_of
from tilewater.desk.guard import Guard

TRIES = """async (desk) => {
    const told = {};
    const attempt = async (name, work) => {
        try { told[name] = await work(); } catch (error) { told[name] = "refused"; }
    };
    const soon = () => new Promise((done) => setTimeout(() => done("nothing came"), 1500));
    const shown = (element) => Promise.race([soon(), new Promise((done) => {
        element.onload = () => done("loaded");
        element.onerror = () => done("refused");
        document.body.append(element);
    })]);
    const made = (tag, what) => Object.assign(document.createElement(tag), what);
    await attempt("read", async () => (await fetch(desk + "/jobs.json",
        { credentials: "include" })).text());
    await attempt("read opaque", async () => (await fetch(desk + "/jobs.json",
        { credentials: "include", mode: "no-cors" })).text() || "nothing came");
    await attempt("script", () => shown(made("script", { src: desk + "/static/desk.js" })));
    await attempt("picture", () => shown(made("img", { src: desk + "/static/drop.svg" })));
    await attempt("style", () => shown(made("link",
        { rel: "stylesheet", href: desk + "/static/desk.css" })));
    await attempt("json", async () => (await fetch(desk + "/job/corbel-farm/keep", {
        method: "POST", credentials: "include", headers: { "content-type": "application/json" },
        body: JSON.stringify({ version: "x", edits: { "boards.inlet": "10 in" } }) })).text());
    await attempt("form", async () => (await fetch(desk + "/new/example", {
        method: "POST", credentials: "include", mode: "no-cors",
        body: new URLSearchParams({ example: "corbel-farm", name: "taken" }) })).type);
    await attempt("socket", () => new Promise((done) => {
        const socket = new WebSocket(desk.replace("http", "ws") + "/");
        socket.onopen = () => done("open");
        socket.onerror = () => done("refused");
    }));
    const frame = made("iframe", { src: desk + "/" });
    await shown(frame);
    await attempt("frame", () => frame.contentDocument
        ? frame.contentDocument.body.innerText : "refused");
    return told;
}"""

pytestmark = pytest.mark.slow


class Hostile(BaseHTTPRequestHandler):
    """A page that means no good."""

    def do_GET(self) -> None:
        self.send_response(200)
        self.send_header("content-type", "text/html")
        self.end_headers()
        self.wfile.write(b"<!doctype html><title>hostile</title><body>hello</body>")

    def log_message(self, format: str, *args: object) -> None:  # noqa: A002
        """Say nothing."""


@pytest.fixture
def root(tmp_path: Path) -> Path:
    copy_of("corbel-farm", tmp_path)
    return tmp_path


@pytest.fixture
def hostile() -> Iterator[int]:
    """The port of a page beside the desk."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), Hostile)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield server.server_address[1]
    server.shutdown()
    server.server_close()


@pytest.mark.works(of=(Guard,))
@pytest.mark.parametrize("name", ["127.0.0.1", "localhost"])
def test_a_hostile_page_beside_the_desk_reads_and_changes_nothing(
    root: Path, hostile: int, name: str
) -> None:
    before = {path: path.read_bytes() for path in root.rglob("*") if path.is_file()}
    with served(root) as desk, a_browser() as browser:
        page, _ = opened_at(browser, desk)
        assert page.title() == "Jobs"
        other = page.context.new_page()
        other.goto(f"http://{name}:{hostile}/")
        told: dict[str, Any] = other.evaluate(TRIES, desk)
        assert "corbel" not in str(told).casefold()
        assert "Tilewater" not in str(told)
        for what in ("read", "script", "picture", "style", "json", "socket"):
            assert told[what] in ("refused", "nothing came"), what
        other.evaluate(
            """(desk) => {
                const form = Object.assign(document.createElement("form"),
                    { method: "post", action: desk + "/new/example" });
                form.innerHTML = '<input name="example" value="corbel-farm">'
                    + '<input name="name" value="taken">';
                document.body.append(form);
                form.submit();
            }""",
            desk,
        )
        other.wait_for_load_state()
        assert other.locator("body").inner_text().strip() == (
            "Changes are taken from the desk's page only."
        )
        assert page.evaluate("document.cookie") == ""
    after = {path: path.read_bytes() for path in root.rglob("*") if path.is_file()}
    assert before == after


@pytest.mark.works(of=(Guard,))
def test_the_token_stays_in_no_address_and_no_referrer(root: Path) -> None:
    with served(root) as desk, a_browser() as browser:
        page, watched = opened_at(browser, desk)
        assert TOKEN not in page.url
        referrers: list[str] = []
        page.on("request", lambda request: referrers.append(request.headers.get("referer", "")))
        page.goto(f"{desk}/job/corbel-farm", wait_until="networkidle")
        assert TOKEN not in "".join(referrers)
        assert [TOKEN in url for url in watched.asked].count(True) == 1
        page.go_back()
        assert TOKEN not in page.url

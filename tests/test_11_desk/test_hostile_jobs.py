# SPDX-License-Identifier: Apache-2.0
"""A job file written to do harm: its words are shown as words, its numbers end in words."""

import re
import tomllib
from html.parser import HTMLParser
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from tests.desks import copy_of, desk_of
from tilewater.desk.app import make_app
from tilewater.desk.parts import as_html
from tilewater.documents.pages.said import Said, block, rows
from tilewater.job.edits import edited
from tilewater.job.schema import JobFile, asks
from tilewater.job.words import Text

MARK = "<img src=x onerror=alert(1)>"
QUOTES = "\"' autofocus onfocus=alert(2) x='"
EVIL = f"{MARK}{QUOTES}</script></svg></title><script>alert(3)</script>{{{{7*7}}}}"


class Harm(HTMLParser):
    """What a browser would do of a page that is none of ours."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.found: list[str] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Keep what runs: a script without an address of ours, an attribute that is one."""
        said = dict(attrs)
        if any(name.startswith("on") or name == "autofocus" for name in said):
            self.found.append(self.get_starttag_text() or tag)
        if tag == "script" and not str(said.get("src")).startswith("/static/"):
            self.found.append(self.get_starttag_text() or tag)
        if tag == "img" and said.get("src") == "x":
            self.found.append(tag)


def harm_in(page: str) -> list[str]:
    """What runs in a page, and what a template worked out."""
    return Harm(page).found + re.findall(">49<|=49", page)


READ = ("survey", "criteria", "benchmark")
"""Tables whose words the program looks up; what harms there is a fault, shown as one."""


def with_evil_words(folder: Path) -> int:
    """Put what does harm into every field of words of a job file; how many there were."""
    file = folder / "job.toml"
    text = file.read_text(encoding="utf-8")
    count = 0
    for path, _, ask in asks(JobFile, tomllib.loads(text)):
        if type(ask) is Text and path[0] not in READ and "columns" not in path:
            text = edited(text, {".".join(path): EVIL})
            count += 1
    file.write_text(text, encoding="utf-8")
    return count


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> TestClient:
    root = tmp_path_factory.mktemp("jobs")
    assert with_evil_words(copy_of("corbel-farm", root)) > 15
    desk = desk_of(root)
    assert desk.get("/job/corbel-farm/state").text.startswith("fits")  # all pages have their say
    return desk


@pytest.mark.works(of=(make_app,))
@pytest.mark.parametrize(
    "way",
    ["", "/section", "/plan", "/days", "/search", "/papers", "/files", "/files/shots", "/state"]
    + [f"/ask/{slug}" for slug in ("tile", "water", "practice", "height", "field", "removal")]
    + ["/ask/cost", "/ask/unknown", "/number/inputs.job.title", "/number/site.nothing%3Cb%3E"],
)
def test_words_of_a_job_file_are_shown_as_words(desk: TestClient, way: str) -> None:
    answer = desk.get(f"/job/corbel-farm{way}")
    assert answer.status_code in (200, 404, 422)
    assert harm_in(answer.text) == []


@pytest.mark.works(of=(make_app,))
def test_words_are_shown_as_words_in_the_list_of_jobs_and_in_drawings(desk: TestClient) -> None:
    listed = desk.get("/").text
    assert "&lt;img src=x" in listed
    assert harm_in(listed) == []
    drawn = desk.get("/job/corbel-farm/section.json").json()
    assert harm_in(drawn["svg"]) == []


@pytest.mark.works(of=(as_html,))
def test_harm_is_found_where_it_stands() -> None:
    assert harm_in(f"<p>{EVIL}</p><p>49</p>") != []
    assert len(harm_in(EVIL)) == 3
    assert harm_in('<input value="" autofocus onfocus=alert(2)>') != []


@pytest.mark.works(of=(as_html,))
def test_parts_of_a_page_are_words_whatever_they_hold() -> None:
    part = block(EVIL, EVIL, rows((EVIL, ""), [(EVIL, Said(EVIL, "quiet"))]), Said(EVIL, "binds"))
    html = str(as_html(part))
    assert html.count("&lt;img src=x") == 6
    assert harm_in(html) == []


@pytest.mark.works(of=(make_app,))
@pytest.mark.parametrize(
    "name", ["<script>alert(3)</script>", MARK, "{{7*7}}", "x" * 5000, "%0d%0aset-cookie:x=1"]
)
def test_names_in_an_address_are_shown_as_words(desk: TestClient, name: str) -> None:
    for way in (f"/job/{name}", f"/job/{name}/files", f"/job/corbel-farm/ask/{name}"):
        answer = desk.get(way)
        assert answer.status_code in (404, 422)
        assert harm_in(answer.text) == []
        assert "set-cookie" not in answer.headers

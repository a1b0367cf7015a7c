# SPDX-License-Identifier: Apache-2.0
"""Every way to ask the desk, asked with whatever its own description allows: words, never a crash.

The description is the one that the desk serves. What is asked is made from it by a program, and by
laws of our own for the bodies that matter most: edits tried and edits kept.
"""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import schemathesis
from fastapi.testclient import TestClient
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from schemathesis.checks import not_a_server_error

from tests.desks import TOKEN, copy_of, desk_of, version_of
from tilewater.desk.app import make_app
from tilewater.desk.pages import OPENING, other_routers
from tilewater.desk.pages.keep import keep
from tilewater.desk.pages.section import try_edits

FARM = "corbel-farm"
ASKED = {"authorization": f"Bearer {TOKEN}", "host": "127.0.0.1:8600"}
QUICK = settings(
    max_examples=2, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck)
)
LONG = settings(QUICK, max_examples=25)
LONG_WORKS = ("papers", "search")
"""What goes on in a thread after it was answered; asked of a job that is not there."""
VALUES = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(),
    st.floats(),
    st.text(max_size=40),
    st.sampled_from(["unknown", "36 in", "1e999 ft", "-1 ft", "0 acre", "<b>", "../x.csv", "''"]),
    st.lists(st.text(max_size=8), max_size=3),
)
PATHS = st.one_of(
    st.text(max_size=30),
    st.sampled_from(
        [
            "boards.inlet",
            "bed.width_bottom",
            "nitrate.samples",
            "weather.file",
            "season.spring.inlet_boards",
            "spot.new.ground",
            "format",
            "job",
            "overrule.x.key",
            "pipe.feed.points",
            "boards.heights",
        ]
    ),
)


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("desk")
    copy_of(FARM, root)
    return root


@pytest.fixture(scope="module")
def desk(root: Path) -> Iterator[TestClient]:
    with desk_of(root) as desk:
        yield desk


WAYS = [
    (address, method)
    for address, ways in make_app(Path(), token=TOKEN).openapi()["paths"].items()
    for method in ways
]


@pytest.fixture(scope="module")
def described(root: Path) -> Any:
    """The description that the desk serves, and the desk behind it."""
    app = make_app(root, token=TOKEN)
    return schemathesis.openapi.from_asgi("/openapi.json", app, headers=ASKED)


def ask(described: Any, address: str, method: str, how: settings) -> int:
    """Ask in one way whatever its description allows, mostly of the job that lies there."""
    is_long = method == "post" and any(f"/{word}" in address for word in LONG_WORKS)
    asked = 0

    @how
    @given(case=described[address][method].as_strategy())
    def asks(case: Any) -> None:
        nonlocal asked
        if "name" in case.path_parameters and not is_long:
            case.path_parameters["name"] = FARM
        response = case.call(headers=ASKED)
        case.validate_response(response, checks=[not_a_server_error])
        asked += 1

    asks()
    return asked


@pytest.mark.works(of=(make_app,))
@pytest.mark.parametrize(("address", "method"), WAYS)
def test_no_request_that_the_description_allows_crashes(
    described: Any, address: str, method: str
) -> None:
    assert ask(described, address, method, QUICK) >= 1


@pytest.mark.slow
@pytest.mark.works(of=(make_app,))
@pytest.mark.parametrize(("address", "method"), WAYS)
def test_many_requests_that_the_description_allows_crash_nothing(
    described: Any, address: str, method: str
) -> None:
    assert ask(described, address, method, LONG) >= 1


@pytest.mark.works(of=(make_app,))
def test_every_way_to_ask_is_described(desk: TestClient) -> None:
    described = desk.get("/openapi.json").json()["paths"]
    routers = (*OPENING, *other_routers())
    routes = {route.path for router in routers for route in router.routes}  # type: ignore[attr-defined]
    assert {path.replace(":path}", "}") for path in routes} == set(described)
    for address, ways in described.items():
        for way in ways.values():
            assert way.get("description") or way.get("summary"), address


@pytest.mark.slow
@pytest.mark.works(of=(make_app,))
def test_every_page_that_shows_a_record_has_its_twin(desk: TestClient) -> None:
    for page in ("", "/files", "/papers", "/search", "/section", "/days", "/plan"):
        twin = desk.get(f"/job/{FARM}{page}.json")
        assert twin.status_code == 200, page
        assert twin.headers["content-type"] == "application/json"


@pytest.mark.law(of=(try_edits,))
@settings(QUICK, max_examples=12)
@given(edits=st.dictionaries(PATHS, VALUES, max_size=3), number=st.integers())
def test_edits_that_are_tried_are_answered_and_write_nothing(
    desk: TestClient, root: Path, edits: dict[str, Any], number: int
) -> None:
    before = (root / FARM / "job.toml").read_bytes()
    body = _json({"edits": edits, "looked_at": {}, "number": number})
    answer = desk.post(
        f"/job/{FARM}/try", content=body, headers={"content-type": "application/json"}
    )
    assert answer.status_code in (200, 409, 422)
    assert answer.json()
    assert before == (root / FARM / "job.toml").read_bytes()


@pytest.mark.law(of=(keep,))
@settings(QUICK, max_examples=12)
@given(edits=st.dictionaries(PATHS, VALUES, max_size=2))
def test_edits_that_are_kept_leave_a_job_that_can_be_read(
    desk: TestClient, root: Path, edits: dict[str, Any]
) -> None:
    body = _json({"edits": edits, "version": version_of(desk, FARM)})
    answer = desk.post(
        f"/job/{FARM}/keep", content=body, headers={"content-type": "application/json"}
    )
    assert answer.status_code in (200, 409, 422)
    assert not version_faults(desk)


@pytest.mark.works(of=(keep, try_edits))
@pytest.mark.parametrize(
    "body",
    [b"", b"[" * 200_000, b"{}", b"null", b"NaN", b'{"edits": 1e999}', b"\xff", b'{"edits": [1]}'],
)
@pytest.mark.parametrize("kind", ["application/json", "application/x-www-form-urlencoded", ""])
@pytest.mark.parametrize("what", ["try", "keep", "undo", "redo", "refine"])
def test_a_body_of_any_shape_is_answered(
    desk: TestClient, body: bytes, kind: str, what: str
) -> None:
    headers = {"content-type": kind} if kind else {}
    answer = desk.post(f"/job/{FARM}/{what}", content=body, headers=headers)
    assert answer.status_code in (200, 303, 400, 409, 422)


def version_faults(desk: TestClient) -> tuple[object, ...]:
    """Faults of the job as it is on disk now."""
    held = desk.app.state.shelf.held(FARM)  # type: ignore[attr-defined]
    held.reread()
    return tuple(held.faults)


def _json(record: Any) -> bytes:
    """A record as a careless program would send it: endless numbers and all."""
    return json.dumps(record, allow_nan=True).encode("utf-8", "replace")

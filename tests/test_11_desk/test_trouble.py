# SPDX-License-Identifier: Apache-2.0
"""Trouble in the desk: steps in order with numbers of the design, and its twin."""

import re

import pytest
from fastapi.testclient import TestClient

from tests.desks import copy_of, desk_of
from tilewater.desk.pages import trouble

BUILT = "corbel-built"


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> TestClient:
    root = tmp_path_factory.mktemp("desk")
    copy_of(BUILT, root)
    return desk_of(root)


@pytest.mark.works(of=(trouble.trouble,))
def test_the_page_shows_every_trouble_and_its_numbers_open(desk: TestClient) -> None:
    page = desk.get(f"/job/{BUILT}/trouble")
    assert page.status_code == 200
    assert "Nobody climbs into a structure" in page.text
    for each in trouble.troubles():
        assert f'href="#{each.name}"' in page.text
        assert f'id="{each.name}"' in page.text
    links = re.findall(rf'href="(/job/{BUILT}/number/[^"]+)"', page.text)
    assert links
    assert desk.get(links[0]).status_code == 200


@pytest.mark.works(of=(trouble.trouble_record,))
def test_the_twin_has_every_step_with_its_source(desk: TestClient) -> None:
    record = desk.get(f"/job/{BUILT}/trouble.json").json()
    assert [each["name"] for each in record] == [each.name for each in trouble.troubles()]
    assert all(step["source"] for each in record for step in each["steps"])
    assert desk.get("/job/no-such-job/trouble.json").status_code == 404
    assert desk.get("/job/no-such-job/trouble").status_code == 404

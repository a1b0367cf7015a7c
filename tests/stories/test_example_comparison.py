# SPDX-License-Identifier: Apache-2.0
"""The examples side by side: a buffer is all that may be built at one, and nothing at another."""

import pytest

from tilewater.chain.compare_contenders import NAMES
from tilewater.tasks.comparing import Compared, compare_job
from tools.package import ROOT

pytestmark = pytest.mark.slow


def compared(farm: str) -> Compared:
    return compare_job(ROOT / "examples" / farm)


@pytest.mark.works(of=(compare_job,))
def test_only_a_buffer_may_be_built_at_merridew_farm():
    found = compared("merridew-farm")
    assert found.fits
    assert found.comparison.buildable == ("buffer",)
    assert tuple(found.record["practices"]) == NAMES
    assert {answer.front for answer in found.comparison.answers} == {("buffer",)}


@pytest.mark.works(of=(compare_job,))
def test_nothing_may_be_built_at_verling_farm():
    found = compared("verling-farm")
    assert not found.fits
    assert all(each.stops for each in found.comparison.contenders if each.name != "none")
    assert {answer.front for answer in found.comparison.answers} == {()}

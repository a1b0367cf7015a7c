# SPDX-License-Identifier: Apache-2.0
"""A requirement in three words, and its reserve on a scale."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewater.basis.requirement import SCALES, Requirement, slack_of, status_of
from tilewater.basis.trace import Given, Trace
from tilewater.basis.unknown import Unknown

OPEN = Unknown("nobody measured it", "measure it")
numbers = st.floats(-1e4, 1e4)


@pytest.mark.by_hand(of=(status_of, slack_of))
def test_reserve_counts_in_whole_scales():
    # 17.4 percent over 15, on a scale of 15: 0.16 of a scale
    assert slack_of(0.174, 0.15, ">=", SCALES["share of flow"]) == pytest.approx(0.024 / 0.15)
    # 1.35 ft of freeboard where 1.0 is asked, on a scale of one foot
    assert slack_of(1.35 * 0.3048, 0.3048, ">=", SCALES["freeboard"]) == pytest.approx(0.35)
    assert slack_of(2.0, 3.0, "<=", 0.5) == pytest.approx(2.0)
    assert status_of(2.0, 3.0, "<=") == "holds"
    assert status_of(3.1, 3.0, "<=") == "short"
    assert status_of(0.15, 0.15, ">=") == "holds"
    assert status_of(0.1499, 0.15, ">=") == "short"


@pytest.mark.by_hand(of=(status_of,))
def test_rounding_of_arithmetic_is_no_shortfall():
    assert 0.1 + 0.2 > 0.3
    assert status_of(0.1 + 0.2, 0.3, "<=") == "holds"
    assert status_of(360.0, 360.0 + 3.5e-3, ">=") == "holds"
    assert status_of(360.0, 360.0 + 3.7e-3, ">=") == "short"


@pytest.mark.by_hand(of=(status_of,))
def test_survey_and_international_feet_meet():
    survey = 1200 / 3937
    # a crest 3 ft of boards above its sill, chips 3.5 ft deep from a floor 0.5 ft lower
    crest, media_top = 805.17 * survey + 3 * 0.3048, 804.67 * survey + 3.5 * 0.3048
    assert media_top != crest
    assert status_of(media_top - crest, 0.0, ">=") == "holds"
    assert status_of(-0.001 * survey, 0.0, ">=") == "short"


@pytest.mark.law(of=(status_of, slack_of))
@given(value=numbers, limit=numbers, scale=st.floats(0.01, 100))
def test_what_falls_short_has_less_than_no_reserve(value, limit, scale):
    for operator in (">=", "<="):
        if status_of(value, limit, operator) == "short":
            assert slack_of(value, limit, operator, scale) < 0
        assert status_of(value, OPEN, operator) == "not known"
        assert status_of(OPEN, limit, operator) == "not known"
    assert slack_of(value, limit, ">=", scale) == -slack_of(value, limit, "<=", scale)


@pytest.mark.works(of=(Requirement, Trace))
def test_a_trace_keeps_status_and_slack_of_a_requirement():
    trace = Trace.start(
        [Given("cover_m", 0.5, "m", "Cover"), Given("least_m", OPEN, "m", "Least cover")]
    )
    rule = Requirement("cover", "Cover of the bed", "cover_m", ">=", "least_m", "m", 0.3048)
    assert trace.require(rule) == "not known"
    assert trace.value("cover.status") == "not known"
    assert trace.value("cover.slack").causes == ("least_m",)
    assert trace.requirements == [rule]

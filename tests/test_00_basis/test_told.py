# SPDX-License-Identifier: Apache-2.0
"""A sentence with quantities is read in either system, and never with its marks."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewater.basis.findings import Finding
from tilewater.basis.told import (
    acres,
    cfs,
    cubic_yards,
    dollars_a_pound,
    elevation,
    feet,
    feet_a_second,
    in_units,
    inches,
    pounds,
)

FOOT = 0.3048
MARKS = "\ue000\ue001\ue002"


def both(sentence: str) -> tuple[str, str]:
    return in_units(sentence, "us"), in_units(sentence, "si")


@pytest.mark.by_hand(of=(feet, inches, cfs, feet_a_second, acres, cubic_yards, pounds, in_units))
def test_a_quantity_is_read_in_the_units_of_the_reader() -> None:
    assert ("2.97 ft", "0.905 m") == both(feet(2.97 * FOOT))
    assert ("4.9 ft", "1.49 m") == both(feet(4.9 * FOOT, ".1f"))
    assert ("10 in", "254 mm") == both(inches(10 * FOOT / 12))
    assert ("0.152 cfs", "4.30 L/s") == both(cfs(0.152 * FOOT**3))
    assert ("2.50 ft/s", "0.76 m/s") == both(feet_a_second(2.5 * FOOT))
    assert ("160 lb", "73 kg") == both(pounds(160 * 0.45359237))  # 72.57
    assert ("40 acres", "16.2 ha") == both(acres(40 * 43560 * FOOT**2))
    assert ("13 CY", "10 m3") == both(cubic_yards(13 * 27 * FOOT**3))


@pytest.mark.by_hand(of=(elevation, dollars_a_pound))
def test_an_elevation_keeps_the_foot_of_its_job_and_a_price_its_mass() -> None:
    survey = 1200 / 3937
    assert ("742.57 ft", f"{742.57 * survey:.3f} m") == both(
        elevation(742.57 * survey, "us survey foot")
    )
    assert ("at $2.00 a pound", f"at ${2 / 0.45359237:.2f} a kilogram") == both(
        f"at ${dollars_a_pound(2 / 0.45359237)}"
    )


@pytest.mark.works(of=(feet, in_units))
def test_the_first_of_two_leaves_its_unit_to_the_second() -> None:
    words = f"from {feet(2 * FOOT, '.0f', bare=True)} to {feet(3 * FOOT, '.0f')} deep"
    assert ("from 2 to 3 ft deep", "from 0.6 to 0.9 m deep") == both(words)


@pytest.mark.law(of=(in_units,))
@given(st.floats(-1e6, 1e6), st.sampled_from([feet, inches, cfs, feet_a_second, acres]))
def test_no_mark_is_left_in_a_sentence(value: float, tell: object) -> None:
    sentence = f"a {tell(value)} b"  # type: ignore[operator]
    for words in both(sentence):
        assert not any(mark in words for mark in MARKS)
        assert words.startswith("a ")
        assert words.endswith(" b")


@pytest.mark.works(of=(Finding,))
def test_a_finding_is_in_the_units_of_the_trade_until_a_reader_asks() -> None:
    one = Finding("a", "note", f"Cut of {feet(FOOT)}", f"It is {feet(2 * FOOT)} deep.")
    assert ("Cut of 1.00 ft", "It is 2.00 ft deep.") == (one.subject, one.message)
    told = one.in_units("si")
    assert ("Cut of 0.305 m", "It is 0.610 m deep.") == (told.subject, told.message)
    assert one.in_units("us") == one
    assert {one} == {one, replace(one)}

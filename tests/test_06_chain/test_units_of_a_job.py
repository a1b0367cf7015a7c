# SPDX-License-Identifier: Apache-2.0
"""A job typed in metres gives the answers of the same job typed in feet."""

import re
from fractions import Fraction

import pytest

from tests.jobs import FARM, inputs_of
from tilewater.chain.design import design_bed
from tilewater.job.reading import job_of_text, read_job

SI = {
    "ft": ("0.3048", "m"),
    "in": ("25.4", "mm"),
    "acre": ("0.40468564224", "ha"),
    "in/day": ("25.4", "mm/day"),
    "cm/s": ("0.01", "m/s"),
    "lb": ("0.45359237", "kg"),
    "lb/ft3": ("16.018463373960138", "kg/m3"),
}
TYPED = re.compile(r'"([\d.,/]+) (ft|in|acre|in/day|cm/s|lb|lb/ft3)"')
STATION = re.compile(r'"(\d+)\+(\d\d)"')


def in_si(text: str) -> str:
    """A job text with its quantities spelled in SI units, exactly where they can be."""

    def quantity(match: re.Match[str]) -> str:
        factor, unit = SI[match[2]]
        value = Fraction(match[1].replace(",", "")) * Fraction(factor)
        return f'"{float(value)!r} {unit}"'

    def station(match: re.Match[str]) -> str:
        feet = 100 * int(match[1]) + int(match[2])
        return f'"{float(feet * Fraction("0.3048"))!r} m"'

    return STATION.sub(station, TYPED.sub(quantity, text)).replace('units = "us"', 'units = "si"')


@pytest.mark.law(of=(design_bed, job_of_text))
def test_si_and_us_inputs_give_equal_answers():
    us = read_job(FARM)
    text = in_si(us.text)
    assert len(TYPED.findall(us.text)) > 80
    assert not TYPED.search(text)
    feet = design_bed(inputs_of(us))
    metres = design_bed(inputs_of(job_of_text(text, us.folder)))
    assert metres.verdict == feet.verdict
    assert metres.governs is not None
    assert feet.governs is not None
    assert metres.governs.key == feet.governs.key
    compared = 0
    for step in feet.trace:
        other = metres.trace.value(step.key)
        if isinstance(step.value, float):
            assert other == pytest.approx(step.value, rel=1e-7, abs=1e-9), step.key
            compared += 1
        elif step.key.endswith(".status"):
            assert other == step.value
    assert compared > 300

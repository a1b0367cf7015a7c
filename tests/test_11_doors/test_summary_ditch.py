# SPDX-License-Identifier: Apache-2.0
"""The block of the page about the ditch: bands where there are any, bounds as bounds."""

import io

import numpy as np
import pytest

from tests.jobs import ACRE, CFS, FOOT, corbel_inputs, with_givens
from tests.pages import Console
from tilewater.basis.trace import Given
from tilewater.basis.unknown import Unknown
from tilewater.chain.design import design_bed
from tilewater.chain.inputs import JobInputs
from tilewater.documents.pages.summary_ditch import ditch
from tilewater.documents.words import Words

DAYS = np.arange("2023-01-01", "2025-01-01", dtype="datetime64[D]")
RECORD = (
    Given(
        "inputs.record.daily_depth_m_s", np.full(DAYS.size, 0.3 * CFS / 62 / ACRE), "m/s", "Flow"
    ),
    Given("inputs.record.day", DAYS, "", "Days"),
)


def page(inputs: JobInputs) -> str:
    out = io.StringIO()
    block = ditch(design_bed(inputs).trace, Words())
    assert block is not None
    Console(file=out, width=80).print(block)
    return "\n".join(line.rstrip() for line in out.getvalue().strip().splitlines())


@pytest.mark.works(of=(ditch,))
def test_without_a_record_the_shares_are_said_once() -> None:
    assert page(corbel_inputs()) == (
        "Ditch  levels typed by season\n"
        "  season    ordinary        high\n"
        "  winter  1179.60 ft  1181.00 ft\n"
        "  spring  1180.10 ft  1182.10 ft\n"
        "  summer  1179.40 ft  1181.40 ft\n"
        "  autumn  1179.50 ft  1181.00 ft\n"
        "  Share of the drain flow with the ditch above each crest: not known, no day of\n"
        "  drain flow is measured, and no weather is given to simulate any. To know: name\n"
        "  a file of daily weather under [weather], or log the drain flow day by day for\n"
        "  a year, and name the file as record under [drainage]."
    )


@pytest.mark.works(of=(ditch,))
def test_bounds_and_bands_are_shown_as_such() -> None:
    band = Given("inputs.season.spring.ditch_band_m", 0.3 * FOOT, "m", "Band")
    change = {"season.autumn.ditch_high_m": 1181.9 * FOOT}
    text = page(with_givens(corbel_inputs(change), band, *RECORD))
    assert "spring  1180.10 ft  1179.80 to 1180.40  1182.10 ft  1181.80 to 1182.40" in text
    assert "autumn  1179.50 ft           not known  1181.90 ft           not known" in text
    assert "autumn       0.0 to 100.0 %         0.0 %" in text
    assert "Counted on measured days. Each season counts as a whole" in text
    assert "The true share lies between." in " ".join(text.split())
    assert "Over neither crest does ditch water run back" in text  # the drains never stand still


@pytest.mark.works(of=(ditch,))
def test_days_that_run_back_stand_beside_their_share() -> None:
    change = {"season.autumn.ditch_high_m": 1181.9 * FOOT}
    still = RECORD[0].value * (np.arange(DAYS.size) % 2)
    record = (Given("inputs.record.daily_depth_m_s", still, "m/s", "Flow"), RECORD[1])
    text = page(with_givens(corbel_inputs(change), *record))
    # 38 of the 77 days, one year and the other
    assert "runs back  outlet crest        of days  bypass crest  of days" in text
    assert "autumn     0 to 38 days  0.0 to 49.4 %        0 days    0.0 %" in text
    assert "Runs back: days of a mean year above the crest on which the drains bring" in text


@pytest.mark.works(of=(ditch,))
def test_an_unknown_ditch_says_what_to_read() -> None:
    text = page(corbel_inputs({"ditch.stage": Unknown("answered unknown", "read a staff")}))
    assert text.startswith("Ditch  not known\n")
    assert "To know: " in text

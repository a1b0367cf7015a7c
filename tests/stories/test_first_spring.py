# SPDX-License-Identifier: Apache-2.0
"""The first spring of the built farm: from files as they came to what it removed."""

from dataclasses import replace

import numpy as np
import pytest

from tilewater.tasks.checking import check_job
from tilewater.tasks.monitoring import Monitored, monitor_checked, monitor_job
from tools import corbel_loggers as truth
from tools.package import ROOT

WEIR = 0.01
"""The files were made with one coefficient of the boards; the rating has it by the head."""
BYPASS = 0.03
"""The same, and 2 mm of water more or less over a crest that is drowned for two days only."""


@pytest.fixture(scope="module")
def spring() -> Monitored:
    return monitor_job(ROOT / "examples/corbel-built")


def volumes(spring: Monitored) -> tuple[float, float]:
    """Water through the bed and past it, of the flow that the files were made from. [m3]"""
    record = spring.record["monitor"]
    hours = np.arange(0.0, 24 * record["flow_days"], 0.25)
    inlet, outlet = truth.water_of(truth.drain_flow(hours))
    treated = truth.WEIR * (outlet - truth.OUTLET_CREST) ** 1.5
    past = truth.WEIR * np.clip(inlet - truth.BYPASS_CREST, 0.0, None) ** 1.5
    return float(treated.sum() * 900.0), float(past.sum() * 900.0)


@pytest.mark.oracle("the flow that the files were made from", of=(monitor_checked,))
def test_the_water_that_is_reported_is_the_water_that_ran() -> None:
    # the files were made with the crests of the design, so they are read by these
    job = replace(check_job(ROOT / "examples/corbel-built"), stands=())
    drawn = monitor_checked(job, by_days=False)
    treated, past = volumes(drawn)
    record = drawn.record["monitor"]
    assert treated == pytest.approx(record["treated_m3"], rel=WEIR)
    assert past == pytest.approx(record["bypass_m3"], rel=BYPASS)


@pytest.mark.works(of=(monitor_job,))
def test_what_was_made_of_the_files_is_told_with_the_report(spring: Monitored) -> None:
    codes = {note.code for note in spring.notes}
    assert {"logger-clock-told", "logger-checked", "logger-gaps", "lab-below-detection"} <= codes

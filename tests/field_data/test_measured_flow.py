# SPDX-License-Identifier: Apache-2.0
"""The chain on measured daily drain flow of open plots.

Dataset of twelve sites, repository gioscript/Missing-Drainage-Data, commit 25330b00; shares and
ranges over its 17 plots are our own arithmetic on it, so they are held by hand, not as published.
"""

import csv
from pathlib import Path

import numpy as np
import pytest

from tests.jobs import corbel_inputs, with_givens
from tilewater.basis.trace import Given
from tilewater.chain.design import design_bed
from tilewater.hydrology.flow_record import capacity_for_share, share_within_capacity
from tools.measured_flow import CAPACITIES, MM_PER_DAY, PAGE, RECORD, page, plots

RANGES = {
    0.95: (0.20, 0.50),
    1.27: (0.26, 0.60),
    1.43: (0.28, 0.65),
    1.90: (0.36, 0.75),
    2.54: (0.43, 0.85),
}
"""Least and largest share of the 17 plots of the whole dataset, which holds the seven here."""
FIELDS = [("SERF_IA", "S2"), ("SERF_IA", "S5"), ("DPAC", "NE"), ("DPAC", "SW")]
OPTION = {"criteria.flow_option": "share of annual flow"}


def days_in_mm(folder: Path, site: str, plot: str) -> np.ndarray:
    """Recorded days of a plot with free drainage, read here by other means than the page."""
    with (folder / "drain-flow" / "daily_drain_flow.csv").open(encoding="utf-8") as lines:
        rows = [r for r in csv.reader(lines) if r[0] == site and r[1] == plot and r[5] == "FD"]
    return np.array([float(r[4]) for r in rows if r[4] != "NA"])


@pytest.mark.oracle("sums in numpy over measured days", of=(design_bed, share_within_capacity))
@pytest.mark.parametrize(("site", "plot"), FIELDS)
def test_chain_on_a_measured_field_equals_plain_sums(field_data, site, plot):
    mm = days_in_mm(field_data, site, plot)
    record = Given(RECORD, mm * MM_PER_DAY, "m/s", "Daily drain flow")
    design = design_bed(with_givens(corbel_inputs(OPTION), record))
    trace = design.trace
    area = trace.value("inputs.drainage.area_m2")
    capacity = trace.value("capacity.criterion.flow_m3_s") / area / MM_PER_DAY
    caught = np.where(mm < capacity, mm, capacity).sum() / mm.sum()
    assert trace.value("drain_flow.basis") == "measured"
    assert trace.value("capacity.criterion.share_of_annual_flow") == pytest.approx(caught)
    assert trace.value("removal.treated_volume_share.p50") == pytest.approx(caught)
    assert trace.value("drain_flow.mean_annual_depth_m") == pytest.approx(
        mm.sum() / mm.size * 365.25 / 1000
    )
    assert trace.value("drain_flow.flow_days_per_year") == pytest.approx(
        np.count_nonzero(mm > 0) / mm.size * 365.25
    )
    peak = trace.value("drain_flow.candidates_m3_s.measured")
    assert peak == pytest.approx(mm.max() / 1000 / 86400 * area)
    row = design.requirement("criteria.605-share-of-annual-flow")
    assert row.binding
    assert trace.value(f"{row.key}.status") == ("holds" if caught >= 0.60 else "short")


@pytest.mark.works(of=(design_bed,))
def test_a_peak_that_is_to_be_measured_is_the_largest_day(field_data):
    mm = days_in_mm(field_data, "SERF_IA", "S5")
    record = Given(RECORD, mm * MM_PER_DAY, "m/s", "Daily drain flow")
    job = with_givens(corbel_inputs({"criteria.peak_for_share": "measured"}), record)
    trace = design_bed(job).trace
    area = trace.value("inputs.drainage.area_m2")
    # the record tops out at 3/4 in a day, 19.05 mm, the coefficient of that field
    assert trace.value("drain_flow.peak_for_share_m3_s") / area / MM_PER_DAY == pytest.approx(
        19.05, abs=0.1
    )


@pytest.mark.by_hand(of=(share_within_capacity,))
def test_shares_of_the_plots_lie_in_the_range_of_the_whole_dataset(field_data):
    found = plots(field_data)
    assert len(found) == 7
    for plot in found:
        for capacity, (low, high) in RANGES.items():
            share = share_within_capacity(plot.daily_depth, 1.0, capacity * MM_PER_DAY)
            assert low - 0.005 <= share <= high + 0.005
    assert set(RANGES) == set(CAPACITIES)


@pytest.mark.by_hand(of=(capacity_for_share,))
@pytest.mark.parametrize("plot", ["S2", "S5"])
def test_iowa_plots_need_3_4_to_3_6_mm_a_day_for_60_percent(field_data, plot):
    flows = days_in_mm(field_data, "SERF_IA", plot) * MM_PER_DAY
    capacity = capacity_for_share(flows, 1.0, 0.60) / MM_PER_DAY
    assert 3.35 <= capacity <= 3.65
    assert share_within_capacity(flows, 1.0, capacity * MM_PER_DAY) == pytest.approx(0.60)


@pytest.mark.works(of=())
def test_page_on_measured_flow_is_fresh(field_data):
    stale = "stale; run: python -m tools.measured_flow FOLDER"
    assert PAGE.read_text(encoding="utf-8") == page(field_data), stale

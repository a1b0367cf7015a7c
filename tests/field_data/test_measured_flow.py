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
from tools.measured_flow import (
    ALL_PLOTS,
    CAPACITIES,
    MM_PER_DAY,
    PAGE,
    RECORD,
    SIXTY_PERCENT,
    page,
    plots,
)

HALF_A_DIGIT = 0.005
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
        for capacity, (low, _, high) in ALL_PLOTS.items():
            share = share_within_capacity(plot.daily_depth, 1.0, capacity * MM_PER_DAY)
            assert low - HALF_A_DIGIT <= share <= high + HALF_A_DIGIT
        sixty = capacity_for_share(plot.daily_depth, 1.0, 0.60) / MM_PER_DAY
        least, _, most = SIXTY_PERCENT
        assert least - HALF_A_DIGIT <= sixty <= most + 10 * HALF_A_DIGIT
    assert set(ALL_PLOTS) == set(CAPACITIES)


def rows_of_shares() -> dict[str, list[float]]:
    """The table of shares as the page prints it, by its first column."""
    text = PAGE.read_text(encoding="utf-8")
    table = text.partition("## Share of the water within a fixed capacity")[2].partition("## ")[0]
    lines = [line.strip("| ").split(" | ") for line in table.splitlines() if line.startswith("|")]
    return {name: [float(cell) for cell in cells] for name, *cells in lines[2:]}


@pytest.mark.by_hand(of=(share_within_capacity, capacity_for_share))
def test_the_page_sets_its_plots_beside_the_ranges_of_all_plots():
    printed = rows_of_shares()
    of_all = [printed.pop(f"{word} of 17 plots") for word in ("least", "median", "largest")]
    assert of_all == [
        [0.20, 0.26, 0.28, 0.36, 0.43, 1.3],
        [0.32, 0.38, 0.40, 0.47, 0.55, 2.9],
        [0.50, 0.60, 0.65, 0.75, 0.85, 4.8],
    ]
    assert len(printed) == 7
    for plot, cells in printed.items():
        for low, share, high in zip(of_all[0], cells, of_all[2], strict=True):
            assert low <= share <= high, plot
    # 15 percent of a coefficient of 3/8 to 1/2 in a day: far from 60 percent of the water
    middle = [float(np.median([cells[place] for cells in printed.values()])) for place in (2, 3)]
    assert middle == pytest.approx([of_all[1][place] for place in (2, 3)], abs=0.03)


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

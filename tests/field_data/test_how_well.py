# SPDX-License-Identifier: Apache-2.0
"""How well the program predicts: the page, and what it rests on, on measured fields.

Datasets of the pages on simulated fields and on measured buffers.
"""

import hydroeval
import numpy as np
import pytest

from tilewater.hydrology.drain_flow import treated_share_exponential
from tilewater.hydrology.field_bounds import bounds_of
from tilewater.hydrology.field_calibration import fit_soil, goodness_of
from tilewater.hydrology.flow_record import capacity_for_share
from tilewater.hydrology.goodness import kling_gupta, nash_sutcliffe
from tools.how_well import PAGE, page
from tools.how_well_cases import Case, bed_cases, board_cases, buffer_cases, chip_cases, counted
from tools.how_well_flow import field_shares, fitted_plots, shares_of, trials_of
from tools.measured_plots import SITES
from tools.pilot_beds import predictions


@pytest.mark.works(of=())
def test_page_on_predictions_is_fresh(field_data):
    stale = "stale; run: python -m tools.how_well FOLDER"
    assert PAGE.read_text(encoding="utf-8") == page(field_data), stale


@pytest.mark.law(of=(fit_soil,))
def test_no_fit_is_worse_than_the_defaults_on_its_own_years(field_data):
    plots = fitted_plots(field_data)
    assert len(plots) == 2 * len(SITES)
    fits = [plot.field.fit for plot in plots] + [trial.fit for trial in trials_of(plots)]
    for fit in fits:
        assert fit.after.objective <= fit.before.objective + 1e-9
        for slug, value in fit.values.items():
            assert bounds_of(slug).low <= value <= bounds_of(slug).high


@pytest.mark.oracle("hydroeval 0.1.0", of=(nash_sutcliffe, kling_gupta, goodness_of))
def test_efficiencies_of_measured_plots_are_those_of_another_library(field_data):
    for plot in fitted_plots(field_data):
        there = np.isfinite(plot.days.flow)
        pair = plot.default[there][:, None], plot.days.flow[there][:, None]
        found = goodness_of(plot.default, plot.days)
        assert found.nash_sutcliffe == pytest.approx(float(hydroeval.nse(*pair)[0]), rel=1e-9)
        assert found.kling_gupta == pytest.approx(float(hydroeval.kge(*pair)[0, 0]), rel=1e-9)


@pytest.mark.by_hand(of=(fit_soil,))
def test_every_half_comes_nearer_with_a_soil_of_the_other_half(field_data):
    for plot in fitted_plots(field_data):
        assert plot.field.holds, plot.title
        first, second = plot.field.trials
        assert not set(first.years) & set(second.years)


@pytest.mark.by_hand(of=(field_shares, treated_share_exponential))
def test_the_screening_figure_overstates_what_every_field_catches(field_data):
    shares = list(field_shares(field_data))
    assert len(shares) == 7 * 5
    assert all(share.screening > share.measured for share in shares)


@pytest.mark.by_hand(of=(shares_of, capacity_for_share))
def test_shares_of_a_trial_are_of_the_years_it_was_not_fitted_to(field_data):
    plot = fitted_plots(field_data)[0]
    trial, shares = plot.field.trials[0], shares_of(plot, 0)
    there = np.isin(plot.days.year, trial.years) & np.isfinite(plot.days.flow)
    mm = plot.days.flow[there] * 86400e3
    assert shares.caught[0] == pytest.approx(np.minimum(mm, 1.27).sum() / mm.sum())
    assert np.minimum(mm, shares.sixty[0]).sum() == pytest.approx(0.6 * mm.sum(), rel=1e-6)


@pytest.mark.works(of=(counted,))
def test_few_cases_are_counted_and_many_have_a_percentage():
    inside = Case("a", "%", 1.0, 2.0, 3.0, 2.5)
    outside = Case("b", "%", 1.0, 2.0, 3.0, 0.5)
    assert (inside.side, outside.side) == ("inside", "too high")
    assert Case("c", "%", 1.0, 2.0, 3.0, 4.0).side == "too low"
    assert counted((inside, outside) * 14) == "14 of 28"
    assert counted((inside, outside) * 15) == "15 of 30 (50 %)"


@pytest.mark.works(of=(bed_cases, buffer_cases, chip_cases, board_cases))
def test_every_published_case_stands_on_the_page(field_data):
    cases = (*bed_cases(), *buffer_cases(field_data), *chip_cases(), *board_cases())
    assert len(bed_cases()) == len(predictions())
    text = PAGE.read_text(encoding="utf-8")
    for case in cases:
        assert 0.0 <= case.low <= case.middle <= case.high
        assert f"| {case.name}" in text


@pytest.mark.by_hand(of=(board_cases,))
def test_boards_are_those_of_the_printed_equations():
    upper = next(iter(board_cases()))
    assert upper.measured == 1.4774
    assert upper.high - upper.low == pytest.approx(2 * 0.20 * upper.middle)

# SPDX-License-Identifier: Apache-2.0
"""Measured saturated buffers of Iowa: printed ratios, loads of one year, two models on other years.

Repository gjohnson-isu/abe516-project, commit dce5d5a4. Loads and ratios are those of its files.
"""

import csv
from pathlib import Path

import numpy as np
import pytest

from tests.digits import printed
from tilewater.hydrology.drain_flow import treated_share_exponential
from tilewater.practices.buffer.removal import removal_first_order, removal_zero_order
from tools.measured_buffers import (
    PAGE,
    averages,
    days_2022,
    fitted_capacity,
    held_out,
    loads_by_days,
    loads_by_intervals,
    other_sites,
    predicted_removal,
    recomputed,
    samples_2022,
    share_at,
    site_years,
)
from tools.measured_buffers_page import page

ROUNDED = 0.03
"""Depths are printed in whole millimetres; HG 2016 diverted 39 of 191 of them."""


@pytest.mark.published("iowa-buffers", "site_years.csv, every row", of=(recomputed,))
def test_printed_ratios_follow_from_the_printed_loads(field_data):
    rows = [row for row in site_years(field_data) if row.has_nitrate]
    assert len(rows) == 22
    for row in rows:
        for name, (given, again) in recomputed(row).items():
            tolerance = ROUNDED if name == "diversion" else 0.004
            assert given == pytest.approx(again, rel=tolerance), (row.site, row.year, name)


@pytest.mark.published(
    "iowa-buffers", "annual loads of 2022 as its summary has them", of=(loads_by_intervals,)
)
def test_loads_of_2022_by_intervals_are_those_of_the_summary(field_data):
    loads = loads_by_intervals(field_data)
    assert printed("357.942") == loads.came
    assert printed("74.416") == loads.diverted
    assert printed("63.295") == loads.removed


@pytest.mark.by_hand(of=(loads_by_days,))
def test_loads_of_2022_by_days_are_4_percent_less(field_data):
    one, other = loads_by_intervals(field_data), loads_by_days(field_data)
    assert printed("343.42") == other.came
    assert printed("71.45") == other.diverted
    assert printed("-4.1") == 100 * (other.came / one.came - 1)
    assert printed("-4.0") == 100 * (other.diverted / one.diverted - 1)


@pytest.mark.by_hand(of=(days_2022,))
def test_flow_of_2022_does_not_close(field_data):
    _, came, past, into = days_2022(field_data)
    assert printed("2830.0") == came.sum()
    assert printed("2429.8") == past.sum()
    assert printed("669.0") == into.sum()
    assert printed("9.5") == 100 * ((past.sum() + into.sum()) / came.sum() - 1)


@pytest.mark.works(of=())
def test_two_samples_of_one_day_are_one_and_blanks_are_none(field_data):
    samples = samples_2022(field_data)
    with (field_data / "saturated-buffers" / "nitrate_2022.csv").open(encoding="utf-8") as lines:
        rows = list(csv.DictReader(lines))
    assert {row["Sample Date"] for row in rows} - set(samples) == {"2021-12-31"}
    entering, leaving = samples["2022-05-17"]
    assert entering == pytest.approx((22.2 + 20.58) / 2)
    assert leaving == pytest.approx(((0.0 + 0.0) / 2 + (3.1 + 2.85) / 2) / 2)


@pytest.mark.by_hand(of=(averages,))
def test_means_of_site_years_are_not_the_pooled_values(field_data):
    found = {name: values for name, *values in averages(site_years(field_data))}
    rows = [row for row in site_years(field_data) if row.has_nitrate]
    removed, load = sum(r.removed_kg for r in rows), sum(r.load_kg for r in rows)
    of_years, _, pooled = found["removed of all nitrate"]
    assert pooled == pytest.approx(removed / load)
    assert of_years == pytest.approx(np.mean([r.removed_kg / r.load_kg for r in rows]))
    assert of_years - pooled > 0.05


@pytest.mark.oracle("parameters of invented years", of=(treated_share_exponential,))
def test_a_capacity_is_found_again_from_years_that_have_it(field_data):
    rows = [row for row in site_years(field_data) if row.site == "BC-1"]
    made = [
        type(row)(**{**vars(row), "diverted_mm": row.tile_mm * share_at(0.2, row)}) for row in rows
    ]
    assert fitted_capacity(made) == pytest.approx(0.2, rel=2e-3)


@pytest.mark.by_hand(of=(treated_share_exponential,))
def test_a_capacity_fitted_to_even_years_finds_odd_ones_no_better_than_their_mean(field_data):
    """An honest result: yearly sums hold one number a site. Where it fails, the page says so."""
    rows = site_years(field_data)
    held = {each.site: each for each in held_out(rows)}
    assert {len(held["BC-1"].fitted), len(held["BC-1"].tested)} == {5, 6}
    assert 0.05 < held["BC-1"].miss < 0.25
    assert held["IA-1"].miss < 0.10
    elsewhere = other_sites(rows)
    assert np.mean([miss for _, miss in elsewhere.values()]) > np.mean(
        [each.miss for each in held.values()]
    )


@pytest.mark.by_hand(of=(removal_first_order, removal_zero_order))
def test_default_rates_foretell_less_removal_than_was_measured(field_data):
    rows = [row for row in site_years(field_data) if row.has_nitrate]
    measured = np.array([row.removed_kg / row.diverted_kg for row in rows])
    first, zero = np.array([predicted_removal(row) for row in rows]).T
    assert 0.84 <= measured.min() <= measured.max() <= 1.0
    assert 0.65 < first.mean() < measured.mean()
    assert np.all(first > 0.5)
    assert zero.mean() < 0.5 * measured.mean()
    row = rows[0]
    days = 1.11 * 0.35 * 9.144 * 1.3 / row.diverted_per_metre
    warm = 1.97**-0.5
    by_hand = 1 - np.exp(-0.1 * warm * (days - 3.5 / (2 * warm)))
    assert by_hand == pytest.approx(first[0])
    assert row.diverted_per_metre == pytest.approx(0.111 * 10.1e4 / 143 / 335)


@pytest.mark.works(of=())
def test_page_on_measured_buffers_is_fresh(field_data: Path):
    stale = "stale; run: python -m tools.measured_buffers FOLDER"
    assert PAGE.read_text(encoding="utf-8") == page(field_data), stale

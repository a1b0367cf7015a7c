# SPDX-License-Identifier: Apache-2.0
"""What measured pairs of plots kept back behind raised outlets, and what the model does.

Dataset of twelve sites, repository gioscript/Missing-Drainage-Data, commit 25330b00. Nothing was
tuned to it, and at one site the model misses by far; the page says so.
"""

import numpy as np
import pytest

from tilewater.hydrology.field import simulate_field
from tilewater.practices.raised.draws import run_pairs
from tools.measured_plots import SITES
from tools.measured_raised import PAGE, kept_by_model, page, pairs

DATA = "missing-drainage"


@pytest.mark.works(of=())
def test_page_on_raised_outlets_is_fresh(field_data):
    stale = "stale; run: python -m tools.measured_raised FOLDER"
    assert PAGE.read_text(encoding="utf-8") == page(field_data), stale


@pytest.mark.by_hand(of=(simulate_field,))
def test_every_pair_kept_water_back(field_data):
    assert [pair.site for pair in pairs(field_data)] == [
        "CRAWF",
        "DPAC",
        "HARDIN_NW",
        "SERF_IA",
        "STJOHNS",
    ]
    assert all(0.1 < pair.kept < 0.6 for pair in pairs(field_data))


@pytest.mark.published(
    DATA, "daily drain flow of DPAC, 2006 to 2017", of=(simulate_field, run_pairs)
)
def test_size_at_a_site_within_the_range_of_the_draws(field_data):
    (site,) = (s for s in SITES if s.name == "DPAC")
    (pair,) = (p for p in pairs(field_data) if p.site == "DPAC")
    low, high = np.quantile(kept_by_model(field_data, site)[2][1:], (0.1, 0.9))
    assert low < pair.kept < high


@pytest.mark.published(DATA, "daily drain flow of SERF_IA, 2007 to 2017", of=(simulate_field,))
def test_direction_at_a_site_where_the_size_is_missed(field_data):
    (site,) = (s for s in SITES if s.name == "SERF_IA")
    (pair,) = (p for p in pairs(field_data) if p.site == "SERF_IA")
    shares = kept_by_model(field_data, site)[2]
    assert np.all(shares > 0.0)
    assert shares.max() < pair.kept / 3, "the miss is told on the page; tell its end too"

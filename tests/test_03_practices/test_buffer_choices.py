# SPDX-License-Identifier: Apache-2.0
"""What removes most: the closed best widths, curves, and how flat they are."""

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from tests.digits import printed
from tilewater.basis.errors import OutOfDomain
from tilewater.practices.buffer.choices import (
    BufferSite,
    best_width_first_order,
    best_width_zero_order,
    capacity_of_site,
    removal_curve,
    removal_of_treated,
)
from tilewater.practices.buffer.removal import (
    best_width_of,
    crest_curve,
    length_curve,
    site_of,
    width_curve,
)

DAY = 86400.0
SITE = BufferSite(300.0, 9.1, 1.8, 0.8, 1 / DAY, 0.35, rate_per_day=0.1, factor=1.0)
RANKS = (np.arange(4000) + 0.5) / 4000
MEAN = 20e4 * 0.300 / 365.25
"""Mean flow of 20 ha and 300 mm a year, 164.3 m3 a day."""
EXPONENTIAL = -np.log(1 - RANKS) * MEAN / DAY
"""Days with an exponential flow of that mean."""
WIDTHS = [
    # W, capacity m3/day, treated, removal of treated, overall
    (4.0, "97.5", ".447", ".429", ".192"),
    (6.0, "65.0", ".327", ".716", ".234"),
    (7.0, "55.7", ".288", ".820", ".236"),
    (9.1, "42.9", ".230", ".945", ".217"),
    (15.0, "26.0", ".146", "1.000", ".146"),
    (30.0, "13.0", ".076", "1.000", ".076"),
]


@pytest.mark.by_hand(of=(best_width_first_order,))
@pytest.mark.parametrize(
    ("conductivity", "rate", "width"),
    [
        (1.0, 0.1, "5.991"),
        (2.0, 0.1, "8.47"),
        (5.0, 0.1, "13.40"),
        (0.3, 0.1, "3.28"),
        (1.0, 0.05, "8.47"),
    ],
)
def test_best_width_where_flow_always_exceeds(conductivity, rate, width):
    found = best_width_first_order(
        head_fall=1.0,
        conductivity=conductivity / DAY,
        porosity=0.35,
        rate_per_day=rate,
        factor=1.0,
    )
    assert printed(width) == found


@pytest.mark.oracle("scipy.optimize.minimize_scalar", of=(best_width_first_order,))
def test_best_width_is_where_the_product_is_largest():
    def less(width: float) -> float:
        site = replace(SITE, width=width)
        return -capacity_of_site(site) * removal_of_treated(site)

    found = minimize_scalar(less, bounds=(1.0, 30.0), method="bounded").x
    best = best_width_first_order(
        head_fall=1.0, conductivity=1 / DAY, porosity=0.35, rate_per_day=0.1, factor=1.0
    )
    assert best == pytest.approx(found, rel=1e-4)
    assert printed(".7153") == removal_of_treated(replace(SITE, width=best))


@pytest.mark.by_hand(of=(best_width_zero_order,))
@pytest.mark.parametrize(("rate", "width"), [(0.02, "22.36"), (0.04, "15.81"), (0.10, "10.0")])
def test_best_width_where_nitrate_just_runs_out(rate, width):
    assert printed(width) == best_width_zero_order(
        head_fall=1.0, conductivity=1 / DAY, nitrate_mg_per_l=10.0, rate_g_per_m3_day=rate
    )


@pytest.mark.by_hand(of=(removal_of_treated,))
@pytest.mark.parametrize(
    ("width", "share"), [(5.0, ".087"), (9.1, ".290"), (15.0, ".787"), (30.0, "1.000")]
)
def test_zero_order_share_of_what_enters(width, share):
    """C 12 mg/L, 0.04 g/m3/day, K 1 m/day, heads 1.8 and 0.8 m."""
    site = replace(
        SITE, width=width, rate_per_day=0.0, rate_g_per_m3_day=0.04, nitrate_mg_per_l=12.0
    )
    by_hand = min(1.0, 0.04 * width * 1.3 / (12 * 1.3 / width))
    found = removal_of_treated(site)
    assert by_hand == pytest.approx(found, rel=1e-9)
    # the facts count the soil by its exact integral, 5 percent more
    assert found == pytest.approx(float(share), rel=0.05)


@pytest.mark.by_hand(of=(removal_curve, capacity_of_site, removal_of_treated))
@pytest.mark.parametrize("row", WIDTHS)
def test_removal_over_widths_with_exponential_flow(row):
    width, capacity, treated, removal, overall = row
    curve = removal_curve(SITE, "width", np.array([width]), daily_flow=EXPONENTIAL)
    assert printed(capacity) == DAY * capacity_of_site(replace(SITE, width=width))
    by_hand = 1 - math.exp(-(300 * 2.6 / (2 * width)) / MEAN)
    assert float(treated) == pytest.approx(by_hand, abs=1e-3)
    assert by_hand == pytest.approx(curve.treated_share[0], abs=1e-3)
    assert printed(removal) == curve.removal_of_treated[0]
    assert float(overall) == pytest.approx(curve.removed_share[0], abs=1.5e-3)


@pytest.mark.by_hand(of=(removal_curve,))
def test_the_best_is_flat():
    """Best at 6.67 m with 0.2362; 30 percent more or less width loses less than a tenth."""
    tried = np.arange(3.0, 30.0, 0.01)
    curve = removal_curve(SITE, "width", tried, daily_flow=EXPONENTIAL)
    assert curve.best == pytest.approx(6.67, abs=0.05)
    assert curve.removed_share.max() == pytest.approx(0.2362, abs=5e-4)
    assert curve.flat_low < 0.75 * curve.best
    assert curve.flat_high > 1.30 * curve.best


@pytest.mark.law(of=(length_curve, crest_curve, width_curve, site_of, best_width_of))
def test_a_longer_line_and_more_head_take_more():
    site = site_of(300.0, 9.1, 1.8, 0.8, 1 / DAY, 0.35, 0.1, 2.0)
    lengths, crests = length_curve(site, EXPONENTIAL), crest_curve(site, EXPONENTIAL)
    assert np.all(np.diff(lengths.removed_share) > 0)
    assert lengths.best == 600.0
    assert np.all(np.diff(crests.treated_share) > 0)
    assert np.all(np.diff(crests.removal_of_treated) < 1e-12)
    widths = width_curve(site, EXPONENTIAL)
    assert widths.flat_low <= widths.best <= widths.flat_high
    assert widths.best >= best_width_of(replace(site, oxic_days=0.0)) - 0.5


@pytest.mark.works(of=(removal_curve, removal_of_treated))
def test_what_cannot_be_chosen_is_refused():
    with pytest.raises(OutOfDomain, match="At least one is tried"):
        removal_curve(SITE, "width", np.array([]), daily_flow=EXPONENTIAL)
    with pytest.raises(OutOfDomain, match="One of two laws"):
        removal_of_treated(replace(SITE, rate_per_day=0.0))
    assert removal_of_treated(replace(SITE, head_stream=1.8)) == 0

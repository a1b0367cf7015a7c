# SPDX-License-Identifier: Apache-2.0
"""A report finds what invented years truly carried, as often as it says it does.

The years come from a generator that shares nothing with the program. The page docs/recovery.md has
the counts of many seeds; a few of them are run each time.
"""

from functools import cache
from pathlib import Path

import numpy as np
import pytest

from tilewater.chain.monitor import analyse
from tilewater.monitoring.concentration import concentration_linear
from tilewater.monitoring.stage_flow import stage_flow
from tilewater.tasks.monitoring import monitor_job
from tools.invented_years.folder import write_folder
from tools.invented_years.instruments import RANGE_M, invent_instruments
from tools.invented_years.laboratory import invent_bottles
from tools.invented_years.site import invent_site
from tools.package import ROOT
from tools.recovery_study import (
    FIRST_SEED,
    NAMES,
    STATED,
    Found,
    found_of_seed,
    interval_of,
    one_year_each,
    study,
    thinned_of_seed,
)

FEW = range(FIRST_SEED, FIRST_SEED + 2)
MANY = range(FIRST_SEED, FIRST_SEED + 60)
FAR = 0.4
"""Further from the truth the middle of two sites may not lie: a rating has an error of 12 %."""


@cache
def few() -> tuple[Found, ...]:
    return tuple(one for seed in FEW for one in found_of_seed(seed))


@cache
def many() -> tuple[Found, ...]:
    return tuple(study(MANY))


@pytest.mark.law(of=(analyse, stage_flow))
def test_a_few_sites_are_found_again_within_what_is_stated() -> None:
    removed = [one for one in few() if one.name == "removed_kg"]
    assert len(removed) == 6
    assert sum(one.is_within for one in removed) >= 4
    assert abs(float(np.median([one.error for one in removed]))) < FAR


@pytest.mark.law(of=(analyse,))
def test_ranges_hold_their_middle_and_no_load_is_negative() -> None:
    assert {one.name for one in few()} == set(NAMES)
    for one in few():
        assert one.p10 < one.p50 < one.p90
        if one.name in ("bed_in_kg", "bypass_kg"):
            assert one.p10 >= 0.0


@pytest.mark.law(of=(concentration_linear,))
def test_bottles_further_apart_miss_more_of_a_load() -> None:
    found = [one for seed in FEW for one in thinned_of_seed(seed, (2.0, 28.0))]
    near, far = (
        float(np.mean([abs(one.came) for one in found if one.every_days == every]))
        for every in (2.0, 28.0)
    )
    assert near < far
    assert near < 0.05


@pytest.mark.slow
@pytest.mark.law(of=(analyse,))
@pytest.mark.parametrize("name", NAMES)
def test_the_truth_lies_in_the_stated_range_as_often_as_stated(name: str) -> None:
    each = [one for one in one_year_each(many()) if one.name == name]
    hits = sum(one.is_within for one in each)
    assert interval_of(hits, len(each))[1] >= STATED


@pytest.mark.works
def test_the_interval_of_a_rate_is_wilson_s() -> None:
    # 8 of 10: (0.8 + 0.19208) / 1.38416 and +- 1.96/1.38416 sqrt(0.016 + 0.009604)
    middle, half = 0.99208 / 1.38416, 1.96 / 1.38416 * (0.016 + 0.009604) ** 0.5
    assert interval_of(8, 10) == pytest.approx((middle - half, middle + half), rel=1e-6)


@pytest.mark.slow
@pytest.mark.law(of=(monitor_job,))
@pytest.mark.parametrize("seed", [FIRST_SEED, FIRST_SEED + 1])
def test_the_whole_verb_finds_a_site_in_files_as_they_come(seed: int, tmp_path: Path) -> None:
    site = invent_site(seed)
    folder = write_folder(
        tmp_path / "farm",
        ROOT / "examples" / "corbel-farm",
        site,
        invent_instruments(site),
        invent_bottles(site),
        highest_m=RANGE_M,
    )
    trace = monitor_job(folder).trace
    truth = sum(year.removed_kg for year in site.years)
    low, middle, high = (trace.value(f"monitor.removed_kg.{p}") for p in ("p10", "p50", "p90"))
    assert low <= truth <= high
    assert abs(middle / truth - 1.0) < FAR

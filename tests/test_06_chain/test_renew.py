# SPDX-License-Identifier: Apache-2.0
"""Renewal on the chain: what the criterion asks for, what a head shows, signs, options."""

import math
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tilewater.basis.errors import NoSolution, OutOfDomain
from tilewater.basis.trace import Trace
from tilewater.basis.unknown import is_unknown
from tilewater.chain import renew_bed, renew_days, renew_parts
from tilewater.chain.design import design_bed
from tilewater.chain.inputs import JobInputs
from tilewater.chain.renew import add_renewal, setting_of
from tilewater.chain.renew_options import OPTIONS, SIGNS, add_options, add_signs
from tilewater.hydraulics.media import conductivity_at_temperature
from tilewater.monitoring.renewal import Decline
from tilewater.practices.bed.capacity import Media
from tilewater.practices.bed.life import LifeTask
from tilewater.practices.bed.system import bed_flow_at_diversion, levels_along_bed
from tilewater.tasks.checking import check_job
from tools.package import ROOT

DAY = "2031-02-01"


@cache
def inputs(example: str = "corbel-built") -> JobInputs:
    return check_job(ROOT / "examples" / example).inputs


def renewed(day: str = DAY, example: str = "corbel-built", **changed: object) -> Trace:
    keys = {f"inputs.{key.replace('__', '.')}": value for key, value in changed.items()}
    trace = design_bed(inputs(example).changed(keys), by_days=False).trace
    add_renewal(trace, day)
    add_signs(trace)
    add_options(trace)
    return trace


@cache
def built() -> Trace:
    return renewed()


def task() -> LifeTask:
    found = built().value("life.task")
    assert isinstance(found, LifeTask)
    return found


@pytest.mark.law(of=(renew_bed.conductivity_needed,))
def test_the_bed_takes_just_its_share_at_the_conductivity_that_is_asked_for() -> None:
    peak, share = 0.0263, 0.15
    needed = renew_bed.conductivity_needed(task(), peak, share)
    media = renew_bed.media_like(needed, task().ward_coefficient)
    flow = bed_flow_at_diversion(task().level, task().tailwater, task().path, task().shape, media)
    assert flow == pytest.approx(share * peak, rel=1e-4)
    with pytest.raises(NoSolution, match="pipes and boards take all"):
        renew_bed.conductivity_needed(task(), 10.0, 0.5)


@pytest.mark.law(of=(renew_bed.conductivity_observed,))
@settings(max_examples=25)
@given(
    conductivity=st.floats(0.01, 0.15),
    flow=st.floats(0.001, 0.006),
    temperature=st.floats(1.0, 22.0),
)
def test_a_head_that_was_computed_shows_its_own_conductivity(
    conductivity: float, flow: float, temperature: float
) -> None:
    at_20 = renew_bed.media_like(conductivity, task().ward_coefficient)
    cold = Media(float(conductivity_at_temperature(conductivity, temperature)), at_20.inertia)
    levels = levels_along_bed(flow, task().tailwater, task().path, task().shape, cold)
    head = levels.diversion - levels.outlet_box
    shown = renew_bed.conductivity_observed(flow, head, temperature, task(), task().path)
    assert shown == pytest.approx(conductivity, rel=1e-3)


@pytest.mark.works(of=(renew_bed.conductivity_observed,))
def test_a_head_that_pipes_alone_take_is_refused() -> None:
    with pytest.raises(NoSolution, match="fits no media"):
        renew_bed.conductivity_observed(0.006, 1e-4, 10.0, task(), task().path)


@pytest.mark.by_hand(of=(renew_days.years_between, renew_parts.share_of_water))
def test_years_and_shares_worked_out_by_hand() -> None:
    assert renew_days.years_between("2027-10-01", "2028-10-01") == pytest.approx(366 / 365.25)
    assert renew_days.years_between("2031-01-01", "2030-01-01") == pytest.approx(-365 / 365.25)
    # of 1, 3 and 6 a capacity of 2 takes 1, 2 and 2: 5 of 10
    assert renew_parts.share_of_water(np.array([1.0, 3.0, 6.0]), 2.0) == pytest.approx(0.5)


@pytest.mark.by_hand(of=(renew_parts.best_of_last, renew_parts.count_of, renew_parts.ratio_of))
def test_two_years_below_a_limit_are_told_by_the_larger() -> None:
    assert renew_parts.best_of_last((0.7, 0.58, 0.41), 2.0) == 0.58
    assert renew_parts.count_of(a=True, b=False, c=True) == 2.0
    assert renew_parts.ratio_of(0.03, 0.06) == 0.5
    with pytest.raises(OutOfDomain, match="1 years are given"):
        renew_parts.best_of_last((0.5,), 2.0)


@pytest.mark.by_hand(of=(renew_parts.cost_of_mass, renew_parts.mean_removed))
def test_cost_of_a_kilogram_over_the_years_that_are_bought() -> None:
    # 10,000 USD over 10 years at 4 percent: A/P = 0.04 / (1 - 1.04^-10) = 0.12329
    factor = 0.04 / (1.0 - 1.04**-10)
    assert renew_parts.cost_of_mass(10000.0, 0.04, 10.0, 50.0) == pytest.approx(
        10000.0 * factor / 50.0
    )
    assert renew_parts.mean_removed(60.0, 0.25, 0.5) == pytest.approx(30.0)


@pytest.mark.law(of=(renew_parts.years_of_part, renew_parts.years_used))
def test_a_part_adds_less_than_the_whole_and_renewing_early_only_what_is_used() -> None:
    random = np.random.default_rng(3)
    decline = Decline(
        math.log(0.08) + 0.3 * random.standard_normal(500),
        np.abs(0.09 + 0.02 * random.standard_normal(500)),
    )
    ages = (decline.log_new - math.log(0.04)) / decline.per_year
    start = np.maximum(ages, 3.0)
    whole = renew_parts.years_of_part(decline, start, 0.04, 1.0)
    third = renew_parts.years_of_part(decline, start, 0.04, 1.0 / 3.0)
    none = renew_parts.years_of_part(decline, start, 0.04, 0.0)
    assert np.all(third <= whole)
    assert np.all(none <= renew_parts.STEP_YEARS)
    assert np.abs(whole - np.maximum(ages, 0.0)).max() <= renew_parts.STEP_YEARS
    assert renew_parts.years_used(ages, 3.0, 0.5) == pytest.approx(
        float(np.quantile(np.minimum(ages, 3.0), 0.5))
    )


@pytest.mark.works(of=(add_renewal, add_signs, add_options))
def test_readings_narrow_the_life_and_move_it_where_they_point() -> None:
    trace = built()
    life = [float(trace.value(f"renew.life.{p}_years")) for p in ("p10", "p50", "p90")]
    curve = [float(trace.value(f"renew.life.by_curve.{p}_years")) for p in ("p10", "p50", "p90")]
    assert life[0] < life[1] < life[2]
    assert life[2] - life[0] < curve[2] - curve[0]
    # every reading lies below the curve of its day, so the bed is due sooner
    names = trace.names("renew.observed")
    assert len(names) == 3
    for name in names:
        shown = trace.value(f"renew.observed.{name}.conductivity_m_s")
        assert shown < trace.value(f"renew.observed.{name}.by_curve_m_s")
    assert life[1] < curve[1]


@pytest.mark.works(of=(add_renewal,))
def test_without_the_day_of_filling_the_age_is_not_known_and_nothing_is_guessed() -> None:
    trace = renewed(example="corbel-farm")
    assert is_unknown(trace.value("renew.age_years"))
    assert is_unknown(trace.value("renew.life.left_p50_years"))
    assert trace.known("renew.life.p50_years")
    assert is_unknown(trace.value("renew.options.renew-all.added_if_now_years"))


@pytest.mark.works(of=(add_signs,))
def test_signs_that_nobody_measured_are_not_known_and_do_not_stand() -> None:
    trace = built()
    known = [name for name in SIGNS if trace.known(f"renew.signs.{name}.stands")]
    assert known == ["index", "settlement"]  # no tracer was worked out onto this trace
    assert trace.value("renew.signs_standing") == 0.0
    assert trace.value("renew.signs_not_known") == 3.0
    settled = renewed(renew__settlement_m=0.2)
    assert settled.value("renew.signs_standing") == 1.0


@pytest.mark.works(of=(add_options,))
def test_each_option_has_its_cost_and_what_is_not_given_is_not_known() -> None:
    trace = built()
    for option in OPTIONS:
        assert f"renew.options.{option}.cost_usd" in trace
    whole = float(trace.value("renew.options.renew-all.cost_usd"))
    third = float(trace.value("renew.options.renew-inlet-third.cost_usd"))
    assert whole == pytest.approx(0.55 * float(trace.value("cost.subtotal_usd")))
    assert third == pytest.approx(0.45 * whole)
    bare = renewed(example="corbel-farm")
    assert is_unknown(bare.value("renew.options.convert.cost_usd"))
    assert is_unknown(bare.value("renew.options.abandon.cost_usd"))
    assert is_unknown(bare.value("renew.contract_left_years"))


@pytest.mark.works(of=(setting_of,))
def test_boards_of_a_reading_are_those_of_its_season() -> None:
    trace = built()
    assert setting_of(trace, "2029-04-18") == "spring"
    assert setting_of(trace, "2029-01-05") == "winter"
    assert setting_of(trace, "2029-12-20") == "winter"
    assert setting_of(trace, "2029-07-20") == "summer"

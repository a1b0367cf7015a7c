# SPDX-License-Identifier: Apache-2.0
"""How sure a load is: flow counted once, samples that leave much open, truth within the range."""

import numpy as np
import pytest
from scipy.signal import lfilter

from tilewater.basis.errors import NoSolution
from tilewater.chain.monitor import analyse
from tilewater.monitoring.load_uncertainty import (
    Drawn,
    MeasurementErrors,
    Shares,
    drawn_loads,
    removed_standard_error,
    usual_errors,
)
from tilewater.monitoring.sampling_error import loads_between_samples
from tilewater.monitoring.series import DAY, Series, grab_samples

NONE = MeasurementErrors(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.15)
HOUR = 3600.0


def spread(draws):
    low, high = np.quantile(draws, (0.158655, 0.841345))
    return 0.5 * (high - low)


@pytest.mark.by_hand(of=(removed_standard_error,))
def test_flow_counts_once_in_a_difference():
    # A flow that is 10 percent too high makes 40 kg of removal 4 kg too high, not 14.1.
    alone = removed_standard_error(
        100.0, 60.0, flow_error=0.1, concentration_in=0, concentration_out=0
    )
    assert alone == pytest.approx(0.1 * 40.0)
    both = removed_standard_error(
        100.0, 60.0, flow_error=0.1, concentration_in=0.03, concentration_out=0.05
    )
    assert both == pytest.approx(np.sqrt(4.0**2 + 3.0**2 + 3.0**2))


@pytest.mark.law(of=(drawn_loads, removed_standard_error))
def test_draws_agree_with_the_closed_form():
    errors = MeasurementErrors(0.1, 0.1, 0.1, 0.0, 0.0, 0.0, 0.04, 0.15)
    drawn = drawn_loads(
        volumes_m3=(1e4, 1e4),
        inlet_draws=np.full((4000, 2), 100.0),
        removed_draws=np.full(4000, 40.0),
        treated=Shares(0.1, 0.0, 0.0),
        bypass=Shares(0.1, 0.0, 0.0),
        errors=errors,
    )
    by_form = removed_standard_error(
        100.0, 60.0, flow_error=0.1, concentration_in=0.04, concentration_out=0.04
    )
    assert spread(drawn.removed_kg) == pytest.approx(by_form, rel=0.06)
    # Flow falls out of the percent: only the bottles of both places are left in it.
    assert spread(drawn.bed_percent) == pytest.approx(100 * 0.6 * 0.04 * np.sqrt(2), rel=0.06)


@pytest.mark.law(of=(drawn_loads,))
def test_a_laboratory_that_reads_all_too_high_moves_no_percent():
    drawn = drawn_loads(
        volumes_m3=(1e4, 1e4),
        inlet_draws=np.full((4000, 2), 100.0),
        removed_draws=np.full(4000, 40.0),
        treated=Shares(0.0, 0.0, 0.0),
        bypass=Shares(0.0, 0.0, 0.0),
        errors=MeasurementErrors(0, 0, 0, 0, 0, 0.1, 0, 0.15),
    )
    assert spread(drawn.removed_kg) == pytest.approx(0.1 * 40.0, rel=0.06)
    assert spread(drawn.site_percent) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.law(of=(loads_between_samples,))
def test_steady_nitrate_leaves_nothing_open():
    time = HOUR * np.arange(24 * 100)
    flow = 1.0 + 0.5 * np.sin(time / DAY)
    wandering = loads_between_samples(
        DAY * np.arange(5.0, 95.0, 10.0),
        np.full(9, 12.0),
        np.ones(9),
        time_s=time,
        flow=flow,
        carried=(flow * HOUR,),
    )
    draws = wandering.draws(500, 1)[:, 0]
    assert draws == pytest.approx(12.0 * float(np.sum(flow * HOUR)) / 1e3, rel=1e-3)


@pytest.mark.law(of=(loads_between_samples,))
def test_a_bed_that_takes_out_the_same_mass_is_seen_through_its_samples():
    """Sampled at low flow only now and then, straight lines would take the storms for as good."""
    time = HOUR * np.arange(24 * 200)
    flow = 0.5 + 4.0 * (np.sin(time / DAY / 3.0) > 0.9)
    taken = np.minimum(6.0 / flow, 11.0)
    at = DAY * np.arange(3.0, 198.0, 6.0)
    place = np.searchsorted(time, at)
    wandering = loads_between_samples(
        at,
        taken[place],
        flow[place],
        time_s=time,
        flow=flow,
        carried=(flow * HOUR,),
        follows=("", "log", "sharp 1", "soft 1"),
    )
    true = float(np.sum(flow * taken * HOUR)) / 1e3
    by_lines = float(np.sum(flow * np.interp(time, at, taken[place]) * HOUR)) / 1e3
    middle = float(np.median(wandering.draws(800, 1)))
    assert abs(middle / true - 1.0) < 0.5 * abs(by_lines / true - 1.0)


@pytest.mark.works(of=(loads_between_samples,))
def test_three_samples_tell_no_spread():
    three = np.arange(3.0)
    with pytest.raises(NoSolution) as told:
        loads_between_samples(three, three, three, time_s=three, flow=three, carried=(three,))
    assert str(told.value) == (
        "There are 3 samples. The spread of a load needs 4 or more. Take the error of sampling "
        "from experience, or sample more."
    )


@pytest.mark.practice(of=(usual_errors,))
def test_usual_errors_lie_in_the_ranges_that_are_remembered():
    errors = usual_errors()
    assert 0.10 <= errors.flow_treated <= 0.15
    assert 0.03 <= errors.laboratory <= 0.07
    assert 0.02 <= errors.storage <= 0.10
    assert 0.05 <= errors.sampling <= 0.15


@pytest.mark.by_hand(of=(Drawn,))
def test_percents_of_a_draw_are_ratios_of_its_loads():
    one = np.array([10.0])
    drawn = Drawn(one * 100, one * 100, one * 4, one * 6, one)
    assert drawn.site_percent[0] == 100.0 * 10.0 / (40.0 + 60.0)
    assert drawn.bed_percent[0] == 100.0 * 10.0 / 40.0
    assert drawn.bed_out_kg[0] == 40.0 - 10.0
    assert drawn.treated_share[0] == 0.5


def invented(seed, every_days=10.0):
    """A season: storms, nitrate that wanders, a bed that takes out the same mass at any flow."""
    random = np.random.default_rng(seed)
    hours = 24 * 200
    time = HOUR * np.arange(hours)
    rain = (random.random(hours) < 0.008) * random.exponential(0.002, hours)
    flow = lfilter([1.0], [1.0, -np.exp(-1 / 40)], rain) + 2e-4
    treated = np.minimum(flow, 0.003)
    wander = lfilter([1.0], [1.0, -np.exp(-1 / 150)], random.normal(0.0, 0.12, hours))
    came = np.maximum(13.0 + wander - 0.8 * np.log(flow / flow.mean()), 1.0)
    left = np.maximum(came - random.uniform(0.004, 0.012) / treated, 0.1)
    truth = float(np.sum(treated * (came - left)) * HOUR) / 1e3
    errors = usual_errors()
    read = treated * np.exp(errors.flow_treated * random.normal())
    past = (flow - treated) * np.exp(errors.flow_bypass * random.normal())
    at = DAY * np.arange(random.uniform(1, every_days), 199.0, every_days)
    place = np.searchsorted(time, at)
    lab = 1.0 + errors.laboratory_common * random.normal()

    def bottles(name, values):
        own = lab * (1.0 + errors.storage * random.normal())
        noise = 1.0 + errors.laboratory * random.normal(size=at.size)
        return grab_samples(name, at, values[place] * own * noise, detection_mg_per_l=0.2)

    samples = {"inlet": bottles("inlet", came), "outlet": bottles("outlet", left)}
    flows = {"treated": Series("outlet", time, read), "bypass": Series("bypass", time, past)}
    return flows, samples, float(time[-1]), truth


@pytest.mark.law(of=(analyse,))
def test_range_holds_the_truth_about_eight_times_in_ten():
    inside = []
    for seed in range(24):
        flows, samples, end, truth = invented(seed)
        removed = analyse(flows, samples, start_s=0.0, end_s=end).removed_kg
        inside.append(removed.p10 <= truth <= removed.p90)
    # Of 24 with eight in ten, 14 to 24 are seen in 997 tests of 1000.
    assert sum(inside) >= 14


@pytest.mark.law(of=(analyse,))
def test_more_samples_narrow_the_range():
    widths = []
    for every in (28.0, 3.5):
        flows, samples, end, _ = invented(5, every)
        removed = analyse(flows, samples, start_s=0.0, end_s=end, errors=NONE).removed_kg
        widths.append(removed.p90 - removed.p10)
    assert widths[1] < 0.6 * widths[0]


@pytest.mark.works(of=(analyse,))
def test_one_logger_and_six_grab_samples_give_an_answer():
    flows, samples, end, _ = invented(3, 34.0)
    assert samples["inlet"].size == 6
    measured = analyse({"treated": flows["treated"]}, samples, start_s=0.0, end_s=end)
    assert measured.removed_kg.p10 < measured.removed_kg.p50 < measured.removed_kg.p90
    assert measured.closure_error is None
    assert measured.trace.value("monitor.treated_share.value") == 1.0


@pytest.mark.works(of=(analyse,))
def test_every_headline_number_has_a_step():
    flows, samples, end, _ = invented(3)
    measured = analyse(
        flows, samples, start_s=0.0, end_s=end, wet_volume_m3=200.0, chip_volume_m3=260.0
    )
    for key in ("removed_kg.p50", "site_percent.p10", "bed_percent.p90", "treated_share.value"):
        assert measured.trace.steps[f"monitor.{key}"].function
    wet, chips = measured.rate_wet_g_per_m3_day, measured.rate_chips_g_per_m3_day
    assert wet == pytest.approx(chips * 260.0 / 200.0)

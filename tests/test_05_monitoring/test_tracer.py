# SPDX-License-Identifier: Apache-2.0
"""Moments, shares and indices of a tracer curve, its tail, and when it is no test."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.stats import gamma

from tests.digits import printed
from tilewater.basis.errors import NoSolution, OutOfDomain
from tilewater.monitoring.tracer import (
    Tail,
    TracerSummary,
    tracer_summary,
    tracer_summary_with_tail,
    tracer_tail,
)
from tilewater.monitoring.tracer_checks import (
    effective_porosity_by_tracer,
    is_final,
    tracer_findings,
)

Floats = NDArray[np.float64]
HOUR = 3600.0
FINE = 2e-3
"""A trapezoid on 4001 points misses a gamma curve by less."""


def gamma_curve(tanks: float, mean: float, times: float = 8.0, points: int = 4001) -> Floats:
    time = np.linspace(0.0, times * mean, points)
    return np.stack([time, gamma.pdf(time, tanks, scale=mean / tanks)])


def summary_of(curve: Floats, **more: float) -> TracerSummary:
    terms = {"flow": 0.003, "mass_injected": 0.003, "pore_volume": 0.003 * 10 * HOUR} | more
    return tracer_summary(curve[0], curve[1], **terms)


# N, Morrill index, t16/t50, tp/tau, t10/tau of a gamma curve, worked out by ourselves
TANKS = (
    (2, "7.31", ".424", ".50", ".266"),
    (3, "4.83", ".513", ".67", ".367"),
    (4, "3.83", ".570", ".75", ".436"),
    (5, "3.29", ".610", ".80", ".487"),
    (8, "2.53", ".684", ".88", ".582"),
    (10, "2.28", ".714", ".90", ".622"),
    (20, "1.78", ".792", ".95", ".726"),
)


@pytest.mark.by_hand(of=(tracer_summary,))
@pytest.mark.parametrize(("tanks", "morrill", "short", "peak", "early"), TANKS)
def test_indices_of_tanks_in_series(
    tanks: int, morrill: str, short: str, peak: str, early: str
) -> None:
    mean = 10 * HOUR
    found = summary_of(gamma_curve(tanks, mean, points=40001))
    assert printed(morrill) == found.morrill_index
    assert printed(short) == found.short_circuit_index
    assert printed(peak) == found.peak_time / mean
    assert printed(early) == found.t10 / mean


@pytest.mark.by_hand(of=(tracer_summary,))
def test_one_tank_begins_at_its_peak() -> None:
    time = np.linspace(0.0, 12.0, 20001)
    found = tracer_summary(time, np.exp(-time), flow=1.0, mass_injected=1.0, pore_volume=1.0)
    assert printed("21.9") == found.morrill_index
    assert printed(".252") == found.short_circuit_index
    assert printed(".105") == found.t10
    assert found.peak_time == 0.0


@pytest.mark.by_hand(of=(tracer_summary,))
def test_triangle_worked_with_pencil() -> None:
    found = tracer_summary(
        np.array([0.0, 1.0, 2.0, 3.0, 4.0]),
        np.array([0.0, 2.0, 4.0, 2.0, 0.0]),
        flow=0.5,
        mass_injected=5.0,
        pore_volume=1.25,
    )
    # Q C = 0 1 2 1 0, so the sum is 4; t Q C = 0 1 4 3 0, so 8; (t - 2)^2 Q C = 0 1 0 1 0, so 2
    assert found.recovery == pytest.approx(4.0 / 5.0)
    assert found.mean_residence == pytest.approx(8.0 / 4.0)
    assert found.variance == pytest.approx(2.0 / 4.0)
    assert found.tanks == pytest.approx(2.0**2 / 0.5)
    # the cumulative curve is 0 0.5 2 3.5 4: 10 percent, 0.4, is reached at 0.4 / 0.5
    assert found.t10 == pytest.approx(0.8)
    assert found.t50 == pytest.approx(2.0)
    assert found.t90 == pytest.approx(3.0 + 0.1 / 0.5)
    assert found.morrill_index == pytest.approx(3.2 / 0.8)
    # 1.25 m3 at 0.5 m3/s are 2.5 s
    assert found.nominal_residence == pytest.approx(2.5)
    assert found.effective_volume_ratio == pytest.approx(2.0 / 2.5)
    assert found.dead_share == pytest.approx(0.2)
    assert found.hydraulic_efficiency == pytest.approx(0.8 * (1.0 - 1.0 / 8.0))
    assert found.dispersion_number == pytest.approx(0.5 / (2.0 * 4.0))
    assert found.baffle_factor == pytest.approx(0.8 / 2.5)


@pytest.mark.oracle("scipy.stats.gamma", of=(tracer_summary,))
@settings(max_examples=30)
@given(tanks=st.floats(1.5, 25.0), mean=st.floats(1.0, 60.0))
def test_moments_and_shares_of_a_gamma_curve(tanks: float, mean: float) -> None:
    curve = gamma_curve(tanks, mean * HOUR, times=20.0)
    found, exact = summary_of(curve), gamma(tanks, scale=mean * HOUR / tanks)
    assert found.mean_residence == pytest.approx(exact.mean(), rel=FINE)
    assert found.variance == pytest.approx(exact.var(), rel=5 * FINE)
    assert found.tanks == pytest.approx(tanks, rel=5 * FINE)
    for share, time in ((0.1, found.t10), (0.5, found.t50), (0.9, found.t90)):
        assert time == pytest.approx(exact.ppf(share), rel=5 * FINE)


@pytest.mark.oracle("scipy.stats.gamma", of=(tracer_summary_with_tail, tracer_tail))
@settings(max_examples=30)
@given(decay=st.floats(0.05, 1.0), end=st.floats(1.0, 4.0))
def test_tail_gives_back_what_was_cut_off_an_exponential(decay: float, end: float) -> None:
    whole = gamma(1.0, scale=1.0 / decay)
    time = np.linspace(0.0, end / decay, 2001)
    tail = tracer_tail(time, whole.pdf(time))
    found = tracer_summary_with_tail(
        time, whole.pdf(time), flow=1.0, mass_injected=1.0, pore_volume=1.0 / decay, tail=tail
    )
    assert tail.decay == pytest.approx(decay, rel=1e-6)
    assert found.recovery == pytest.approx(1.0, rel=FINE)
    assert found.mean_residence == pytest.approx(whole.mean(), rel=FINE)
    assert found.variance == pytest.approx(whole.var(), rel=5 * FINE)
    assert found.t90 == pytest.approx(whole.ppf(0.9), rel=FINE)


@pytest.mark.law(of=(tracer_summary,))
@settings(max_examples=30)
@given(
    tanks=st.floats(1.2, 15.0),
    stretch=st.floats(0.1, 20.0),
    times=st.floats(0.2, 5.0),
)
def test_time_stretches_and_mass_scales(tanks: float, stretch: float, times: float) -> None:
    curve = gamma_curve(tanks, 10 * HOUR, points=301)
    plain = summary_of(curve)
    slow = summary_of(np.stack([curve[0] * stretch, curve[1] * times]))
    assert slow.mean_residence == pytest.approx(plain.mean_residence * stretch)
    assert slow.variance == pytest.approx(plain.variance * stretch**2)
    assert slow.recovery == pytest.approx(plain.recovery * stretch * times)
    for same in ("tanks", "morrill_index", "short_circuit_index", "dispersion_number"):
        assert getattr(slow, same) == pytest.approx(getattr(plain, same))


@pytest.mark.law(of=(tracer_summary,))
@settings(max_examples=30)
@given(tanks=st.floats(1.2, 15.0), late=st.floats(0.0, 50.0))
def test_a_pipe_before_the_bed_shifts_the_curve_and_not_its_spread(
    tanks: float, late: float
) -> None:
    curve = gamma_curve(tanks, 10 * HOUR, points=301)
    plain = summary_of(curve)
    shifted = summary_of(np.stack([curve[0] + late * HOUR, curve[1]]))
    assert shifted.mean_residence == pytest.approx(plain.mean_residence + late * HOUR)
    assert shifted.variance == pytest.approx(plain.variance)
    assert shifted.t50 == pytest.approx(plain.t50 + late * HOUR)
    assert shifted.recovery == pytest.approx(plain.recovery)


@pytest.mark.law(of=(tracer_summary,))
@given(
    tops=st.lists(st.floats(0.0, 5.0), min_size=4, max_size=30).filter(lambda t: max(t[1:]) > 0.1),
    flow=st.floats(1e-4, 0.02),
)
def test_shares_are_in_order_and_an_even_flow_may_be_written_either_way(
    tops: list[float], flow: float
) -> None:
    time = np.arange(float(len(tops)))
    one = {"mass_injected": 1.0, "pore_volume": 3.0}
    scalar = tracer_summary(time, np.array(tops), flow=flow, **one)
    array = tracer_summary(time, np.array(tops), flow=np.full(time.size, flow), **one)
    assert scalar.t10 <= scalar.t16 <= scalar.t50 <= scalar.t84 <= scalar.t90
    assert scalar.mean_residence == pytest.approx(array.mean_residence)
    assert scalar.effective_volume_by_volume == pytest.approx(scalar.effective_volume_ratio)
    assert scalar.variance >= 0.0
    assert time[0] <= scalar.mean_residence <= time[-1]


@pytest.mark.law(of=(tracer_summary, tracer_summary_with_tail))
@settings(max_examples=30)
@given(tanks=st.floats(1.2, 8.0), cut=st.floats(1.2, 3.0))
def test_a_tail_only_adds_tracer_and_time(tanks: float, cut: float) -> None:
    curve = gamma_curve(tanks, 10 * HOUR, times=cut, points=201)
    terms = {"flow": 0.003, "mass_injected": 0.003, "pore_volume": 108.0}
    tail = tracer_tail(curve[0], curve[1])
    short = tracer_summary(curve[0], curve[1], **terms)
    whole = tracer_summary_with_tail(curve[0], curve[1], tail=tail, **terms)
    assert whole.recovery > short.recovery
    assert whole.mean_residence > short.mean_residence
    assert whole.t90 >= short.t90


@pytest.mark.law(of=(tracer_summary,))
def test_flow_that_rises_counts_in_volume() -> None:
    # a plug: the same volume leaves before it, whatever the flow does
    time = np.linspace(0.0, 10.0, 10001)
    flow = 1.0 + 0.3 * time
    volume = time + 0.15 * time**2
    plug = np.exp(-0.5 * ((volume - 10.0) / 0.05) ** 2)
    found = tracer_summary(time, plug, flow=flow, mass_injected=1.0, pore_volume=10.0)
    assert found.effective_volume_by_volume == pytest.approx(1.0, rel=FINE)
    assert [f.code for f in tracer_findings(found, "t") if "unsteady" in f.code] == [
        "tracer-flow-unsteady"
    ]


@pytest.mark.by_hand(of=(effective_porosity_by_tracer,))
def test_porosity_of_the_wet_media() -> None:
    # 3 L/s for 10 h are 108 m3 of water in 200 m3 of media
    assert effective_porosity_by_tracer(36000.0, 0.003, 200.0) == pytest.approx(108.0 / 200.0)


def summary_like(**changed: float) -> TracerSummary:
    from dataclasses import replace

    return replace(summary_of(gamma_curve(4.0, 8 * HOUR)), **changed)


@pytest.mark.practice(of=(tracer_findings, is_final))
def test_too_much_tracer_says_to_check_flow_or_mass() -> None:
    found = summary_like(recovery=1.18)
    told = tracer_findings(found, "may")
    assert [each.message for each in told] == [
        "118% of the tracer was found. More than 110% cannot be: check flow or injected mass, "
        "and the background. No efficiency of this test is final."
    ]
    assert not is_final(found)


@pytest.mark.practice(of=(tracer_findings, is_final))
def test_water_that_stays_longer_than_it_can_says_what_is_wrong() -> None:
    found = summary_like(effective_volume_ratio=1.24, effective_volume_by_volume=1.24)
    assert [each.code for each in tracer_findings(found, "may")] == ["tracer-volume-high"]
    assert "volume, porosity or flow is wrong" in tracer_findings(found, "may")[0].message
    assert not is_final(found)


@pytest.mark.practice(of=(tracer_findings, is_final))
def test_a_curve_that_has_not_returned_is_told_and_a_good_one_is_not() -> None:
    good = summary_like()
    assert tracer_findings(good, "may") == ()
    assert is_final(good)
    told = tracer_findings(summary_like(last_share=0.12, recovery=0.7), "may")
    assert [each.code for each in told] == ["tracer-recovery-low", "tracer-not-returned"]


@pytest.mark.works(of=(tracer_summary, tracer_tail))
def test_what_is_no_curve_is_refused() -> None:
    time, found = np.array([0.0, 1.0, 2.0]), np.array([0.0, 1.0, 0.0])
    terms = {"flow": 1.0, "mass_injected": 1.0, "pore_volume": 1.0}
    with pytest.raises(OutOfDomain, match="times of the tracer do not ascend"):
        tracer_summary(time[::-1], found, **terms)
    with pytest.raises(OutOfDomain, match="No tracer was found"):
        tracer_summary(time, 0.0 * found, **terms)
    with pytest.raises(OutOfDomain, match="takes three or more"):
        tracer_summary(time[:2], found[:2], **terms)
    with pytest.raises(OutOfDomain, match="mass_injected is 0 kg"):
        tracer_summary(time, found, flow=1.0, mass_injected=0.0, pore_volume=1.0)
    with pytest.raises(NoSolution, match="1 samples lie after the peak"):
        tracer_tail(time, np.array([0.0, 1.0, 0.5]))
    with pytest.raises(NoSolution, match="do not fall"):
        tracer_tail(np.arange(6.0), np.array([0.0, 5.0, 1.0, 1.0, 1.0, 1.0]))
    assert Tail(1.0, 1.0, 4).samples == 4

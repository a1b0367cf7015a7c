# SPDX-License-Identifier: Apache-2.0
"""The rough answer: its closed forms, its bands, what would stop it."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.chain import rough_bed
from tilewater.chain import rough_parts as parts
from tilewater.chain.rough import BANDS, RANGES, Rough, RoughAsk, rough_answer
from tilewater.chain.rough_stops import five_shots, three_stops
from tilewater.hydraulics.bed_flow import bed_flow_darcy

ACRE, FOOT, INCH = 4046.8564224, 0.3048, 0.0254
NOT_SAID = Unknown("not said")
CORBEL = RoughAsk(
    area=62 * ACRE,
    main_diameter=10 * INCH,
    slope=0.0018,
    ditch_below=1.35 * FOOT,
    strip_length=190 * FOOT,
    strip_width=82 * FOOT,
    nitrate_mg_per_l=14.2,
)


def band(rough: Rough, key: str) -> list[float]:
    return [float(rough.trace.value(f"rough.{key}.{p}")) for p in ("p10", "p50", "p90")]


@pytest.mark.oracle("bed_flow_darcy of this project, itself checked", of=(rough_bed.bed_width,))
@given(
    st.floats(0.001, 0.01), st.floats(20, 500), st.floats(0.8, 1.4), st.floats(0.1, 0.5),
    st.floats(0.01, 0.1),
)  # fmt: skip
def test_length_and_width_carry_the_flow_and_hold_the_volume(
    flow: float, volume: float, depth: float, drop: float, conductivity: float
) -> None:
    length = rough_bed.bed_length(flow, volume, depth, drop, conductivity)
    width = rough_bed.bed_width(flow, length, depth, drop, conductivity, 1.0, -1e9)
    low = depth - drop
    mean = 2 / 3 * (depth**3 - low**3) / (depth**2 - low**2)
    assert length * (width * mean + mean**2) == pytest.approx(volume)
    if width > 0:
        assert bed_flow_darcy(
            depth, low, length=length, width=width, side_slope=1.0, conductivity=conductivity
        ) == pytest.approx(flow)


@pytest.mark.by_hand(
    of=(rough_bed.bed_length, rough_bed.chips_volume, rough_bed.volume_for_reduction)
)
def test_bed_by_hand() -> None:
    mean = 2 / 3 * (1.0**3 - 0.5**3) / (1.0**2 - 0.5**2)
    by_hand = (100 * 0.04 * 0.75 / (2 * 0.004 * mean)) ** 0.5
    assert rough_bed.bed_length(0.004, 100.0, 1.0, 0.5, 0.04) == pytest.approx(by_hand)
    # 96.5 by 30 ft, 1:1, 3.5 ft: areas 2895, 3255, and 3838.5 at the top make 434.8 CY.
    volume = rough_bed.chips_volume(96.5 * FOOT, 30 * FOOT, 3.5 * FOOT, 1.0)
    assert volume / (27 * FOOT**3) == pytest.approx(434.8, abs=0.05)
    assert rough_bed.volume_for_reduction(0.3, 10.0, 20000.0, 200.0, 5.0) == pytest.approx(
        0.3 * 10 * 20000 / (5 * 200)
    )


@pytest.mark.by_hand(of=(parts.share_caught,))
@pytest.mark.parametrize(
    ("mm_per_day", "median"), [(0.95, 0.32), (1.27, 0.38), (1.43, 0.40), (1.90, 0.47), (2.54, 0.55)]
)
def test_caught_share_runs_through_the_medians_of_the_measured_plots(
    mm_per_day: float, median: float
) -> None:
    flow = mm_per_day * parts.MM_PER_DAY * 1e6
    assert parts.share_caught(flow, 1e6, RANGES["caught-share"].mid) == pytest.approx(
        median, abs=0.02
    )


@pytest.mark.law(of=(rough_answer,))
def test_bands_rise_and_hold_the_hand_figures_of_the_example() -> None:
    rough = rough_answer(CORBEL)
    for key in BANDS:
        low, middle, high = band(rough, key)
        assert low <= middle <= high, key
    low, _, high = band(rough, "main_full_m3_s")
    assert low < 0.930 * FOOT**3 < high
    low, _, high = band(rough, "load_kg")
    assert low < 2095 * 0.45359237 < high
    low, _, high = band(rough, "bed.chips_m3")
    assert low < 434.8 * 27 * FOOT**3 < high


@pytest.mark.law(of=(rough_answer,))
def test_the_same_call_gets_the_same_answer() -> None:
    assert band(rough_answer(CORBEL), "bed.cost_usd") == band(rough_answer(CORBEL), "bed.cost_usd")


@pytest.mark.law(of=(rough_answer,))
@pytest.mark.parametrize("name", ["slope", "nitrate_mg_per_l"])
def test_what_was_not_said_never_makes_the_load_narrower(name: str) -> None:
    said = rough_answer(CORBEL)
    unsaid = rough_answer(dataclasses.replace(CORBEL, **{name: NOT_SAID}))
    key = "main_full_m3_s" if name == "slope" else "load_kg"

    def spread(rough: Rough) -> float:
        low, middle, high = band(rough, key)
        return (high - low) / middle

    assert spread(unsaid) > spread(said)


@pytest.mark.works(of=(rough_answer,))
def test_no_strip_leaves_the_buffer_unknown_and_the_bed_known() -> None:
    rough = rough_answer(dataclasses.replace(CORBEL, strip_length=NOT_SAID, strip_width=NOT_SAID))
    assert is_unknown(rough.trace.value("rough.bed.fits_strip"))
    assert is_unknown(rough.trace.value("rough.buffer.removed_kg.p50"))
    assert band(rough, "bed.chips_m3")[0] > 0
    assert "strip-unknown" in {stop.name for stop in rough.stops}


@pytest.mark.practice(of=(three_stops, five_shots))
def test_a_drowned_outlet_and_a_small_strip_are_named_first() -> None:
    drowned = rough_answer(dataclasses.replace(CORBEL, ditch_below=-0.1))
    assert drowned.stops[0].name == "drowned-outlet"
    small = rough_answer(dataclasses.replace(CORBEL, strip_length=40 * FOOT, strip_width=30 * FOOT))
    assert small.stops[0].name == "strip"
    assert len(small.stops) == 3
    assert len(small.shots) == 5


@pytest.mark.works(of=(parts.pool_reach, parts.share_of))
def test_meaningless_numbers_are_refused() -> None:
    with pytest.raises(OutOfDomain, match="slope is 0 m/m"):
        parts.pool_reach(1.0, 0.0)
    with pytest.raises(OutOfDomain, match="Check acres"):
        parts.share_of(np.array([1.0]), np.array([0.0]))


@pytest.mark.by_hand(
    of=(
        rough_bed.share_that_fits,
        parts.head_over_barrier,
        parts.depth_below_ground,
        parts.quantile,
        parts.share_above,
        parts.drawn,
        parts.times,
        parts.lesser,
        parts.greater,
    )
)
def test_small_arithmetic() -> None:
    length, width = np.array([20.0, 50.0]), np.array([6.0, 10.0])
    assert rough_bed.share_that_fits(length, width, 58.0, 25.0, 4.5) == 0.5
    assert rough_bed.share_that_fits(length, width, 25.0, 58.0, 4.5) == 0.5
    assert list(parts.head_over_barrier(np.array([2.0, 3.0]), 2.5)) == [0.0, 0.5]
    assert parts.depth_below_ground(1.4, -0.2) == pytest.approx(1.2)
    assert parts.quantile(np.array([1.0, 2.0, 4.0]), 0.25) == 1.5
    assert parts.share_above(np.array([1.0, 2.0, 3.0, 4.0]), 2.0) == 0.75
    assert parts.drawn(RANGES["roughness"], 8.0, 1.0).shape == (8,)
    assert parts.times(2.0, 3.0) == 6.0
    assert (parts.lesser(1.0, 2.0), parts.greater(1.0, 2.0)) == (1.0, 2.0)

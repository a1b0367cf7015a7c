# SPDX-License-Identifier: Apache-2.0
"""The bed between its boards, against the arithmetic of Corbel Farm and by law."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.digits import printed
from tests.jobs import CFS, FOOT, INCH
from tilewater.hydraulics.media import bed_wet_volume, drain_down_time_boussinesq
from tilewater.hydraulics.media_conductivity import (
    conductivity_at_age,
    conductivity_at_temperature,
    forchheimer_inertia_ward,
)
from tilewater.hydraulics.pipes import pipe_flow_full_manning
from tilewater.hydraulics.weirs import weir_flow_rectangular_francis
from tilewater.practices.bed.capacity import (
    BedShape,
    Media,
    OutletBoards,
    bed_flow_over_boards,
    bypass_head_in_balance,
    dead_pool,
    downstream_depth,
    flow_length,
    mean_width,
    retention_hours,
    share_of_flow,
)
from tilewater.practices.bed.life import LifeTask, permeability_years

CREST_WIDTH = 1.17 * FOOT
SHAPE = BedShape(100 * FOOT, 30 * FOOT, 1.0, 3.5 * FOOT)
BOARDS = OutletBoards(2.0 * FOOT, CREST_WIDTH)
MAIN_FULL = float(pipe_flow_full_manning(10 * INCH, 0.0018, n=0.013))


def media(age: float, temperature: float) -> Media:
    """Media of Corbel Farm: 9.5 cm/s new, 4.2 at 9.25 years, Ward 0.55."""
    aged = float(conductivity_at_age(0.095, age, conductivity_aged=0.042, aged_years=9.25))
    return Media(
        float(conductivity_at_temperature(aged, temperature)),
        float(forchheimer_inertia_ward(aged, ward_coefficient=0.55)),
    )


def wet_volume(age: float, flow: float) -> float:
    there = media(age, 20)
    volume = bed_wet_volume(
        3.5 * FOOT,
        downstream_depth(flow, BOARDS),
        length=SHAPE.length,
        width=SHAPE.width,
        side_slope=1.0,
        conductivity=there.conductivity,
        inertia=there.inertia,
        media_depth=3.5 * FOOT,
    )
    return float(volume)


@pytest.mark.by_hand(of=(flow_length, mean_width))
def test_flow_length_and_mean_width_of_corbel_farm():
    assert printed("100.0") == flow_length(96.5 * FOOT, 1.0, 3.5 * FOOT) / FOOT
    assert printed("33.5") == mean_width(30 * FOOT, 1.0, 3.5 * FOOT) / FOOT


@pytest.mark.by_hand(of=(bed_flow_over_boards, share_of_flow, downstream_depth))
def test_criterion_line_of_corbel_farm():
    flow = bed_flow_over_boards(3.5 * FOOT, SHAPE, media(10, 20), BOARDS)
    assert printed("3.93") == 100 * media(10, 20).conductivity
    assert printed("0.1614") == flow / CFS
    assert printed("17.4") == 100 * share_of_flow(flow, MAIN_FULL)
    head = downstream_depth(flow, BOARDS) / FOOT - 2.0
    assert printed("0.12") == head == pytest.approx((0.1614 / (3.33 * 1.17)) ** (2 / 3), abs=1e-4)


@pytest.mark.by_hand(of=(bypass_head_in_balance, bed_flow_over_boards, share_of_flow))
def test_spring_line_of_corbel_farm():
    cold = media(10, 8)
    head = bypass_head_in_balance(MAIN_FULL, 3.5 * FOOT, CREST_WIDTH, SHAPE, cold, BOARDS)
    assert printed("0.341") == head / FOOT
    flow = bed_flow_over_boards(3.5 * FOOT + head, SHAPE, cold, BOARDS)
    assert printed("0.1547") == flow / CFS
    assert printed("16.6") == 100 * share_of_flow(flow, MAIN_FULL)
    over = 3.33 * 1.17 * (head / FOOT) ** 1.5
    assert printed("0.930") == flow / CFS + over


@pytest.mark.by_hand(of=(bed_flow_over_boards, share_of_flow))
def test_new_media_take_38_percent():
    flow = bed_flow_over_boards(3.5 * FOOT, SHAPE, media(0, 20), BOARDS)
    assert printed("0.357") == flow / CFS
    assert printed("38") == 100 * share_of_flow(flow, MAIN_FULL)


@pytest.mark.by_hand(of=(retention_hours, bed_flow_over_boards))
def test_wet_volume_and_time_in_the_bed():
    flows = {
        age: bed_flow_over_boards(3.5 * FOOT, SHAPE, media(age, 20), BOARDS) for age in (0, 10)
    }
    assert printed("9,584") == wet_volume(0, flows[0]) / FOOT**3
    assert printed("9,457") == wet_volume(10, flows[10]) / FOOT**3
    for porosity, hours in ((0.45, "3.4"), (0.61, "4.6"), (0.70, "5.2")):
        found = retention_hours(wet_volume(0, flows[0]), porosity, flows[0])
        assert printed(hours) == found == pytest.approx(porosity * 9584 / 0.357 / 3600, rel=2e-3)


@pytest.mark.by_hand(of=(drain_down_time_boussinesq,))
@pytest.mark.parametrize(
    ("temperature", "hours"), [(20, ("2.5", "22", "47")), (8, ("3.4", "31", "65"))]
)
def test_bed_of_corbel_farm_drains_in_hours(temperature, hours):
    for share, time in zip((0.5, 0.9, 0.95), hours, strict=True):
        seconds = drain_down_time_boussinesq(
            share,
            depth=3.5 * FOOT,
            length=100 * FOOT,
            conductivity=media(10, temperature).conductivity,
            drainable_porosity=0.45,
        )
        assert printed(time) == seconds / 3600


@pytest.mark.by_hand(of=(dead_pool,))
def test_a_return_into_the_main_would_leave_a_dead_pool():
    assert printed("0.29") == dead_pool(1180.99 * FOOT, 1180.70 * FOOT) / FOOT
    assert dead_pool(1180.61 * FOOT, 1180.70 * FOOT) == 0


@pytest.mark.law(of=(permeability_years, bed_flow_over_boards))
@given(share=st.floats(0.05, 0.35))
def test_bed_takes_just_its_share_at_the_end_of_its_life(share):
    task = LifeTask(SHAPE, BOARDS, 3.5 * FOOT, 0.095, 0.042, 9.25, 0.55)
    age = permeability_years(task, MAIN_FULL, share)
    flow = bed_flow_over_boards(3.5 * FOOT, SHAPE, media(age, 20), BOARDS)
    assert flow == pytest.approx(share * MAIN_FULL, rel=1e-4)


shapes = st.builds(
    BedShape,
    length=st.floats(5, 60),
    width=st.floats(1, 15),
    side_slope=st.floats(0, 2),
    media_depth=st.floats(0.5, 1.6),
)
conductivities = st.floats(0.005, 0.3)
inertias = st.floats(0, 3000)
crests = st.floats(0, 1)


@pytest.mark.law(of=(bed_flow_over_boards,))
@given(
    shape=shapes, k=conductivities, inertia=inertias, crest=crests,
    depth=st.floats(0, 1.6), times=st.floats(1, 10),
)  # fmt: skip
def test_higher_conductivity_never_lowers_the_flow(shape, k, inertia, crest, depth, times):
    boards = OutletBoards(crest, 0.36)
    slow = bed_flow_over_boards(depth, shape, Media(k, inertia), boards)
    fast = bed_flow_over_boards(depth, shape, Media(k * times, inertia), boards)
    assert fast >= slow * (1 - 1e-6) - 1e-9


@pytest.mark.law(of=(bed_flow_over_boards, downstream_depth))
@given(shape=shapes, k=conductivities, inertia=inertias, crest=crests, depth=st.floats(0, 1.6))
def test_bed_and_outlet_boards_pass_the_same_flow(shape, k, inertia, crest, depth):
    boards = OutletBoards(crest, 0.36)
    flow = bed_flow_over_boards(depth, shape, Media(k, inertia), boards)
    if depth <= crest:
        assert flow == 0
        return
    head = downstream_depth(flow, boards) - crest
    over = weir_flow_rectangular_francis(head, crest_width=0.36, contractions=0)
    assert flow == pytest.approx(over)
    assert 0 <= head < depth - crest


@pytest.mark.law(of=(bed_flow_over_boards,))
@settings(max_examples=30, deadline=None)
@given(shape=shapes, k=conductivities, inertia=inertias, crest=st.floats(0, 0.8))
def test_a_crest_swept_by_the_millimetre_shows_no_jump_in_the_flow(shape, k, inertia, crest):
    """By Darcy no depth adds more than K W (d / L) a millimetre; inertia only takes away."""
    boards = OutletBoards(crest, 0.36)
    depths = [crest - 0.02 + i / 1000 for i in range(-60, 900, 8) for i in (i, i + 1)]
    flows = [bed_flow_over_boards(max(d, 0), shape, Media(k, inertia), boards) for d in depths]
    widest = shape.width + 2 * shape.side_slope * shape.media_depth
    most = k * widest * max(depths) / shape.length * 0.001
    for low, high in list(pairwise(flows))[::2]:
        assert -1e-8 <= high - low <= 2 * most + 1e-8


@pytest.mark.law(of=(bypass_head_in_balance, bed_flow_over_boards))
@settings(max_examples=25, deadline=None)
@given(shape=shapes, k=conductivities, inertia=inertias, inflow=st.floats(0.001, 0.2))
def test_head_over_the_bypass_falls_no_faster_than_its_crest_rises(shape, k, inertia, inflow):
    there, boards = Media(k, inertia), OutletBoards(0.3, 0.36)
    heads = [
        bypass_head_in_balance(inflow, crest / 1000, 0.36, shape, there, boards)
        for crest in range(295, 335, 2)
    ]
    for low, high in pairwise(heads):
        assert -0.002 - 1e-6 <= high - low <= 1e-6
    flow = bed_flow_over_boards(0.333 + heads[-1], shape, there, boards)
    over = weir_flow_rectangular_francis(heads[-1], crest_width=0.36, contractions=0)
    if heads[-1] > 0:
        assert flow + over == pytest.approx(inflow, rel=1e-4)
    else:
        assert flow >= inflow * (1 - 1e-6)

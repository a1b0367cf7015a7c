# SPDX-License-Identifier: Apache-2.0
"""The bed between its boards, against the arithmetic of Corbel Farm and by law.

The pipes here take no head, as in the arithmetic; `test_system` has pipes that do.
"""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.digits import printed
from tests.jobs import CFS, FOOT, INCH
from tests.paths import FREE, WIDE, sharp, without_losses
from tilewater.hydraulics.media import drain_down_time_boussinesq
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
    dead_pool,
    flow_length,
    mean_width,
    retention_hours,
    share_of_flow,
)
from tilewater.practices.bed.life import LifeTask, permeability_years
from tilewater.practices.bed.system import (
    bed_flow_at_diversion,
    levels_along_bed,
    split_in_balance,
    wet_media_volume,
)

CREST_WIDTH = 1.17 * FOOT
CREST = 3.5 * FOOT
SHAPE = BedShape(100 * FOOT, 30 * FOOT, 1.0, 3.5 * FOOT)
PATH = without_losses(2.0 * FOOT, CREST_WIDTH)
MAIN_FULL = float(pipe_flow_full_manning(10 * INCH, 0.0018, n=0.013))


def media(age: float, temperature: float) -> Media:
    """Media of Corbel Farm: 9.5 cm/s new, 4.2 at 9.25 years, Ward 0.55."""
    aged = float(conductivity_at_age(0.095, age, conductivity_aged=0.042, aged_years=9.25))
    return Media(
        float(conductivity_at_temperature(aged, temperature)),
        float(forchheimer_inertia_ward(aged, ward_coefficient=0.55)),
    )


def flow_at_crest(there: Media) -> float:
    return bed_flow_at_diversion(CREST, FREE, PATH, SHAPE, there)


@pytest.mark.by_hand(of=(flow_length, mean_width))
def test_flow_length_and_mean_width_of_corbel_farm():
    assert printed("100.0") == flow_length(96.5 * FOOT, 1.0, 3.5 * FOOT) / FOOT
    assert printed("33.5") == mean_width(30 * FOOT, 1.0, 3.5 * FOOT) / FOOT


@pytest.mark.by_hand(of=(bed_flow_at_diversion, share_of_flow, levels_along_bed))
def test_criterion_line_of_corbel_farm():
    flow = flow_at_crest(media(10, 20))
    assert printed("3.93") == 100 * media(10, 20).conductivity
    assert printed("0.1614") == flow / CFS
    assert printed("17.4") == 100 * share_of_flow(flow, MAIN_FULL)
    levels = levels_along_bed(flow, FREE, PATH, SHAPE, media(10, 20))
    head = levels.outlet_box / FOOT - 2.0
    assert printed("0.12") == head == pytest.approx((0.1614 / (3.33 * 1.17)) ** (2 / 3), abs=1e-4)
    assert levels.outlet_end == pytest.approx(levels.outlet_box, abs=1e-6)
    assert levels.diversion == pytest.approx(levels.inlet_end, abs=1e-6)


@pytest.mark.by_hand(of=(split_in_balance, share_of_flow))
def test_spring_line_of_corbel_farm():
    split = split_in_balance(
        MAIN_FULL, FREE, PATH, SHAPE, media(10, 8), WIDE, sharp(CREST, CREST_WIDTH)
    )
    head = (split.level - CREST) / FOOT
    assert printed("0.341") == head
    assert printed("0.1547") == split.bed_flow / CFS
    assert printed("16.6") == 100 * share_of_flow(split.bed_flow, MAIN_FULL)
    over = 3.33 * 1.17 * head**1.5
    assert printed("0.930") == split.bed_flow / CFS + over
    assert over == pytest.approx(split.bypass_flow / CFS, rel=1e-3)


@pytest.mark.by_hand(of=(bed_flow_at_diversion, share_of_flow))
def test_new_media_take_38_percent():
    flow = flow_at_crest(media(0, 20))
    assert printed("0.357") == flow / CFS
    assert printed("38.4") == 100 * share_of_flow(flow, MAIN_FULL)


@pytest.mark.by_hand(of=(retention_hours, wet_media_volume, bed_flow_at_diversion))
def test_wet_volume_and_time_in_the_bed():
    new, aged = (
        wet_media_volume(flow_at_crest(there), FREE, PATH, SHAPE, there)
        for there in (media(0, 20), media(10, 20))
    )
    assert printed("9,584") == new / FOOT**3
    assert printed("9,457") == aged / FOOT**3
    for porosity, hours in ((0.45, "3.4"), (0.61, "4.6"), (0.70, "5.2")):
        found = retention_hours(new, porosity, flow_at_crest(media(0, 20)))
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


@pytest.mark.law(of=(permeability_years, bed_flow_at_diversion))
@given(share=st.floats(0.05, 0.35))
def test_bed_takes_just_its_share_at_the_end_of_its_life(share):
    task = LifeTask(SHAPE, PATH, CREST, FREE, 0.095, 0.042, 9.25, 0.55)
    age = permeability_years(task, MAIN_FULL, share)
    assert 0 < age < 60
    assert flow_at_crest(media(age, 20)) == pytest.approx(share * MAIN_FULL, rel=1e-4)


@pytest.mark.law(of=(permeability_years,))
def test_life_is_nothing_where_new_media_fall_short_and_is_read_no_further_than_60_years():
    task = LifeTask(SHAPE, PATH, CREST, FREE, 0.095, 0.042, 9.25, 0.55)
    assert permeability_years(task, MAIN_FULL, 0.39) == 0  # new media take 0.384
    assert permeability_years(task, MAIN_FULL, 1e-4) == 60
    steady = LifeTask(SHAPE, PATH, CREST, FREE, 0.095, 0.0949, 9.25, 0.55)
    assert permeability_years(steady, MAIN_FULL, 0.38) == 60


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


@pytest.mark.law(of=(bed_flow_at_diversion,))
@given(
    shape=shapes, k=conductivities, inertia=inertias, crest=crests,
    depth=st.floats(0, 1.6), times=st.floats(1, 10),
)  # fmt: skip
def test_higher_conductivity_never_lowers_the_flow(shape, k, inertia, crest, depth, times):
    path = without_losses(crest, 0.36)
    slow, fast = (
        bed_flow_at_diversion(depth, FREE, path, shape, Media(some, inertia))
        for some in (k, k * times)
    )
    assert fast >= slow * (1 - 1e-6) - 1e-9


@pytest.mark.law(of=(bed_flow_at_diversion, levels_along_bed))
@given(shape=shapes, k=conductivities, inertia=inertias, crest=crests, depth=st.floats(0, 1.6))
def test_bed_and_outlet_boards_pass_the_same_flow(shape, k, inertia, crest, depth):
    path, there = without_losses(crest, 0.36), Media(k, inertia)
    flow = bed_flow_at_diversion(depth, FREE, path, shape, there)
    if depth <= crest:
        assert flow == 0
        return
    levels = levels_along_bed(flow, FREE, path, shape, there)
    head = levels.outlet_box - crest
    over = weir_flow_rectangular_francis(head, crest_width=0.36, contractions=0)
    assert flow == pytest.approx(over)
    assert 0 <= head < depth - crest
    assert levels.diversion == pytest.approx(depth, abs=1e-5)


@pytest.mark.law(of=(bed_flow_at_diversion,))
@settings(max_examples=30, deadline=None)
@given(shape=shapes, k=conductivities, inertia=inertias, crest=st.floats(0, 0.8))
def test_a_crest_swept_by_the_millimetre_shows_no_jump_in_the_flow(shape, k, inertia, crest):
    """By Darcy no depth adds more than K W (d / L) a millimetre; inertia only takes away."""
    path, there = without_losses(crest, 0.36), Media(k, inertia)
    depths = [crest - 0.02 + i / 1000 for i in range(-60, 900, 8) for i in (i, i + 1)]
    flows = [bed_flow_at_diversion(max(d, 0), FREE, path, shape, there) for d in depths]
    widest = shape.width + 2 * shape.side_slope * shape.media_depth
    most = k * widest * max(depths) / shape.length * 0.001
    for low, high in list(pairwise(flows))[::2]:
        assert -1e-8 <= high - low <= 2 * most + 1e-8


@pytest.mark.law(of=(split_in_balance,))
@settings(max_examples=25, deadline=None)
@given(shape=shapes, k=conductivities, inertia=inertias, inflow=st.floats(0.001, 0.2))
def test_water_over_the_bypass_rises_with_its_crest_and_no_faster(shape, k, inertia, inflow):
    there, path = Media(k, inertia), without_losses(0.3, 0.36)
    crests = [crest / 1000 for crest in range(295, 335, 2)]
    splits = [
        split_in_balance(inflow, FREE, path, shape, there, WIDE, sharp(crest, 0.36))
        for crest in crests
    ]
    for low, high in pairwise(splits):
        assert -1e-7 <= high.level - low.level <= 0.002 + 1e-7
    last, head = splits[-1], max(0.0, splits[-1].level - crests[-1])
    over = weir_flow_rectangular_francis(head, crest_width=0.36, contractions=0)
    assert last.bed_flow + over == pytest.approx(inflow, rel=1e-4)

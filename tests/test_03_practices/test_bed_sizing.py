# SPDX-License-Identifier: Apache-2.0
"""The smallest bed, against every size of a small grid."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.jobs import FOOT
from tests.paths import FREE, narrow, without_losses
from tilewater.basis.errors import NoSolution
from tilewater.practices.bed.capacity import Media
from tilewater.practices.bed.sizing import (
    NO_REDUCTION,
    Reduction,
    Room,
    Size,
    SizingTask,
    flow_of,
    media_volume,
    retention_of,
    smallest_bed,
)

SIDE = 14  # ft, longest and widest bed of the grid


def room(side_slope: float, media_depth: float) -> Room:
    """Ground for beds of up to 14 by 14 ft, cut with no margin."""
    return Room(SIDE * FOOT, SIDE * FOOT, side_slope, media_depth, 0.0)


def passes(task: SizingTask, ground: Room, size: Size) -> bool:
    """Whether a size takes its share, holds the water and can take out what is asked."""
    flow = flow_of(task, ground, size)
    if flow < task.share * task.peak * (1 - 1e-12):
        return False
    hours = retention_of(task, ground, size)
    if hours < task.retention_h - 1e-9:
        return False
    nitrate = task.reduction
    if nitrate.limit == 0:
        return True
    wet = hours * 3600 * flow / task.porosity
    load = nitrate.treated_load(flow)
    return nitrate.rate * wet * nitrate.flow_days / 1000 >= nitrate.limit * load * (1 - 1e-9)


def best_of_all(task: SizingTask, ground: Room) -> Size | None:
    """Least media of every size of the grid that passes; of equals the shorter."""
    every = [
        Size(length * FOOT, width * FOOT)
        for length in range(1, SIDE + 1)
        for width in range(1, SIDE + 1)
    ]
    good = [size for size in every if passes(task, ground, size)]
    return min(
        good,
        key=lambda s: (round(media_volume(s, ground.side_slope, ground.media_depth), 6), s.length),
        default=None,
    )


tasks = st.builds(
    SizingTask,
    media=st.builds(Media, conductivity=st.floats(0.01, 0.1), inertia=st.floats(0, 1000)),
    path=st.builds(
        lambda way, crest: way(crest, 0.36),
        st.sampled_from([without_losses, narrow]),
        st.floats(0.05, 0.5),
    ),
    level=st.floats(0.6, 1.2),
    tailwater=st.sampled_from([FREE, 0.4]),
    peak=st.floats(0.001, 0.015),
    porosity=st.just(0.6),
    share=st.just(0.15),
    retention_h=st.floats(0.1, 1.5),
    reduction=st.one_of(
        st.just(NO_REDUCTION),
        st.builds(
            Reduction,
            limit=st.just(0.3),
            rate=st.floats(6, 40),
            flow_days=st.just(200.0),
            load=st.floats(5, 60),
            mean_flow=st.floats(0.0005, 0.01),
        ),
    ),
)


@pytest.mark.oracle("a search of every size", of=(smallest_bed, flow_of, retention_of))
@settings(max_examples=20, deadline=None)
@given(task=tasks, side_slope=st.sampled_from([0.0, 1.0, 1.5]))
def test_no_other_size_of_the_grid_takes_less_media(task, side_slope):
    ground = room(side_slope, 1.2)
    best = best_of_all(task, ground)
    if best is None:
        with pytest.raises(NoSolution, match="No bed within"):
            smallest_bed(task, ground)
        return
    found = smallest_bed(task, ground)
    assert passes(task, ground, found)
    assert media_volume(found, side_slope, 1.2) == pytest.approx(
        media_volume(best, side_slope, 1.2)
    )
    assert found == best


@pytest.mark.law(of=(smallest_bed, media_volume))
@settings(max_examples=20, deadline=None)
@given(task=tasks, side_slope=st.sampled_from([0.0, 1.0]))
def test_no_bed_a_foot_narrower_or_shorter_passes(task, side_slope):
    ground = replace(room(side_slope, 1.2), length=60.0, width=60.0)
    try:
        found = smallest_bed(task, ground)
    except NoSolution:
        assert not passes(task, ground, Size(SIDE * FOOT, SIDE * FOOT))
        return
    assert passes(task, ground, found)
    narrower = Size(found.length, found.width - FOOT)
    shorter = Size(found.length - FOOT, found.width)
    for smaller in (narrower, shorter):
        if min(smaller.length, smaller.width) > FOOT / 2:
            assert not passes(task, ground, smaller)

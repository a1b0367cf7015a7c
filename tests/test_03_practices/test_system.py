# SPDX-License-Identifier: Apache-2.0
"""Bed, structures, pipes and ditch together, where they can be worked by hand.

Levels are counted from the floor of the bed. Q flow, K conductivity, k loss per flow squared.
"""

from dataclasses import replace
from math import inf, pi, sqrt

import pytest

from tests.digits import printed
from tests.jobs import FOOT, INCH
from tests.paths import FREE, WIDE, narrow, sharp, without_losses
from tilewater.basis.errors import OutOfDomain
from tilewater.hydraulics._pipe_run import PipeRun, level_backwards, level_upstream
from tilewater.practices.bed._system import Machine, bed_flow_at_level, cell_flow, split_flow
from tilewater.practices.bed.capacity import BedShape, Media
from tilewater.practices.bed.system import (
    bed_flow_at_diversion,
    diversion_level_for_bed,
    levels_along_bed,
    split_in_balance,
    wet_media_volume,
)
from tilewater.practices.bed.works import (
    NO_BOARDS,
    BedPath,
    CellPlan,
    header_loss,
    machine_of,
    pipe_run,
    side_by_side,
)

G = 9.80665
WIDTH = 0.36  # of the crests
SHARP = 3.33 * sqrt(FOOT) * WIDTH  # flow over one metre of head
CREST = 1.0  # of the bypass boards
BYPASS = sharp(CREST, WIDTH)
UPRIGHT = BedShape(30.0, 8.0, 0.0, 1.1)
DARCY = Media(0.04, 0.0)
OPEN = BedPath(0.0, WIDE, WIDE, WIDE, 0.0, 0.0, sharp(-5.0, 50.0))
"""No pipes and hardly any boards: the bed alone between two pools."""
SMALL = PipeRun(-3.0, -3.1, 0.1, 20.0, 0.012, 0.5)
"""A pipe of 4 in that is always under water. [m]"""
THROUGH_SMALL = 20.0 * (0.012 / (pi / 4 * 0.1**2 * 0.025 ** (2 / 3))) ** 2 + 1.5 / (
    2 * G * (pi / 4 * 0.1**2) ** 2
)
"""Its loss per flow squared: friction, half a velocity head in, a whole one out. [s2/m5]"""


def head_over(flow: float) -> float:
    return float((flow / SHARP) ** (2 / 3))


@pytest.mark.by_hand(of=(split_in_balance,))
def test_with_the_gate_closed_all_goes_over_the_bypass_boards():
    closed = replace(without_losses(0.6, WIDTH), gate=0.0)
    for flow in (0.001, 0.02, 0.2):
        split = split_in_balance(flow, FREE, closed, UPRIGHT, DARCY, WIDE, BYPASS)
        assert split.bed_flow == pytest.approx(0.0, abs=1e-9)
        assert split.level == pytest.approx(CREST + head_over(flow), abs=1e-6)


@pytest.mark.by_hand(of=(split_in_balance,))
def test_without_bypass_boards_the_bed_gets_nothing_until_water_stands_at_its_outlet_crest():
    drawn, path = sharp(0.2, WIDTH), without_losses(0.6, WIDTH)
    enough = SHARP * 0.4**1.5  # raises the water to the crest of the outlet boards
    below = split_in_balance(0.99 * enough, FREE, path, UPRIGHT, DARCY, WIDE, drawn)
    assert (below.bed_flow, below.bypass_flow) == (0.0, 0.99 * enough)
    assert below.level == pytest.approx(0.2 + head_over(0.99 * enough))
    above = split_in_balance(1.01 * enough, FREE, path, UPRIGHT, DARCY, WIDE, drawn)
    assert 0.0 < above.bed_flow < 0.01 * enough


@pytest.mark.by_hand(of=(bed_flow_at_diversion,))
def test_with_the_outlet_boards_out_the_bed_falls_to_its_floor():
    """Q = K W (h1^2 - h2^2) / 2L, with the head over the floor of the outlet as h2."""
    flow = bed_flow_at_diversion(CREST, FREE, without_losses(0.0, WIDTH), UPRIGHT, DARCY)
    h2 = head_over(flow)
    assert flow == pytest.approx(0.04 * 8.0 * (1.0**2 - h2**2) / (2 * 30.0), rel=1e-5)
    assert printed("0.0053") == flow


@pytest.mark.by_hand(of=(split_in_balance, bed_flow_at_diversion))
def test_a_ditch_at_the_outlet_crest_changes_nothing_and_one_above_it_drowns_the_boards():
    path = without_losses(0.6, WIDTH)
    free, level = (
        bed_flow_at_diversion(CREST, ditch, path, UPRIGHT, DARCY) for ditch in (FREE, 0.6)
    )
    assert level == pytest.approx(free, abs=1e-12)
    # 5 cm above the crest: Q = C h^1.5 (1 - (0.05/h)^1.5)^0.385 and Q = K W (1 - h2^2) / 2L
    drowned = bed_flow_at_diversion(CREST, 0.65, path, UPRIGHT, DARCY)
    h = levels_along_bed(drowned, 0.65, path, UPRIGHT, DARCY).outlet_box - 0.6
    assert drowned == pytest.approx(SHARP * h**1.5 * (1 - (0.05 / h) ** 1.5) ** 0.385, rel=1e-4)
    assert drowned == pytest.approx(0.04 * 8.0 * (1.0 - (0.6 + h) ** 2) / 60.0, rel=1e-5)
    assert 0.05 < h < 0.07


@pytest.mark.by_hand(of=(split_in_balance, levels_along_bed))
def test_under_a_ditch_above_everything_all_pools_are_level_and_nothing_flows():
    path = narrow(0.6, WIDTH)
    for ditch in (CREST, CREST + 0.5, 5.0):
        split = split_in_balance(0.0, ditch, path, UPRIGHT, DARCY, WIDE, BYPASS)
        assert (split.bed_flow, split.bypass_flow, split.level) == (0.0, 0.0, ditch)
        assert set(levels_along_bed(0.0, ditch, path, UPRIGHT, DARCY)) == {ditch}


@pytest.mark.by_hand(of=(bed_flow_at_diversion, levels_along_bed))
def test_a_feed_throttled_by_its_gate_gives_what_an_orifice_gives():
    """Q = C A sqrt(2 g dh): 6 cm2 of opening times 0.6 under nearly all of the head."""
    throttled = replace(OPEN, gate=0.6 * 6e-4)
    flow = bed_flow_at_diversion(CREST, 0.2, throttled, UPRIGHT, Media(10.0, 0.0))
    fall = flow * 30.0 / (10.0 * 8.0 * 0.2)  # through very coarse media, 0.2 m deep
    assert flow == pytest.approx(0.6 * 6e-4 * sqrt(2 * G * (0.8 - fall)), rel=1e-4)
    assert fall < 0.005
    levels = levels_along_bed(flow, 0.2, throttled, UPRIGHT, Media(10.0, 0.0))
    assert levels.behind_boards - levels.behind_gate == pytest.approx(0.8 - fall, abs=1e-4)


@pytest.mark.by_hand(of=(bed_flow_at_diversion,))
@pytest.mark.parametrize("place", ["feed", "drain", "outflow"])
def test_a_small_pipe_anywhere_on_the_way_gives_what_its_loss_allows(place):
    """dh = L (Q n / A R^(2/3))^2 + (1 + 1/2) V^2 / 2g in a pipe of 4 in under water."""
    assert printed("7627") == THROUGH_SMALL
    path = replace(OPEN, **{place: SMALL})
    flow = bed_flow_at_diversion(CREST, 0.2, path, UPRIGHT, Media(1e4, 0.0))
    assert flow == pytest.approx(sqrt(0.8 / THROUGH_SMALL), rel=1e-4)
    three = replace(OPEN, feed=SMALL, drain=SMALL, outflow=SMALL)
    flow = bed_flow_at_diversion(CREST, 0.2, three, UPRIGHT, Media(1e4, 0.0))
    assert flow == pytest.approx(sqrt(0.8 / (3 * THROUGH_SMALL)), rel=1e-4)


@pytest.mark.by_hand(of=(bed_flow_at_diversion, levels_along_bed))
def test_headers_take_their_loss_per_flow_squared():
    path = replace(OPEN, header_in=900.0, header_out=400.0)
    flow = bed_flow_at_diversion(CREST, 0.2, path, UPRIGHT, Media(1e4, 0.0))
    assert flow == pytest.approx(sqrt(0.8 / 1300.0), rel=1e-4)
    levels = levels_along_bed(flow, 0.2, path, UPRIGHT, Media(1e4, 0.0))
    assert levels.inlet_header - levels.inlet_end == pytest.approx(0.8 * 900 / 1300, abs=1e-4)


@pytest.mark.by_hand(of=(bed_flow_at_diversion, wet_media_volume))
def test_drowned_media_are_a_full_rectangle():
    """Both pools above the media: Q = K W d dh / L, and all media are wet."""
    flow = bed_flow_at_diversion(1.9, 1.4, OPEN, UPRIGHT, DARCY)
    assert flow == pytest.approx(0.04 * 8.0 * 1.1 * 0.5 / 30.0, abs=1e-7)
    assert wet_media_volume(flow, 1.4, OPEN, UPRIGHT, DARCY) == pytest.approx(30.0 * 8.0 * 1.1)
    # and with the diversion held in the cover while the outlet is in the media
    # K W ((1.1^2 - 0.5^2) / 2 + 1.1 x 0.8) / L
    flow = bed_flow_at_diversion(1.9, 0.5, OPEN, UPRIGHT, DARCY)
    assert flow == pytest.approx(0.32 * ((1.21 - 0.25) / 2 + 1.1 * 0.8) / 30.0, abs=1e-7)


@pytest.mark.by_hand(of=(wet_media_volume,))
def test_wet_media_of_an_upright_bed():
    """V = 2/3 W L (h1^3 - h2^3) / (h1^2 - h2^2) under Dupuit's surface."""
    flow = 0.04 * 8.0 * (1.0**2 - 0.4**2) / (2 * 30.0)
    volume = wet_media_volume(flow, 0.4, OPEN, UPRIGHT, DARCY)
    assert volume == pytest.approx(
        2 / 3 * 8.0 * 30.0 * (1.0**3 - 0.4**3) / (1.0**2 - 0.4**2), rel=1e-5
    )
    assert wet_media_volume(0.0, 0.4, OPEN, UPRIGHT, DARCY) == pytest.approx(8.0 * 30.0 * 0.4)
    assert wet_media_volume(0.0, -1.0, OPEN, UPRIGHT, DARCY) == 0.0


@pytest.mark.by_hand(of=(split_in_balance, side_by_side, machine_of, wet_media_volume))
def test_two_equal_cells_are_one_of_double_width():
    """Each header carries half the flow, so one header with the same loss has a quarter of k."""
    path = replace(without_losses(0.6, WIDTH), gate=0.004, header_in=800.0, header_out=400.0)
    pair = side_by_side(west=CellPlan(UPRIGHT, NO_BOARDS), east=CellPlan(UPRIGHT, NO_BOARDS))
    one_path = replace(path, gate=0.008, header_in=200.0, header_out=100.0)
    one_shape = replace(UPRIGHT, width=16.0)
    for flow in (0.002, 0.01, 0.03):
        two = split_in_balance(flow, FREE, path, pair, DARCY, WIDE, BYPASS)
        one = split_in_balance(flow, FREE, one_path, one_shape, DARCY, WIDE, BYPASS)
        assert two == pytest.approx(one, abs=1e-8)
        assert two.bed_flow > 0.0
        wet = wet_media_volume(two.bed_flow, FREE, path, pair, DARCY)
        wet_one = wet_media_volume(one.bed_flow, FREE, one_path, one_shape, DARCY)
        assert wet == pytest.approx(wet_one, rel=1e-6)


@pytest.mark.by_hand(of=(split_in_balance, side_by_side, machine_of, cell_flow))
def test_a_cell_whose_own_boards_stand_higher_takes_nothing_below_them():
    path = without_losses(0.3, WIDTH)
    pair = side_by_side(
        early=CellPlan(UPRIGHT, NO_BOARDS), late=CellPlan(UPRIGHT, sharp(0.7, WIDTH))
    )
    early, late = machine_of(path, pair, DARCY, bypass=WIDE, bypass_boards=BYPASS).cells
    at_crest = bed_flow_at_diversion(0.7, FREE, path, UPRIGHT, DARCY)
    for flow in (0.5 * at_crest, 0.999 * at_crest):
        two = split_in_balance(flow, FREE, path, pair, DARCY, WIDE, BYPASS)
        alone = split_in_balance(flow, FREE, path, UPRIGHT, DARCY, WIDE, BYPASS)
        assert two == pytest.approx(alone, abs=1e-8)
        assert cell_flow(two.level, 0.3 + head_over(flow), late) == 0.0
    more = split_in_balance(1.2 * at_crest, FREE, path, pair, DARCY, WIDE, BYPASS)
    box = 0.3 + head_over(more.bed_flow)
    taken = [cell_flow(more.level, box, cell) for cell in (early, late)]
    assert sum(taken) == pytest.approx(more.bed_flow, abs=1e-8)
    # the early cell sees the level, the late one falls free behind its boards:
    # Q1 = K W (z^2 - box^2) / 2L, Q2 = C (z - 0.7)^1.5
    assert taken[0] == pytest.approx(0.32 * (more.level**2 - box**2) / 60.0, rel=1e-4)
    assert taken[1] == pytest.approx(SHARP * (more.level - 0.7) ** 1.5, rel=1e-4)
    assert sqrt(box**2 + taken[1] * 60.0 / 0.32) < 0.7


@pytest.mark.by_hand(of=(split_in_balance, side_by_side))
def test_with_the_gates_of_all_cells_closed_all_goes_over_the_bypass_boards():
    closed = replace(without_losses(0.6, WIDTH), gate=0.0)
    pair = side_by_side(west=CellPlan(UPRIGHT, NO_BOARDS), east=CellPlan(UPRIGHT, NO_BOARDS))
    split = split_in_balance(0.01, FREE, closed, pair, DARCY, WIDE, BYPASS)
    assert split.bed_flow == pytest.approx(0.0, abs=1e-9)
    assert split.level == pytest.approx(CREST + head_over(0.01), abs=1e-6)


def bed_alone(conductivity: float) -> Machine:
    """A bed between two pools, and the bypass boards."""
    return machine_of(OPEN, UPRIGHT, Media(conductivity, 0.0), bypass=WIDE, bypass_boards=BYPASS)


@pytest.mark.by_hand(of=(split_flow, bed_flow_at_level))
def test_water_comes_back_through_the_bed_from_a_high_ditch_of_its_own():
    """C h^1.5 over the bypass boards is Q_in and what comes back, K W d (z - CREST - h) / L."""
    h, inflow, ditch = 0.05, 0.003, 1.4
    back = SHARP * h**1.5 - inflow
    deep = 8.0 * (1.1 * (ditch - 1.1) + (1.1**2 - (CREST + h) ** 2) / 2)
    machine = bed_alone(back * 30.0 / deep)
    split = split_flow(inflow, FREE, ditch, machine)
    assert split.bed_flow == pytest.approx(-back, rel=1e-4)
    assert split.level == pytest.approx(CREST + h, abs=1e-5)
    assert bed_flow_at_level(CREST + h, ditch, machine) == pytest.approx(-back, rel=1e-4)


@pytest.mark.by_hand(of=(split_flow,))
def test_water_comes_back_over_the_bypass_boards_from_a_ditch_above_them():
    """The bed's own outlet is low: it takes the inflow and what comes over the boards backward."""
    split = split_flow(0.001, CREST + 0.06, 0.2, bed_alone(1.0))
    back = SHARP * 0.06**1.5
    assert split.bypass_flow == pytest.approx(-back, rel=1e-4)
    assert split.bed_flow == pytest.approx(0.001 + back, rel=1e-4)


@pytest.mark.by_hand(of=(split_flow,))
def test_water_that_falls_back_over_the_bypass_boards_stands_as_high_as_the_bed_asks():
    """z = sqrt(low^2 + 2 Q L / K W), which is under the crest."""
    split = split_flow(0.001, CREST + 0.06, 0.2, bed_alone(1.0))
    taken = 0.001 + SHARP * 0.06**1.5
    assert split.level == pytest.approx(sqrt(0.2**2 + 2 * taken * 30.0 / 8.0), abs=1e-4)


@pytest.mark.by_hand(of=(split_in_balance,))
def test_below_a_junction_the_main_carries_all_and_both_ways_stand_in_its_water():
    """The pool at the junction is the ditch and k Q^2 of the whole inflow."""
    stage, inflow = 0.2, 0.01
    pool = stage + THROUGH_SMALL * inflow**2
    assert pool > 0.9
    path = without_losses(0.6, WIDTH)
    joined = split_in_balance(inflow, stage, path, UPRIGHT, DARCY, WIDE, BYPASS, SMALL)
    apart = split_in_balance(inflow, pool, path, UPRIGHT, DARCY, WIDE, BYPASS)
    assert joined == pytest.approx(apart, abs=1e-8)
    assert joined.bed_flow < bed_flow_at_diversion(joined.level, FREE, path, UPRIGHT, DARCY)


@pytest.mark.law(of=(level_backwards,))
@pytest.mark.parametrize("datum", [0.0, 1.0, 360.0])
def test_hardly_any_water_coming_back_loses_hardly_any_head(datum):
    """Also where the loss is less than the rounding of the level."""
    for step in range(200):
        pipe = PipeRun(datum + 0.0013 * step, datum - 0.0007 * step, 0.2, 7.49, 0.012, 0.5)
        high = datum + 0.61 + 0.0037 * step
        for flow in (1e-10, 1e-9, 1e-7):
            assert level_backwards(flow, high, pipe) == pytest.approx(high, abs=1e-9)


@pytest.mark.law(of=(level_backwards, level_upstream))
def test_water_comes_back_as_it_would_go_forward_through_the_pipe_turned_round():
    for step in range(100):
        pipe = PipeRun(0.002 * step, 0.1, 0.2, 12.0, 0.012, 0.5)
        turned = PipeRun(0.1, 0.002 * step, 0.2, 12.0, 0.012, 0.5)
        flow, low = 0.0003 * step + 1e-4, 0.5 + 0.003 * step
        high = level_upstream(flow, low, turned)
        assert level_backwards(flow, high, pipe) == pytest.approx(low, abs=1e-9)
    assert level_backwards(1.0, 0.5, SMALL) == -inf  # no such flow under that head


@pytest.mark.law(of=(diversion_level_for_bed, bed_flow_at_diversion, levels_along_bed))
@pytest.mark.parametrize("way", [without_losses, narrow])
def test_level_and_flow_are_each_other_s_inverse(way):
    path = way(0.4, WIDTH)
    for tailwater in (FREE, 0.35, 0.7):
        for flow in (0.0005, 0.002, 0.006):
            level = diversion_level_for_bed(flow, tailwater, path, UPRIGHT, DARCY)
            found = bed_flow_at_diversion(level, tailwater, path, UPRIGHT, DARCY)
            assert found == pytest.approx(flow, abs=2e-10)
            levels = levels_along_bed(flow, tailwater, path, UPRIGHT, DARCY)
            assert levels.diversion == level
            assert list(levels) == sorted(levels, reverse=True)


@pytest.mark.by_hand(of=(header_loss,))
def test_loss_of_a_header_of_corbel_farm():
    """A third of the friction of 29 ft of 6 in pipe, and one square inch a foot of openings."""
    diameter, length, n = 6 * INCH, 29 * FOOT, 0.015
    area, radius = pi / 4 * diameter**2, diameter / 4
    friction = length / 3 * (n / (area * radius ** (2 / 3))) ** 2
    openings = 1 / (2 * G * (0.6 * 29 * INCH**2) ** 2)
    found = header_loss(diameter, length, n, INCH**2 / FOOT)
    assert found == pytest.approx(friction + openings)
    assert (printed("155"), printed("405")) == (friction, openings)


@pytest.mark.works(of=(split_in_balance, bed_flow_at_diversion, diversion_level_for_bed))
def test_flow_and_levels_that_mean_nothing_are_refused():
    path = without_losses(0.6, WIDTH)
    with pytest.raises(OutOfDomain, match="Check its direction"):
        split_in_balance(-0.1, FREE, path, UPRIGHT, DARCY, WIDE, BYPASS)
    with pytest.raises(OutOfDomain, match="Give the water level in the ditch"):
        split_in_balance(0.1, inf, path, UPRIGHT, DARCY, WIDE, BYPASS)
    with pytest.raises(OutOfDomain, match="Check the water levels"):
        bed_flow_at_diversion(inf, FREE, path, UPRIGHT, DARCY)
    with pytest.raises(OutOfDomain, match="flow"):
        diversion_level_for_bed(-0.001, FREE, path, UPRIGHT, DARCY)


@pytest.mark.works(of=(pipe_run, header_loss))
def test_pipes_and_headers_without_size_are_refused():
    assert pipe_run(2, 1, 0.2, 30, 0.012, 0.5) == PipeRun(2.0, 1.0, 0.2, 30.0, 0.012, 0.5)
    with pytest.raises(OutOfDomain, match="Diameter and roughness lie above 0"):
        pipe_run(2.0, 1.0, 0.0, 30.0, 0.012, 0.5)
    with pytest.raises(OutOfDomain, match="All of these lie above 0"):
        header_loss(0.15, 9.0, 0.015, 0.0)

# SPDX-License-Identifier: Apache-2.0
"""The independent solver of the whole system, held to closed forms and to its own balances.

y depth, A area, V velocity, E specific energy, Sf friction slope, Fr Froude number, s upstream.
"""

import math
import random

import pytest
from scipy.integrate import quad

from tests.oracles.boards_and_bed import Boards, Gate, Header, Media
from tests.oracles.pipe_profile import HAIR, G, Pipe
from tests.oracles.random_parts import random_pipe
from tests.oracles.whole_system import Machine, Parallel, Path, solve

SEED = 20260
ROUNDING = 1e-9
INTEGRATION = 1e-6
"""Relative closeness of a length integrated over depth to one integrated along the pipe."""
MAIN = Pipe(10.30, 10.0, 0.3, 60.0, 0.012, 0.5)


def media(**changes: float) -> Media:
    bed = {"floor": 9.0, "width": 7.5, "side_slope": 0.0, "length": 30.0, "depth": 1.2}
    return Media(**(bed | {"conductivity": 0.05, "inertia": 0.0} | changes))


@pytest.mark.law(of=(Pipe,))
@pytest.mark.parametrize("share", [0.03, 0.2, 0.5, 0.8, 0.97])
def test_section_of_a_circle_is_the_integral_of_its_width(share: float) -> None:
    depth = share * MAIN.diameter
    area, _ = quad(MAIN.surface, 0.0, depth, epsabs=1e-14, limit=200)

    assert area == pytest.approx(MAIN.area(depth), rel=1e-7)


@pytest.mark.law(of=(Pipe,))
def test_critical_depth_makes_the_specific_energy_least() -> None:
    critical = MAIN.least_depth(0.03, 1.0)

    def energy(depth: float) -> float:
        return depth + MAIN.velocity_head(0.03, depth)

    assert MAIN.froude_squared(0.03, critical) == pytest.approx(1.0, abs=ROUNDING)
    assert energy(critical) < min(energy(critical - 1e-4), energy(critical + 1e-4))


@pytest.mark.law(of=(Pipe,))
def test_full_pipe_follows_the_pressure_formula() -> None:
    flow, lower = 0.06, 11.0
    area = math.pi * 0.3**2 / 4.0
    slope = (0.012 * flow / area) ** 2 / (0.3 / 4.0) ** (4.0 / 3.0)

    level = lower + slope * 60.0 + 1.5 * (flow / area) ** 2 / (2.0 * G)

    assert level == pytest.approx(MAIN.upper(flow, lower), abs=ROUNDING)


@pytest.mark.law(of=(Pipe,))
@pytest.mark.parametrize("lower", [9.0, 10.1])
def test_long_pipe_of_gentle_slope_runs_at_normal_depth(lower: float) -> None:
    long = Pipe(20.0, 10.0, 0.3, 5000.0, 0.012, 0.5)
    depth = 0.5 * long.diameter
    flow = long.slope**0.5 * long.area(depth) * (0.3 / 4.0) ** (2.0 / 3.0) / 0.012

    level = 20.0 + depth + 1.5 * long.velocity_head(flow, depth)

    assert level == pytest.approx(long.upper(flow, lower), abs=1e-7)


@pytest.mark.law(of=(Pipe,))
def test_steep_pipe_is_governed_by_its_inlet() -> None:
    steep = Pipe(12.0, 10.0, 0.3, 60.0, 0.012, 0.5)
    least = min(
        depth + 1.5 * steep.velocity_head(0.04, depth)
        for depth in (0.3 * k / 100000 for k in range(20000, 90000))
    )

    assert 12.0 + least == pytest.approx(steep.upper(0.04, 9.0), abs=1e-7)
    assert steep.upper(0.04, 9.0) == steep.upper(0.04, 10.5)


@pytest.mark.law(of=(Pipe,))
def test_length_integrated_over_depth_is_the_length_of_the_pipe() -> None:
    """The same profile the other way round: s(y), by quadrature, where the surface is free."""
    rng, checked = random.Random(SEED), 0
    while checked < 30:
        pipe, flow, lower = random_pipe(rng)
        critical = pipe.least_depth(flow, 1.0)
        start = max(pipe.start_depth(flow, lower), critical + HAIR * pipe.diameter)
        end = pipe.upper_depth(flow, lower)
        near_normal = abs(pipe.friction(flow, end) / pipe.slope - 1.0) if pipe.slope else 1.0
        if end <= critical or max(start, end) >= pipe.diameter or near_normal < 1e-3:
            continue

        def per_depth(depth: float, pipe: Pipe = pipe, flow: float = flow) -> float:
            drop = pipe.friction(flow, depth) - pipe.slope
            return (1.0 - pipe.froude_squared(flow, depth)) / drop

        length, _ = quad(per_depth, start, end, epsabs=1e-10, epsrel=1e-9, limit=400)

        assert pipe.length == pytest.approx(length, rel=INTEGRATION)
        checked += 1


@pytest.mark.law(of=(Media,))
def test_darcy_in_a_rectangle_is_dupuit() -> None:
    flow = 0.05 * 7.5 * (1.0**2 - 0.3**2) / (2.0 * 30.0)

    assert 10.0 == pytest.approx(media().upper(flow, 9.3), abs=ROUNDING)


@pytest.mark.law(of=(Media,))
def test_darcy_in_a_trapezoid_with_water_over_the_media() -> None:
    def section(depth: float) -> float:
        return 7.5 * depth**2 / 2.0 + 1.5 * depth**3 / 3.0

    over = 0.4 * (7.5 * 1.2 + 1.5 * 1.2**2)
    flow = 0.05 * (section(1.2) - section(0.3) + over) / 30.0

    assert 10.6 == pytest.approx(media(side_slope=1.5).upper(flow, 9.3), abs=ROUNDING)


@pytest.mark.law(of=(Media,))
def test_inertia_alone_in_a_rectangle() -> None:
    """beta (Q / b h)^2 = -dh/dx gives beta Q^2 L = b^2 (h1^3 - h2^3) / 3."""
    bed = media(conductivity=1e12, inertia=40.0)
    flow = math.sqrt(7.5**2 * (1.0 - 0.3**3) / (3.0 * 40.0 * 30.0))

    assert 10.0 == pytest.approx(bed.upper(flow, 9.3), abs=ROUNDING)


@pytest.mark.law(of=(Boards,))
def test_free_boards_and_drowned_boards() -> None:
    boards = Boards(crest=10.0, sill=9.0, coefficient=0.9)
    free = 10.0 + (0.05 / 0.9) ** (2.0 / 3.0)
    drowned = 0.9 * 0.2**1.5 * (1.0 - 0.5**1.5) ** 0.385

    assert free == pytest.approx(boards.upper(0.05, 9.5), abs=ROUNDING)
    assert 10.2 == pytest.approx(boards.upper(drowned, 10.1), abs=ROUNDING)


@pytest.mark.law(of=(Boards,))
def test_joints_leak_like_slits() -> None:
    boards = Boards(crest=10.0, sill=9.0, coefficient=0.9, leak=0.002)
    into_air = 0.002 * math.sqrt(2.0 * G) * 0.8**1.5 * 2.0 / 3.0
    under_water = 0.002 * 0.5 * math.sqrt(2.0 * G * 0.3)
    above_it = 0.002 * math.sqrt(2.0 * G) * 0.3**1.5 * 2.0 / 3.0

    assert into_air == pytest.approx(boards.flow(9.8, 8.0), rel=ROUNDING)
    assert under_water + above_it == pytest.approx(boards.flow(9.8, 9.5), rel=ROUNDING)


@pytest.mark.law(of=(solve,))
def test_without_pipes_it_is_a_bed_and_a_weir() -> None:
    """Flow over the boards at the outlet sets the low depth, Dupuit the high one."""
    spill, outlet = Boards(10.0, 9.0, 0.9), Boards(9.4, 9.0, 0.8)
    found = solve(0.02, Machine(Path([spill]), [Path([media(), outlet])], ditch=8.0))
    bed, (high, low, _) = found.beds[0], found.bed_levels[0]

    assert 0.02 == pytest.approx(found.bypass + bed, abs=ROUNDING)
    assert 0.8 * (low - 9.4) ** 1.5 == pytest.approx(bed, abs=ROUNDING)
    assert 0.9 * (high - 10.0) ** 1.5 == pytest.approx(found.bypass, abs=ROUNDING)
    assert 0.05 * 7.5 * ((high - 9.0) ** 2 - (low - 9.0) ** 2) / 60.0 == pytest.approx(
        bed, abs=ROUNDING
    )


def full_machine() -> Machine:
    """Every part there is, all pipes short enough to matter little or much."""
    bed = [
        Gate(0.05, 0.6),
        Pipe(10.0, 9.95, 0.2, 6.0, 0.012, 0.5),
        Header(50.0),
        media(floor=9.8, side_slope=1.0, inertia=3.0),
        Header(50.0),
        Pipe(9.8, 9.75, 0.2, 6.0, 0.012, 0.5),
        Boards(10.4, 9.7, 0.9),
        Pipe(9.7, 9.5, 0.2, 20.0, 0.012, 0.5),
    ]
    bypass = [Boards(11.0, 10.0, 0.9), Pipe(9.9, 9.4, 0.25, 80.0, 0.012, 0.5)]
    return Machine(Path(bypass), [Path(bed)], 9.6, [Pipe(9.4, 9.3, 0.3, 30.0, 0.012, 0.5)])


@pytest.mark.law(of=(solve,))
@pytest.mark.parametrize("inflow", [0.002, 0.01, 0.03, 0.06])
def test_mass_and_energy_along_each_path(inflow: float) -> None:
    machine = full_machine()
    found = solve(inflow, machine)

    assert inflow == pytest.approx(found.bypass + found.beds[0], abs=ROUNDING)
    for path, flow, levels in (
        (machine.bypass, found.bypass, found.bypass_levels),
        (machine.beds[0], found.beds[0], found.bed_levels[0]),
    ):
        for part, high, low in zip(path.parts, levels, levels[1:], strict=False):
            assert high >= low
            assert high == pytest.approx(part.upper(flow, low), abs=ROUNDING)
        assert not levels or found.level == pytest.approx(levels[0], abs=ROUNDING)
        assert not levels or found.junction == levels[-1]


@pytest.mark.law(of=(solve,))
def test_a_closed_bed_changes_nothing() -> None:
    """Three paths are solved in another way than two."""
    whole = [media(), Boards(9.4, 9.0, 0.8)]
    spill = Path([Boards(10.0, 9.0, 0.9)])
    one = solve(0.02, Machine(spill, [Path(whole)], ditch=8.0))
    none = Path([Gate(0.0, 0.6), media()])
    again = solve(0.02, Machine(spill, [Path(whole), none], ditch=8.0))

    assert one.level == pytest.approx(again.level, abs=ROUNDING)
    assert one.beds[0] == pytest.approx(again.beds[0], abs=ROUNDING)
    assert 0.0 == again.beds[1]


@pytest.mark.law(of=(solve,))
def test_two_equal_cells_take_equal_flows() -> None:
    cell = Path([media(), Boards(9.4, 9.0, 0.8)])
    spill = Path([Boards(10.0, 9.0, 0.9)])
    found = solve(0.03, Machine(spill, [cell, cell], ditch=8.0))
    between = solve(0.03, Machine(spill, [Path([Parallel([cell, cell])])], ditch=8.0))

    assert found.beds[0] == pytest.approx(found.beds[1], abs=ROUNDING)
    assert 0.03 == pytest.approx(found.bypass + sum(found.beds), abs=ROUNDING)
    assert between.beds[0] == pytest.approx(sum(found.beds), abs=ROUNDING)


@pytest.mark.law(of=(solve,))
def test_water_comes_back_through_a_bed_whose_ditch_is_higher() -> None:
    spill = Path([Boards(10.0, 9.0, 0.9)], pool=8.0)
    bed = Path([media(), Boards(9.4, 9.0, 0.8)], pool=10.5)
    found = solve(0.001, Machine(spill, [bed]))
    back = -found.beds[0]

    assert 0.001 + back == pytest.approx(found.bypass, abs=ROUNDING)
    assert 0.0 < back
    face = Boards(9.4, 9.0, 0.8)
    high = media().upper(back, found.level)
    assert back == pytest.approx(face.flow(10.5, high), abs=1e-8)
    assert 10.0 + (found.bypass / 0.9) ** (2.0 / 3.0) == pytest.approx(found.level, abs=ROUNDING)

# SPDX-License-Identifier: Apache-2.0
"""Emptying onto standing water: the two limits by hand, the water table solved in time between."""

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from tilewater.basis.errors import OutOfDomain
from tilewater.hydraulics.media import drain_down_time_boussinesq
from tilewater.hydraulics.media_recession import drain_down_time_over_pool, drained_share_over_pool

BED = {"length": 30.0, "conductivity": 0.04, "drainable_porosity": 0.45}
SHARES = (0.5, 0.9, 0.95)
# A level full bed has more water near its outlet than the shape that sinks evenly. By the water
# table solved in time it is done in 0.66 to 0.95 of the time, least at half and over no pool.
SOONEST, LATEST = 0.63, 0.98
EVEN_SHAPE = 0.04
"""How far the sum of the two limits lies from the solved water table that sinks evenly. [-]"""
FILM = 1e-4
"""Shape of a thin film is that of the linear equation to this part. [-]"""

CELLS = 100
SOLVER: dict[str, Any] = {"method": "LSODA", "rtol": 1e-7, "atol": 1e-10, "lband": 1, "uband": 1}

pools = st.floats(0.0, 1.5)
depths = st.floats(0.01, 2.0)
shares = st.just(0.0) | st.floats(1e-9, 0.98)


def sinking(pool: float, cells: int) -> Callable[[float, np.ndarray], np.ndarray]:
    """Right side of f dh/dt = K d(h dh/dx)/dx, closed at 0, h = pool at L."""
    dx = BED["length"] / cells
    K, f = BED["conductivity"], BED["drainable_porosity"]

    def rate(_: float, h: np.ndarray) -> np.ndarray:
        inner = 0.5 * (h[1:] + h[:-1]) * np.diff(h) / dx
        outflow = -0.5 * (h[-1] + pool) * (h[-1] - pool) / (0.5 * dx)
        return np.diff(K * np.concatenate(([0.0], inner, [outflow]))) / (f * dx)

    return rate


def solved(depth: float, pool: float, shape: np.ndarray, until: float) -> tuple[np.ndarray, ...]:
    """Times and remaining shares of a water table that starts with a shape above the pool."""
    start = pool + depth * shape
    times = np.linspace(0.0, until, 4001)
    run = solve_ivp(sinking(pool, len(shape)), (0.0, until), start, t_eval=times, **SOLVER)
    return times, (run.y.mean(axis=0) - pool) / (start.mean() - pool)


def solved_time(share: float, times: np.ndarray, left: np.ndarray) -> float:
    return float(np.interp(-(1.0 - share), -left, times))


@pytest.mark.by_hand(of=(drain_down_time_over_pool, drained_share_over_pool))
def test_half_out_over_a_foot_of_water_by_hand() -> None:
    D, p, L, K, f = 0.6, 0.3, 30.0, 0.04, 0.45
    a = math.pi**2 * K * p / (4 * f * L**2)
    c = 1.115 * K * D / (f * L**2)
    t = math.log((a + c * 0.5) / (0.5 * (a + c))) / a

    time = drain_down_time_over_pool(0.5, depth=D, pool=p, **BED)
    assert t == pytest.approx(time, rel=1e-12)
    assert 0.5 == pytest.approx(drained_share_over_pool(t, depth=D, pool=p, **BED), rel=1e-12)


@pytest.mark.law(of=(drain_down_time_over_pool,))
@given(share=shares, depth=depths)
def test_without_a_pool_it_is_the_recession_on_a_floor(share: float, depth: float) -> None:
    floor = drain_down_time_boussinesq(share, depth=depth, **BED)

    assert floor == pytest.approx(
        drain_down_time_over_pool(share, depth=depth, pool=0.0, **BED), rel=1e-9
    )
    nearly = drain_down_time_over_pool(share, depth=depth, pool=1e-7 * depth, **BED)
    assert floor == pytest.approx(nearly, rel=1e-4)


@pytest.mark.law(of=(drain_down_time_over_pool,))
@given(share=shares, pool=st.floats(0.1, 1.5))
def test_a_film_over_a_deep_pool_leaves_as_the_linear_equation_says(
    share: float, pool: float
) -> None:
    a = math.pi**2 * BED["conductivity"] * pool / (4 * BED["drainable_porosity"] * 30.0**2)
    time = drain_down_time_over_pool(share, depth=1e-6 * pool, pool=pool, **BED)

    assert -math.log(1 - share) / a == pytest.approx(time, rel=FILM, abs=1e-3)


@pytest.mark.law(of=(drain_down_time_over_pool, drained_share_over_pool))
@given(share=shares, depth=depths, pool=pools, deeper=st.floats(0.0, 0.5))
def test_water_under_the_level_only_helps(
    share: float, depth: float, pool: float, deeper: float
) -> None:
    time = drain_down_time_over_pool(share, depth=depth, pool=pool, **BED)

    assert time >= drain_down_time_over_pool(share, depth=depth, pool=pool + deeper, **BED) - 1e-6
    assert time <= drain_down_time_boussinesq(share, depth=depth, **BED) * (1 + 1e-9)
    assert share == pytest.approx(
        drained_share_over_pool(time, depth=depth, pool=pool, **BED), abs=1e-9
    )


@pytest.mark.law(of=(drained_share_over_pool,))
@given(time=st.floats(0.0, 1e7), more=st.floats(0.0, 1e6), depth=depths, pool=pools)
def test_ever_more_is_out_and_never_all(
    time: float, more: float, depth: float, pool: float
) -> None:
    early, late = (
        drained_share_over_pool(t, depth=depth, pool=pool, **BED) for t in (time, time + more)
    )

    assert 0.0 <= early <= late <= 1.0


@pytest.mark.oracle("scipy.integrate.solve_ivp", of=(drain_down_time_over_pool,))
@pytest.mark.parametrize(
    ("depth", "pool"), [(1.0, 0.0), (1.0, 0.05), (1.0, 0.2), (0.5, 0.5), (0.2, 0.8)]
)
def test_a_level_full_bed_is_done_somewhat_sooner(depth: float, pool: float) -> None:
    longest = drain_down_time_over_pool(0.97, depth=depth, pool=pool, **BED)
    times, left = solved(depth, pool, np.ones(CELLS), longest)

    for share in SHARES:
        ratio = solved_time(share, times, left) / drain_down_time_over_pool(
            share, depth=depth, pool=pool, **BED
        )
        assert SOONEST < ratio < LATEST, share


@pytest.mark.oracle("scipy.integrate.solve_ivp", of=(drain_down_time_over_pool,))
@pytest.mark.parametrize(("depth", "pool"), [(1.0, 0.05), (1.0, 0.2), (0.5, 0.5), (0.2, 0.8)])
def test_a_surface_that_keeps_its_shape_sinks_as_it_says(depth: float, pool: float) -> None:
    """The solved water table, taken up when its closed end has come down to the depth."""
    longest = drain_down_time_over_pool(0.97, depth=depth, pool=pool, **BED)
    ahead = 1.35  # higher at first, so that the surface has found its shape

    def at_depth(_: float, h: np.ndarray) -> float:
        return float(h[0] - pool - depth)

    at_depth.terminal = True  # type: ignore[attr-defined]
    full = np.full(CELLS, pool + ahead * depth)
    run = solve_ivp(sinking(pool, CELLS), (0.0, longest), full, events=at_depth, **SOLVER)
    shape = (run.y[:, -1] - pool) / depth
    times, left = solved(depth, pool, shape, 1.2 * longest)
    for share in SHARES:
        time = drain_down_time_over_pool(share, depth=depth, pool=pool, **BED)
        assert time == pytest.approx(solved_time(share, times, left), rel=EVEN_SHAPE)


@pytest.mark.works(of=(drain_down_time_over_pool, drained_share_over_pool))
def test_nothing_above_the_level_never_leaves() -> None:
    assert math.inf == drain_down_time_over_pool(0.9, depth=0.0, pool=1.0, **BED)
    assert 0.0 == drained_share_over_pool(1e9, depth=-0.2, pool=1.0, **BED)
    with pytest.raises(OutOfDomain, match=r"^pool is -0\.1 m\. It cannot be negative\."):
        drain_down_time_over_pool(0.9, depth=1.0, pool=-0.1, **BED)
    with pytest.raises(OutOfDomain, match=r"^time is -1 s\. It cannot be negative\."):
        drained_share_over_pool(-1.0, depth=1.0, pool=0.1, **BED)
    with pytest.raises(OutOfDomain, match=r"^1 - share_drained is 0\."):
        drain_down_time_over_pool(1.0, depth=1.0, pool=0.1, **BED)

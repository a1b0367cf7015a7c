# SPDX-License-Identifier: Apache-2.0
"""The root finder: right, quick, honest where there is no root, and compilable."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from tests.digits import printed
from tilewater.basis.compiled import compiled
from tilewater.basis.errors import NoSolution
from tilewater.basis.roots import bracketed_root, search_between, search_on

TOLERANCE = 1e-12
# An independent solver stops within its own tolerance, scaled by the size of the root.
AGREEMENT = 1e-10


def decay_against_line(x: float, slope: float) -> float:
    return math.exp(-x) - slope * x


@pytest.mark.by_hand(of=(bracketed_root,))
def test_square_root_of_two() -> None:
    assert math.sqrt(2.0) == pytest.approx(
        bracketed_root(lambda x, a: x * x - a, 0.0, 5.0, (2.0,), TOLERANCE), abs=TOLERANCE
    )


@pytest.mark.published("corless1996", "omega constant, from memory", of=(bracketed_root,))
def test_omega_constant() -> None:
    omega = bracketed_root(lambda x: x * math.exp(x) - 1.0, 0.0, 1.0, (), TOLERANCE)

    assert printed("0.5671432904") == omega


@pytest.mark.oracle("scipy.optimize.brentq", of=(bracketed_root,))
@pytest.mark.parametrize("slope", [1e-6, 1e-3, 0.1, 1.0, 50.0])
def test_agrees_with_brent(slope: float) -> None:
    expected = brentq(decay_against_line, 0.0, 40.0, (slope,), xtol=1e-14)

    assert expected == pytest.approx(
        bracketed_root(decay_against_line, 0.0, 40.0, (slope,), TOLERANCE), abs=AGREEMENT
    )


@pytest.mark.law(of=(bracketed_root,))
@given(root=st.floats(-5.0, 5.0), steepness=st.floats(0.01, 100.0))
def test_root_is_found_to_tolerance(root: float, steepness: float) -> None:
    def cubic(x: float) -> float:
        return steepness * ((x - root) + (x - root) ** 3)

    assert root == pytest.approx(bracketed_root(cubic, -6.0, 7.0, (), 1e-9), abs=1.1e-9)


@pytest.mark.law(of=(bracketed_root,))
def test_a_root_at_an_end_is_returned_at_once() -> None:
    assert bracketed_root(lambda x: x - 1.0, 1.0, 2.0, (), TOLERANCE) == 1.0
    assert bracketed_root(lambda x: x - 2.0, 1.0, 2.0, (), TOLERANCE) == 2.0


@pytest.mark.law(of=(bracketed_root,))
def test_smooth_functions_need_few_evaluations() -> None:
    calls = 0

    def counted(x: float) -> float:
        nonlocal calls
        calls += 1
        return x**3 - x - 2.0

    bracketed_root(counted, 1.0, 2.0, (), TOLERANCE)

    assert calls <= 12


@pytest.mark.works(of=(bracketed_root,))
@pytest.mark.parametrize(("low", "high"), [(2.0, 5.0), (math.nan, 5.0)])
def test_a_bracket_without_change_of_sign_is_refused(low: float, high: float) -> None:
    with pytest.raises(NoSolution) as refused:
        bracketed_root(lambda x: x * x - 2.0, low, high, (), TOLERANCE)

    assert str(refused.value) == (
        "The function does not change sign between the two ends. It must be negative at one and "
        "positive at the other. Check the values the ends come from."
    )
    assert isinstance(refused.value, ArithmeticError)


@pytest.mark.slow
@pytest.mark.works(of=(search_on, search_between, compiled))
def test_compiled_twin_gives_the_same_bits() -> None:
    pytest.importorskip("numba")
    on = compiled(search_on)
    ends = decay_against_line(0.0, 0.01), decay_against_line(20.0, 0.01)
    plain = twin = search_between(0.0, 20.0, *ends, TOLERANCE)
    while plain.goes_on:
        value = decay_against_line(plain.x, 0.01)
        plain, twin = search_on(plain, value), on(twin, value)
        assert tuple(plain) == tuple(twin)
    assert not twin.goes_on

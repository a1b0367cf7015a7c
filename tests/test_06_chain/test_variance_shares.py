# SPDX-License-Identifier: Apache-2.0
"""Shares of a variance against functions whose shares are known, and against another library."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from SALib.analyze import rbd_fast, sobol
from SALib.sample import sobol as sobol_sample

from tests.digits import printed
from tilewater.basis.errors import OutOfDomain
from tilewater.chain.variance_shares import (
    Share,
    are_apart,
    first_shares,
    groups_of,
    jackknifed,
    total_share,
    year_share,
)
from tilewater.nitrate.parameter_ranges import ParameterRange, draw_parameters

A, B = 7.0, 0.1
"""Of the Ishigami function sin x1 + a sin^2 x2 + b x3^4 sin x1."""
WEIGHTS = np.array([0.0, 1.0, 4.5, 9.0, 99.0, 99.0, 99.0, 99.0])
"""Of the g-function, the product of (|4 x - 2| + a) / (1 + a)."""


def unit_draws(count: int, names: int, seed: int) -> dict[str, np.ndarray]:
    ranges = [
        ParameterRange(f"x{i}", "uniform", 0, 0.5, 1, "end", "end", "-") for i in range(names)
    ]
    return draw_parameters(ranges, count, seed=seed)


def ishigami(x: np.ndarray) -> np.ndarray:
    one, two, three = np.pi * (2 * x - 1)
    return np.sin(one) + A * np.sin(two) ** 2 + B * three**4 * np.sin(one)


def g_function(x: np.ndarray) -> np.ndarray:
    return np.prod((np.abs(4 * x.T - 2) + WEIGHTS) / (1 + WEIGHTS), axis=1)


def stacked(draws: dict[str, np.ndarray]) -> np.ndarray:
    return np.array(list(draws.values()))


@pytest.mark.published("saltelli2000", "Ishigami, a 7, b 0.1, from memory", of=(first_shares,))
def test_ishigami_shares_are_those_of_the_book():
    known = ("0.3139", "0.4424", "0.0000")
    variance = A**2 / 8 + B * np.pi**4 / 5 + B**2 * np.pi**8 / 18 + 0.5
    by_formula = (0.5 * (1 + B * np.pi**4 / 5) ** 2 / variance, A**2 / 8 / variance, 0.0)
    assert [printed(text) == value for text, value in zip(known, by_formula, strict=True)]
    draws = unit_draws(1024, 3, 1)
    found = first_shares(draws, ishigami(stacked(draws)))
    for share, text in zip(found.first.values(), known, strict=True):
        assert abs(share.share - float(text)) < 3 * share.error
    assert found.together.share == pytest.approx(0.3139 + 0.4424, abs=3 * found.together.error)
    assert not found.first["x2"].is_told


@pytest.mark.by_hand(of=(first_shares,))
def test_g_function_shares_are_those_of_its_closed_form():
    """V_i = 1 / (3 (1 + a_i)^2) and V = prod(1 + V_i) - 1; largest first 0.716, 0.179, 0.024."""
    alone = 1 / (3 * (1 + WEIGHTS) ** 2)
    known = alone / (np.prod(1 + alone) - 1)
    assert known[:3] == pytest.approx([0.7162, 0.1790, 0.0237], abs=5e-5)
    draws = unit_draws(1024, 8, 2)
    found = first_shares(draws, g_function(stacked(draws)))
    for share, true in zip(found.first.values(), known, strict=True):
        assert abs(share.share - true) < 3 * share.error
    assert are_apart(found.first["x0"], found.first["x1"])
    assert not are_apart(found.first["x4"], found.first["x5"])


@pytest.mark.by_hand(of=(total_share,))
def test_total_shares_are_those_of_the_closed_forms():
    """T of the g-function: V_i prod over the others of (1 + V_j), over V."""
    alone = 1 / (3 * (1 + WEIGHTS) ** 2)
    variance = float(np.prod(1 + alone) - 1)
    base, other = (stacked(unit_draws(512, 8, seed)) for seed in (3, 4))
    for i in (0, 1, 2, 7):
        mixed = base.copy()
        mixed[i] = other[i]
        total = total_share(g_function(base), g_function(mixed))
        true = alone[i] * np.prod(1 + np.delete(alone, i)) / variance
        assert abs(total.share - true) < 3 * total.error
    spread = A**2 / 8 + B * np.pi**4 / 5 + B**2 * np.pi**8 / 18 + 0.5
    base, other = (stacked(unit_draws(512, 3, seed)) for seed in (5, 6))
    mixed = base.copy()
    mixed[2] = other[2]
    total = total_share(ishigami(base), ishigami(mixed))
    true = 8 * B**2 * np.pi**8 / 225 / spread
    assert true == pytest.approx(0.2437, abs=5e-5)
    assert abs(total.share - true) < 3 * total.error


@pytest.mark.oracle("SALib 1.6.0", of=(first_shares, total_share))
def test_shares_are_those_of_another_library():
    problem = {"num_vars": 3, "names": ["x0", "x1", "x2"], "bounds": [[0.0, 1.0]] * 3}
    draws = unit_draws(1024, 3, 7)
    x, output = stacked(draws), ishigami(stacked(draws))
    found = first_shares(draws, output)
    theirs = rbd_fast.analyze(problem, x.T, output, M=6, num_resamples=10, seed=1)
    for share, other in zip(found.first.values(), theirs["S1"], strict=True):
        assert share.share == pytest.approx(other, abs=0.02)
    pairs = sobol_sample.sample(problem, 256, calc_second_order=False, seed=1)
    values = ishigami(pairs.T)
    totals = sobol.analyze(problem, values, calc_second_order=False, seed=1)["ST"]
    base = values[0::5]
    for i in range(3):
        ours = total_share(base, values[i + 1 :: 5])
        assert abs(ours.share - totals[i]) < 3 * ours.error


@pytest.mark.law(of=(first_shares,))
def test_errors_are_the_spread_of_shares_over_other_draws():
    found = []
    for seed in range(24):
        draws = unit_draws(512, 8, seed)
        found.append(first_shares(draws, g_function(stacked(draws))).first["x1"])
    spread = float(np.std([each.share for each in found], ddof=1))
    said = float(np.mean([each.error for each in found]))
    assert 0.7 < said / spread < 2.0


@pytest.mark.law(of=(first_shares,))
@settings(max_examples=30)
@given(st.lists(st.floats(0.2, 5.0), min_size=2, max_size=5), st.integers(1, 1000))
def test_shares_of_a_sum_add_up_to_one(slopes: list[float], seed: int):
    draws = unit_draws(256, len(slopes), seed)
    output = np.array(slopes) @ stacked(draws)
    found = first_shares(draws, output)
    assert abs(found.together.share - 1.0) < 4 * found.together.error + 0.01
    squares = np.array(slopes) ** 2 / np.sum(np.array(slopes) ** 2)
    for share, true in zip(found.first.values(), squares, strict=True):
        assert abs(share.share - true) < 5 * share.error + 0.01


@pytest.mark.law(of=(first_shares,))
@settings(max_examples=30)
@given(st.floats(0.1, 9.0), st.floats(-5.0, 5.0))
def test_shares_know_no_unit_of_the_answer_nor_law_of_the_draws(scale: float, shift: float):
    draws = unit_draws(128, 3, 9)
    output = ishigami(stacked(draws))
    one = first_shares(draws, output)
    other = first_shares({n: np.exp(3 * v) for n, v in draws.items()}, scale * output + shift)
    for name, share in one.first.items():
        assert other.first[name].share == pytest.approx(share.share, rel=1e-9, abs=1e-9)


@pytest.mark.by_hand(of=(year_share,))
def test_share_of_the_year_in_a_table_of_two_ways():
    """Draws -1 and 1, years -2, 0 and 2: variances 1 and 8/3, so the year has 8/11."""
    table = np.add.outer(np.array([-1.0, 1.0]), np.array([-2.0, 0.0, 2.0]))
    found = year_share(table)
    assert found.share == pytest.approx((8 / 3 - 1 / 2) / (8 / 3 + 1))
    many = year_share(np.add.outer(np.tile([-1.0, 1.0], 500), np.array([-2.0, 0.0, 2.0])))
    assert many.share == pytest.approx(8 / 11, abs=1e-3)
    assert many.error > 0


@pytest.mark.by_hand(of=(are_apart, jackknifed, groups_of))
def test_small_differences_are_not_told_apart():
    assert are_apart(Share(0.5, 0.05), Share(0.3, 0.05))  # 0.2 > 2 * 0.0707
    assert not are_apart(Share(0.5, 0.08), Share(0.3, 0.08))  # 0.2 < 2 * 0.113
    assert [group.tolist() for group in groups_of(5, 2)] == [[0, 2, 4], [1, 3]]
    values = np.arange(10.0)
    error = jackknifed(lambda kept: float(values[kept].mean()), 10, 10)
    assert error == pytest.approx(values.std(ddof=1) / np.sqrt(10))


@pytest.mark.works(of=(first_shares, total_share, year_share))
def test_what_has_no_shares_is_refused():
    draws = unit_draws(64, 2, 1)
    for output, words in (
        (np.zeros(64), "It lies above 0"),
        (np.full(64, np.nan), "no numbers"),
        (np.zeros(12), "At least 64"),
    ):
        with pytest.raises(OutOfDomain, match=words):
            first_shares(draws, output)
    with pytest.raises(OutOfDomain, match="As many as the base"):
        total_share(np.ones(64), np.ones(63))
    with pytest.raises(OutOfDomain, match="It lies above 0"):
        total_share(np.ones(64), np.ones(64))
    with pytest.raises(OutOfDomain, match="Three or more"):
        year_share(np.ones((4, 2)))

# SPDX-License-Identifier: Apache-2.0
"""Corbel Farm with four invented years of daily flow, and more inputs as a test wants them."""

from collections.abc import Mapping
from functools import cache

import numpy as np

from tests.jobs import corbel_inputs, with_givens
from tilewater.basis.trace import Given, Origin, Value
from tilewater.chain.design import Design, design_bed
from tilewater.chain.inputs import JobInputs

DAYS = 4 * 365 + 1
DATES = np.arange(DAYS) + np.datetime64("2010-01-01")


@cache
def depths() -> np.ndarray:
    """Daily depth of drain flow, wet in spring. [m/s]"""
    random = np.random.default_rng(11)
    depth = np.zeros(DAYS)
    for day in range(1, DAYS):
        rain = random.gamma(1.0, 3.0) if random.random() < 0.2 and day % 365 < 200 else 0.0
        depth[day] = 0.8 * depth[day - 1] + rain
    return np.minimum(depth, 12.0) / 1000 / 86400


def recorded(more: Mapping[str, Value] | None = None) -> JobInputs:
    """The farm with that record; keys of `more` without their `inputs.`."""
    givens = {"record.daily_depth_m_s": depths(), "record.day": DATES, **(more or {})}
    return with_givens(
        corbel_inputs(),
        *(Given(f"inputs.{key}", value, "", key, Origin()) for key, value in givens.items()),
    )


@cache
def plain_design() -> Design:
    """The farm as it is, with that record."""
    return design_bed(recorded())

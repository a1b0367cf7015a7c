# SPDX-License-Identifier: Apache-2.0
"""Merridew Farm as the chain takes it: the example's job with prices, some inputs changed."""

from collections.abc import Mapping
from functools import cache

import numpy as np

from tests.jobs import FOOT, prices, with_givens
from tilewater.basis.trace import Given, Origin, Value
from tilewater.chain.inputs import JobInputs
from tilewater.job.reading import read_job
from tools.package import ROOT

FARM = ROOT / "examples" / "merridew-farm"
LINE_PRICES = {"perforated-pipe-4-in": 1.45, "solid-pipe-4-in": 2.60}
"""What a foot costs; nobody asks these prices. [USD]"""


@cache
def _merridew() -> JobInputs:
    job = read_job(FARM)
    more = tuple(
        Given(f"inputs.price.{item}.usd", price / FOOT, "USD", f"Unit price of {item}")
        for item, price in LINE_PRICES.items()
    )
    return JobInputs(job.name, (*job.givens, *prices(), *more), job.overrules, job.assumptions)


def merridew_inputs(changes: Mapping[str, Value] | None = None) -> JobInputs:
    """Merridew Farm with prices, some inputs changed; keys without their `inputs.`."""
    return _merridew().changed({f"inputs.{key}": value for key, value in (changes or {}).items()})


def with_days(job: JobInputs) -> JobInputs:
    """The same job with four invented years of flow, wet in spring, so that its days are known."""
    day = np.arange(4 * 365 + 1) + np.datetime64("2010-01-01")
    random = np.random.default_rng(7)
    depth = np.zeros(day.size)
    for each in range(1, day.size):
        rain = random.gamma(1.0, 3.0) if random.random() < 0.2 and each % 365 < 200 else 0.0
        depth[each] = 0.8 * depth[each - 1] + rain
    daily = np.minimum(depth, 12.0) / 1000 / 86400
    return with_givens(
        job,
        Given("inputs.record.daily_depth_m_s", daily, "m/s", "Daily drain flow", Origin()),
        Given("inputs.record.day", day, "", "Days", Origin()),
    )

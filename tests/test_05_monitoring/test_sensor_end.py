# SPDX-License-Identifier: Apache-2.0
"""Flow while a logger was at the end of what it reads."""

import numpy as np
import pytest
from scipy import stats

from tilewater.monitoring.sensor_end import HIGH, mean_flow_beyond


@pytest.mark.by_hand(of=(mean_flow_beyond,))
def test_the_mean_beyond_is_all_that_lasted_over_what_was_read() -> None:
    flow = np.concatenate((np.full(180, 1.0), np.linspace(1.1, 3.0, 20), np.full(5, 3.0)))
    at_least = np.arange(205) >= 200
    over = float(np.quantile(flow[:200], HIGH))
    # the twenty high flows read lie over u, and five readings at the end were 3 - u over it
    high = flow[:200][flow[:200] > over]
    assert mean_flow_beyond(flow, at_least) == pytest.approx(
        (np.sum(high - over) + 5 * (3.0 - over)) / high.size
    )
    assert mean_flow_beyond(flow, np.zeros(205, np.bool_)) == 0.0


@pytest.mark.oracle("scipy 1.17 stats.expon with CensoredData", of=(mean_flow_beyond,))
def test_the_mean_of_a_cut_off_tail_is_that_of_another_library() -> None:
    drawn = np.random.default_rng(5).exponential(0.3, 4000)
    ended = drawn > 1.0
    flow = np.where(ended, 1.0, drawn)
    over = float(np.quantile(flow[~ended], HIGH))
    tail = flow[flow > over] - over
    cut = stats.CensoredData.right_censored(tail, ended[flow > over])
    _, scale = stats.expon.fit(cut, floc=0.0)
    assert mean_flow_beyond(flow, ended) == pytest.approx(scale, rel=1e-3)
    assert scale == pytest.approx(0.3, rel=0.2)


@pytest.mark.works(of=(mean_flow_beyond,))
def test_without_high_flows_that_were_read_nothing_is_added() -> None:
    flow, ended = np.array([0.0, 0.5, 2.0, 2.0]), np.array([False, False, True, True])
    assert mean_flow_beyond(flow, ended) == 0.0

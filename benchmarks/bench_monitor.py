# SPDX-License-Identifier: Apache-2.0
"""A year of four loggers at a quarter of an hour, led over boards and into loads with their range.

The yardstick is one sort of as many numbers as the loggers read, which touches each a few times.
"""

from collections.abc import Iterator

import numpy as np

from benchmarks.ratio import Ratio, best_times
from tilewater.chain.monitor import analyse
from tilewater.hydraulics.board_sets import board_set_sharp_francis
from tilewater.monitoring.series import DAY, Floats, Samples, Series, grab_samples
from tilewater.monitoring.stage_flow import BoardSetting, FlowRecord, stage_flow

READINGS = 366 * 96
STEP_S = 900.0
CREST, SILL = 360.5, 359.9
ROUNDS = 5
SORTS = 10


def levels() -> dict[str, Series]:
    """Levels of both structures, of the ditch, and a flow of the main, with gaps."""
    random = np.random.default_rng(5)
    time: Floats = STEP_S * np.arange(READINGS, dtype=np.float64)
    head = np.maximum(0.06 + 0.05 * np.sin(time / DAY / 9.0), 0.0)
    made = {}
    for name, crest in (("outlet", CREST), ("inlet", CREST + 0.3), ("ditch", CREST - 0.6)):
        value = crest + head * random.uniform(0.4, 1.0) + random.normal(0.0, 0.001, READINGS)
        value[5000:5300] = np.nan
        made[name] = Series(name, time, value)
    made["total"] = Series("total", time, 0.004 + 0.05 * head)
    return made


def bottles() -> dict[str, Samples]:
    """A bottle a week at both ends."""
    time = DAY * np.arange(2.0, 364.0, 7.0)
    came = 13.0 + np.sin(time / DAY / 20.0)
    return {
        "inlet": grab_samples("inlet", time, came),
        "outlet": grab_samples("outlet", time, came - 4.0, detection_mg_per_l=0.2),
    }


def report(logged: dict[str, Series], samples: dict[str, Samples]) -> None:
    """The whole analysis of a year."""
    boards = board_set_sharp_francis(CREST, SILL, crest_width=0.36)
    settings = (BoardSetting(-np.inf, boards),)
    past = (BoardSetting(-np.inf, boards._replace(crest=CREST + 0.3)),)
    flows: dict[str, FlowRecord | Series] = {
        "treated": stage_flow(logged["outlet"], settings, logged["ditch"]),
        "bypass": stage_flow(logged["inlet"], past, logged["ditch"]),
        "total": logged["total"],
    }
    analyse(flows, samples, start_s=0.0, end_s=366 * DAY)


def measure() -> Iterator[Ratio]:
    """Yield the cost of a year's report against sorting its readings ten times."""
    logged, samples = levels(), bottles()
    numbers = np.random.default_rng(1).random(4 * READINGS)

    def sort() -> None:
        for _ in range(SORTS):
            np.sort(numbers)

    def whole() -> None:
        report(logged, samples)

    sorted_in, reported = best_times(sort, whole, rounds=ROUNDS)
    yield Ratio(
        "a year of four loggers at a quarter of an hour, to loads with their range",
        "ten sorts of all its readings",
        reported / sorted_in,
    )

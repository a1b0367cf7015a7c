# SPDX-License-Identifier: Apache-2.0
"""What a search of the boards costs beside the days that it routes.

The built farm with thirty years: every setting led through the days once, then every way to part
the year among the owner's days. The kernel alone routes the same settings, tables made before; what
every year routed anew would cost is counted from that. By itself:
python -m benchmarks.bench_operate
"""

from collections.abc import Iterator
from functools import cache
from math import comb
from pathlib import Path

from benchmarks.ratio import Ratio, best_times
from tilewater.basis.trace import Trace
from tilewater.chain.bed import BED
from tilewater.chain.design import design_practice
from tilewater.chain.operate import add_operation
from tilewater.chain.operate_days import days_of_bed, set_to
from tilewater.chain.operate_search import best_schedules
from tilewater.chain.operate_settings import CHOICES, HERE, LEAST, groups_of
from tilewater.practices.bed.route import route_days
from tilewater.tasks.checking import job_inputs

BUILT = Path(__file__).resolve().parents[1] / "examples" / "corbel-built"
ROUNDS = 3


@cache
def operated() -> Trace:
    """The built farm with the steps of its search."""
    trace = design_practice(job_inputs(BUILT)[0], BED).trace
    add_operation(trace, "bed")
    return trace


def measure() -> Iterator[Ratio]:
    """Settings through the days, and the years put together from them, over the bare kernel."""
    trace = operated()
    value = trace.value
    groups = [f"{HERE}.group.{name}.table" for name in groups_of(value(CHOICES))]
    tables = [value(key) for key in groups]
    series, bed = value("days.series"), value("days.middle")

    def led() -> None:
        for table in tables:
            days_of_bed(series, bed, table, value(LEAST))

    def kernel() -> None:
        for table in tables:
            for setting in range(table.capacity.shape[0]):
                route_days(set_to(series, setting), bed, table)

    def years() -> None:
        best_schedules(value(f"{HERE}.asked"), 3.0)

    led_s, kernel_s, years_s = best_times(led, kernel, years, rounds=ROUNDS)
    yield Ratio("settings through the days", "the same in the bare kernel", led_s / kernel_s)
    turns, count = len(value(f"{HERE}.asked").turns), len(value(CHOICES))
    routed = comb(turns, 3) * count**3 * kernel_s / count
    yield Ratio(
        "every year with three settings routed anew", "those days put together", routed / years_s
    )


if __name__ == "__main__":
    for ratio in measure():
        print(f"{ratio.measured} / {ratio.against}: {ratio.value:.3g}")

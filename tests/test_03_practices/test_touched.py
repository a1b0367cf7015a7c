# SPDX-License-Identifier: Apache-2.0
"""A table that is filled where days read it gives the sums of a whole one."""

from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
import pytest

from tests.test_06_chain.test_days import with_record
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.trace import Trace
from tilewater.chain.design import design_bed
from tilewater.practices.bed._split import Array
from tilewater.practices.bed.days import bed_table, media_knots
from tilewater.practices.bed.route import BedYears, route_by_year
from tilewater.practices.bed.split import empty_table
from tilewater.practices.bed.touched import ready_to_route, row_of
from tilewater.practices.bed.works import NO_BOARDS, CellPlan, Cells

PARTS = (
    "shape",
    "bypass",
    "conductivity_new",
    "conductivity_aged",
    "ward_coefficient",
    "highest_stage",
    "most",
    "lower",
)


@cache
def trace() -> Trace:
    return design_bed(with_record()).trace


def works(**changed: Any) -> dict[str, Any]:
    """What the table of the bed is made of, by the names of `bed_table`."""
    steps = dict(trace().steps["days.table"].inputs)
    return {name: trace().value(key) for name, key in steps.items()} | changed


def sums(beds: tuple[BedYears, ...], **changed: Any) -> Array:
    given = works(**changed)
    parts = {name: given.pop(name) for name in PARTS if name in given}
    series, year = trace().value("days.series"), trace().value("days.year")
    return ready_to_route(series, year, beds, settings=given, **parts).go()


@pytest.mark.law(of=(ready_to_route, row_of, empty_table, media_knots))
@pytest.mark.parametrize("longer", [0.5, 1.0, 3.0])
def test_what_days_read_is_what_a_whole_table_holds(longer: float) -> None:
    shape = trace().value("bed.shape")
    shape = replace(shape, length=longer * shape.length)
    beds = trace().value("days.draws")[:40]

    whole = bed_table(**works(shape=shape))

    series, year = trace().value("days.series"), trace().value("days.year")
    assert np.array_equal(route_by_year(series, year, beds, whole), sums(beds, shape=shape))


@pytest.mark.works(of=(ready_to_route,))
def test_a_bed_in_cells_is_refused() -> None:
    plan = CellPlan(trace().value("bed.shape"), NO_BOARDS)

    with pytest.raises(OutOfDomain, match=r"^The bed is in cells\. .* Fill the whole table\.$"):
        sums(trace().value("days.draws")[:1], shape=Cells((plan, plan)))

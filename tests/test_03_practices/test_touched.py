# SPDX-License-Identifier: Apache-2.0
"""A table that is filled where days read it gives the sums of a whole one."""

from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
import pytest

from tests.test_06_chain.test_days import with_record
from tilewater.basis.compiled import compiled
from tilewater.basis.trace import Trace
from tilewater.chain.design import design_bed
from tilewater.practices.bed import _split
from tilewater.practices.bed._split import Array
from tilewater.practices.bed.board_steps import set_key
from tilewater.practices.bed.capacity import Media
from tilewater.practices.bed.days import bed_table, media_knots
from tilewater.practices.bed.life import age_where, media_at_age, permeability_years
from tilewater.practices.bed.route import BedYears, route_by_year
from tilewater.practices.bed.split import (
    apparent_conductivities,
    apparent_conductivity,
    empty_table,
)
from tilewater.practices.bed.system import bed_flow_at_diversion, wet_media_volume
from tilewater.practices.bed.touched import (
    bed_flow_compiled,
    permeability_years_compiled,
    ready_to_route,
    row_of,
    wet_volume_compiled,
)
from tilewater.practices.bed.touched_cells import CellsToRoute
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


@cache
def in_cells() -> Cells:
    """Two cells of the bed's depth, the second shorter and shut until the water stands high."""
    shape, boards = trace().value("bed.shape"), trace().value(set_key("inlet"))
    first, second = replace(shape, width=5.5), replace(shape, width=4.0, length=0.8 * shape.length)
    return Cells((CellPlan(first, NO_BOARDS), CellPlan(second, boards)))


@pytest.mark.law(of=(CellsToRoute, ready_to_route))
def test_what_days_read_of_a_bed_in_cells_is_what_a_whole_table_holds() -> None:
    """One medium of one setting is filled whole; all that the days read of it is there."""
    given = works(shape=in_cells())
    parts = {name: given.pop(name) for name in PARTS if name in given}
    series, year = trace().value("days.series"), trace().value("days.year")
    beds = trace().value("days.draws")[:2]
    made = ready_to_route(series, year, beds, settings=given, **parts)
    assert isinstance(made, CellsToRoute)
    sums = made.go()
    read = ~np.isnan(made.table.capacity)
    assert 0.0 < read.mean() < 0.7
    counts = np.count_nonzero(read, axis=2)
    setting, row = np.unravel_index(int(np.argmax(counts)), counts.shape)
    whole = made.table._replace(
        capacity=np.full_like(made.table.capacity, np.nan),
        under=np.full_like(made.table.under, np.nan),
        over=np.full_like(made.table.over, np.nan),
    )

    compiled(_split.fill_one)(int(setting), int(row), made.works[setting][row], whole)

    for filled, all_of_it in zip(made.table[3:], whole[3:], strict=True):
        here, there = filled[setting, row], all_of_it[setting, row]
        assert np.array_equal(here[~np.isnan(here)], there[~np.isnan(here)])
        assert not np.isnan(there).any()
        assert not np.isnan(here).all()
    again = made.series, year, beds, made.table
    assert np.array_equal(sums, route_by_year(*again))  # nothing that is read is not filled
    assert not np.isnan(sums).any()


@pytest.mark.law(of=(permeability_years, permeability_years_compiled, age_where, media_at_age))
def test_the_compiled_age_is_the_readable_one() -> None:
    task, peak = trace().value("life.task"), trace().value("drain_flow.peak_for_share_m3_s")
    ages = set()
    for longer in (0.3, 0.7, 1.0, 1.3, 2.0, 5.0):
        for share in (0.005, 0.05, 0.15, 0.2, 0.5):
            shape = replace(task.shape, length=longer * task.shape.length)
            other = replace(task, shape=shape)
            plain = permeability_years(other, peak, share)
            assert permeability_years_compiled(other, peak, share) == pytest.approx(plain, abs=1e-6)
            ages.add(round(plain))
    assert {0, 60} < ages


@pytest.mark.law(of=(bed_flow_compiled, wet_volume_compiled))
@pytest.mark.parametrize("longer", [0.4, 1.0, 2.5])
def test_quick_twins_are_the_readable_ones_to_the_last_digit(longer: float) -> None:
    task = trace().value("life.task")
    shape = replace(task.shape, length=longer * task.shape.length)
    path = (task.path, shape, media_at_age(task, 3.0))
    flow = bed_flow_compiled(task.level, task.tailwater, *path)
    assert flow == bed_flow_at_diversion(task.level, task.tailwater, *path)
    for share in (0.0, 0.3, 1.0, -0.1):
        way = (share * flow, task.tailwater, *path)
        assert wet_volume_compiled(*way) == wet_media_volume(*way)


@pytest.mark.law(of=(apparent_conductivities, apparent_conductivity))
def test_media_in_one_go_show_what_each_shows_by_itself() -> None:
    media = media_knots(0.095, 0.045, 0.55)
    together = apparent_conductivities(media, 0.004)
    alone = [apparent_conductivity(Media(float(k), float(b)), 0.004) for k, b in media]
    assert together.tolist() == alone


@pytest.mark.law(of=(permeability_years_compiled, bed_flow_compiled, wet_volume_compiled))
def test_quick_twins_of_cells_are_the_readable_ones_to_the_last_digit() -> None:
    task = replace(trace().value("life.task"), shape=in_cells())
    peak = trace().value("drain_flow.peak_for_share_m3_s")
    age = permeability_years(task, peak, 0.12)
    assert 0.0 < age < 60.0
    assert permeability_years_compiled(task, peak, 0.12) == age
    way = (task.level, task.tailwater, task.path, task.shape, media_at_age(task, 3.0))
    flow = bed_flow_compiled(*way)
    assert flow == bed_flow_at_diversion(*way)
    assert wet_volume_compiled(flow, *way[1:]) == wet_media_volume(flow, *way[1:])

# SPDX-License-Identifier: Apache-2.0
"""Tables of how an inflow divides, against the balance they are made of."""

from functools import cache

import numpy as np
import pytest

from tests.jobs import CFS, FOOT, corbel_inputs
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.trace import Trace
from tilewater.chain.design import design_bed
from tilewater.hydraulics.media import conductivity_at_temperature, forchheimer_inertia_ward
from tilewater.practices.bed import _split
from tilewater.practices.bed._system import Machine, split_flow
from tilewater.practices.bed.capacity import Media
from tilewater.practices.bed.split import (
    SplitTable,
    apparent_conductivity,
    bed_gradient,
    read_split,
    read_split_series,
    split_table,
    stage_knots,
)
from tilewater.practices.bed.split_error import BOUND, BOUND_DROWNED, split_table_error
from tilewater.practices.bed.system import machine_of

SETTINGS = ("design", "summer", "autumn")
BANK_TOP = 1185.75 * FOOT
MOST = 1.63 * CFS
KNOTS = np.geomspace(0.012, 0.12, 8)


@cache
def trace() -> Trace:
    return design_bed(corbel_inputs()).trace


def machine(setting: str, conductivity_20: float, temperature: float = 20.0) -> Machine:
    """Works of Corbel Farm with media of a conductivity, in water of a temperature."""
    media = Media(
        float(conductivity_at_temperature(conductivity_20, temperature)),
        float(forchheimer_inertia_ward(conductivity_20, ward_coefficient=0.55)),
    )
    return machine_of(
        trace().value(f"system.path-{setting}"),
        trace().value("bed.shape"),
        media,
        bypass=trace().value("system.bypass.pipe"),
        bypass_boards=trace().value(f"structure.inlet.set-{setting}"),
    )


@cache
def table(setting: str) -> SplitTable:
    media = [machine(setting, float(k)) for k in KNOTS]
    return split_table([media], highest_stage=BANK_TOP, most=MOST)


def others(setting: str) -> list[Machine]:
    """Media between the knots, in waters from 1 to 22 degC."""
    draw = np.random.default_rng(20)
    between = np.exp(draw.uniform(np.log(0.022), np.log(0.11), 20))
    return [machine(setting, float(k), float(draw.uniform(1, 22))) for k in between]


@pytest.mark.law(of=(split_table, split_table_error))
@pytest.mark.parametrize("setting", SETTINGS)
def test_table_keeps_its_bound_off_its_knots(setting):
    error = split_table_error(table(setting), others(setting), points=40, seed=7)
    assert error.points == 800
    assert 0 < error.bed_flow <= BOUND
    assert error.level < 0.01
    assert error.wet_volume <= 2 * BOUND


@pytest.mark.law(of=(split_table, split_table_error))
@pytest.mark.parametrize("setting", SETTINGS)
def test_table_keeps_its_wider_bound_where_the_ditch_drowns_both_crests(setting):
    error = split_table_error(table(setting), others(setting), points=40, seed=7, drowned=True)
    assert 0 < error.bed_flow <= BOUND_DROWNED


@pytest.mark.law(of=(split_table, read_split))
def test_table_is_the_balance_on_its_knots():
    held = table("design")
    for row in (0, 3, 7):
        whole = machine("design", float(KNOTS[row]))
        for column in (0, 4, held.stage.shape[1] - 1):
            capacity, stage = held.capacity[0, row, column], held.stage[0, column]
            for inflow in (0.0, capacity, MOST):
                read = read_split(
                    held, inflow, conductivity=held.conductivity[row], stage=float(stage)
                )
                there = split_flow(float(inflow), float(stage), float(stage), whole)
                assert read.bed_flow == pytest.approx(there.bed_flow, abs=1e-8)


@pytest.mark.law(of=(read_split,))
def test_bed_flow_and_level_never_fall_as_the_inflow_grows():
    inflow = np.linspace(0, 1.2 * MOST, 2000)
    for conductivity in (0.013, 0.04, 0.09):
        for stage in (1179.0, 1182.5, 1183.9, 1184.6):
            out = read_split_series(
                table("design"),
                inflow,
                conductivity=np.full(2000, conductivity),
                stage=np.full(2000, stage * FOOT),
                setting=np.zeros(2000, dtype=np.int64),
            )
            assert np.diff(out[:, 0]).min() >= -1e-12
            assert np.diff(out[:, 1]).min() >= -1e-9
            assert np.all(out[:, 0] <= np.minimum(inflow, MOST) + 1e-12)


@pytest.mark.works(of=(read_split_series,))
def test_a_series_reads_as_its_days_do():
    draw = np.random.default_rng(3)
    inflow = draw.uniform(0, MOST, 50)
    conductivity, stage = draw.uniform(0.01, 0.1, 50), draw.uniform(360, 361.4, 50)
    setting = draw.integers(0, 2, 50)
    media = [[machine(name, float(k)) for k in KNOTS] for name in ("design", "autumn")]
    both = split_table(media, highest_stage=BANK_TOP, most=MOST)
    series = read_split_series(
        both, inflow, conductivity=conductivity, stage=stage, setting=setting
    )
    for day in range(50):
        one = _split.divide_by(inflow[day], conductivity[day], stage[day], setting[day], both)
        assert tuple(series[day]) == tuple(one)


@pytest.mark.by_hand(of=(apparent_conductivity,))
def test_media_show_less_than_their_conductivity_by_their_inertia():
    # i = q/K + b q2 at K 0.1 m/s, b 400 s2/m2, i 0.015: q = (-10 + sqrt(100 + 24)) / 800
    assert apparent_conductivity(Media(0.1, 400.0), 0.015) == pytest.approx(
        (-10 + (100 + 24) ** 0.5) / 800 / 0.015
    )


@pytest.mark.law(of=(stage_knots, bed_gradient))
def test_knots_of_the_ditch_rise_and_hold_both_crests():
    whole = machine("design", 0.04)
    knots = stage_knots(whole, BANK_TOP)
    assert np.all(np.diff(knots) > 0)
    assert whole.bypass_boards.crest in knots
    assert knots[-1] >= BANK_TOP
    assert bed_gradient(whole) == pytest.approx(1.5 / 100)


@pytest.mark.works(of=(split_table,))
def test_one_medium_makes_no_table():
    with pytest.raises(OutOfDomain, match="from the worst to the best"):
        split_table([[machine("design", 0.04)]], highest_stage=BANK_TOP, most=MOST)
    with pytest.raises(OutOfDomain, match="most is 0"):
        split_table([[machine("design", 0.04)]], highest_stage=BANK_TOP, most=0.0)

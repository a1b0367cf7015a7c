# SPDX-License-Identifier: Apache-2.0
"""Laws of a buffer as crest, length, width, conductivity and stage are swept.

First at steady heads by the steps of a design, then over four years of days by the routing.
"""

from collections.abc import Sequence
from functools import cache
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from tests.buffers import designed as designed_buffer
from tests.jobs import FOOT, INCH
from tilewater.basis.trace import Value
from tilewater.hydraulics.board_sets import board_set_sharp_francis
from tilewater.practices.bed.route import DaySeries
from tilewater.practices.buffer.draws import middle_buffer
from tilewater.practices.buffer.line import flow_at_heads, travel_days
from tilewater.practices.buffer.route import (
    BufferDraw,
    board_table,
    buffer_years,
    day_series,
    route_buffer_by_year,
)
from tilewater.practices.buffer.steps import add_ground

DAY = 86400.0
BARRIER, CREST, STAGE = 100.0, 101.8, 100.8
FLOW, TIME, GRADIENT = "buffer.flow_m3_s", "buffer.travel_time_days", "buffer.gradient"
EXIT, EDGE, SEEP = "buffer.exit_gradient", "buffer.field_edge.standing_m", "buffer.seep_m"
LOWEST = 737.9 * FOOT
"""Sill of the structure. [m]"""


def swept(key: str, values: Sequence[Value], *asked: str) -> list[NDArray[np.float64]]:
    """Numbers of the buffer of the hand arithmetic as one input is swept."""
    traces = [
        designed_buffer({"inputs.boards.heights_m": (2 * INCH,), key: value}, holes=False)
        for value in values
    ]
    return [np.array([float(trace.value(each)) for trace in traces]) for each in asked]


def rises(values: NDArray[np.float64]) -> bool:
    return bool(np.all(np.diff(values) > 0))


def falls(values: NDArray[np.float64]) -> bool:
    return rises(-values)


@pytest.mark.law(of=(add_ground, flow_at_heads, travel_days))
def test_a_higher_crest_takes_more_holds_it_less_and_wets_field_and_bank_more() -> None:
    """Stacks of 52 to 62 in on a sill at 737.9 ft, the line at 742.0 ft."""
    crests = [inches * INCH for inches in range(52, 64, 2)]
    flow, time, gradient, exits, edge = swept(
        "inputs.boards.inlet_m", crests, FLOW, TIME, GRADIENT, EXIT, EDGE
    )

    assert rises(flow)
    assert falls(time)
    assert rises(gradient)
    assert rises(exits)
    assert falls(edge)
    assert np.allclose(np.diff(edge), -2 * INCH)
    # more than in line, since the flow goes with the square of the head
    assert np.all(np.diff(flow, 2) > 0)


@pytest.mark.law(of=(add_ground, flow_at_heads))
def test_a_crest_under_the_line_or_at_the_ditch_sends_nothing() -> None:
    (under,) = swept("inputs.boards.inlet_m", [48 * INCH], FLOW)
    crest = LOWEST + 54 * INCH
    at_ditch, just_under = swept("ditch.year.stage_m", [crest, crest - 0.01 * FOOT], FLOW)[0]

    assert under[0] == 0.0
    assert at_ditch == 0.0
    assert 0.0 < just_under < 0.01 * designed_buffer(holes=False).value(FLOW)


@pytest.mark.law(of=(add_ground, flow_at_heads))
def test_a_longer_line_takes_more_and_never_more_than_in_proportion() -> None:
    lengths = np.array([50.0, 100.0, 200.0, 400.0, 800.0])
    flow, share = swept(
        "inputs.buffer.branches_m",
        [(each * FOOT, each * FOOT) for each in lengths],
        FLOW,
        "buffer.share_of_peak",
    )

    assert rises(flow)
    assert rises(share)
    per_foot = flow / lengths
    assert falls(per_foot)
    # a line so short that friction is nothing is half of one twice as long
    assert flow[0] / flow[1] == pytest.approx(0.5, rel=2e-3)


@pytest.mark.law(of=(add_ground, flow_at_heads, travel_days))
def test_a_wider_strip_takes_less_holds_it_longer_and_is_less_steep() -> None:
    widths = np.array([20.0, 30.0, 45.0, 60.0, 90.0, 200.0])
    flow, time, gradient, exits = swept(
        "inputs.buffer.width_m", list(widths * FOOT), FLOW, TIME, GRADIENT, EXIT
    )

    assert falls(flow)
    assert rises(time)
    assert falls(gradient)
    assert falls(exits)
    # what the line loses is less and less beside the strip: Q goes with 1/W, the time with W^2
    assert flow[-1] * widths[-1] == pytest.approx(flow[-2] * widths[-2], rel=0.05)
    assert time[-1] / time[-2] == pytest.approx((widths[-1] / widths[-2]) ** 2, rel=0.05)


@pytest.mark.law(of=(add_ground, flow_at_heads, travel_days))
def test_more_conductive_soil_takes_more_and_holds_it_less() -> None:
    soils = [c * 1e-6 for c in (0.001, 1.0, 3.0, 9.0, 27.0, 81.0)]
    flow, time = swept("inputs.buffer_soil.conductivity_survey_m_s", soils, FLOW, TIME)

    assert rises(flow)
    assert falls(time)
    # in tight soil the pipe loses nothing, and the flow goes with the conductivity
    assert flow[1] / flow[0] == pytest.approx(1000.0, rel=0.01)
    assert flow[-1] / flow[-2] < 3.0


@pytest.mark.law(of=(add_ground, flow_at_heads, travel_days))
def test_a_higher_ditch_takes_head_away_and_never_adds_flow() -> None:
    stages = [feet * FOOT for feet in (735.0, 737.0, 738.0, 739.0, 740.0, 741.0, 742.0)]
    flow, time, seep = swept("ditch.year.stage_m", stages, FLOW, TIME, SEEP)

    assert falls(flow)
    assert rises(time[1:])  # over a dry bank the way out steepens
    assert np.all(np.diff(seep) >= 0)
    assert seep[-1] >= stages[-1]


@cache
def years() -> tuple[DaySeries, NDArray[np.int64]]:
    """Four years of wet springs and dry summers, drawn once."""
    random = np.random.default_rng(4)
    flow = np.zeros(4 * 365)
    for day in range(1, flow.size):
        rain = random.gamma(1.0, 0.004) if random.random() < 0.15 and day % 365 < 220 else 0.0
        flow[day] = 0.75 * flow[day - 1] + rain
    return _series(flow, STAGE), np.arange(flow.size) // 365


def _series(flow: NDArray[np.float64], stage: float) -> DaySeries:
    full = np.ones(flow.size)
    return day_series(
        inflow=flow,
        nitrate_mg_per_l=12.0 * full,
        temperature=9.0 + 8.0 * np.sin(2 * np.pi * (np.arange(flow.size) - 100) / 365),
        stage=stage * full,
        setting=np.zeros(flow.size, dtype=np.int64),
    )


def sums(crest: float = CREST, stage: float = STAGE, **changed: Any) -> NDArray[np.float64]:
    """Inflow, into the buffer, load, load into it, removed, days limited, over all years."""
    series, year = years()
    given_soil = {
        "length": 300.0,
        "width": 15.0,
        "barrier": BARRIER,
        "conductivity": 5 / DAY,
        "porosity": 0.35,
        "drainable": 0.10,
        "loss_linear": 20.0,
        "loss_square": 100.0,
        "rate_per_day": 0.1,
    }
    buffer = buffer_years(BufferDraw(**(given_soil | changed)))
    boards = board_table((board_set_sharp_francis(crest, BARRIER, crest_width=0.35), None))
    at_stage = series if stage == STAGE else _series(np.asarray(series.inflow), stage)
    return np.asarray(route_buffer_by_year(at_stage, year, (buffer,), boards, threads=1)[0].sum(0))


INTO, REMOVED = 1, 4


@pytest.mark.law(of=(route_buffer_by_year,))
@settings(max_examples=25, deadline=None)
@given(
    crest=st.floats(101.2, 102.6),
    more=st.floats(0.02, 0.5),
    length=st.floats(50.0, 400.0),
    conductivity=st.floats(0.5, 20.0),
)
def test_over_the_days_crest_length_and_conductivity_take_more_and_stage_takes_less(
    crest: float, more: float, length: float, conductivity: float
) -> None:
    soil = {"length": length, "conductivity": conductivity / DAY}
    own = sums(crest, **soil)

    assert sums(crest + more, **soil)[INTO] >= own[INTO] - 1e-6
    assert sums(crest, **soil | {"length": length * (1 + more)})[INTO] >= own[INTO] - 1e-6
    free = {"conductivity": conductivity * (1 + more) / DAY, "loss_linear": 20.0 / (1 + more)}
    assert sums(crest, **soil | free)[INTO] >= own[INTO] - 1e-6
    assert sums(crest, STAGE + min(more, 0.3), **soil)[INTO] <= own[INTO] + 1e-6
    assert sums(crest, **soil | {"length": length * (1 + more)})[REMOVED] > own[REMOVED]
    assert 0.0 <= own[REMOVED] <= own[3] <= own[2]


@pytest.mark.law(of=(route_buffer_by_year,))
def test_over_the_days_a_wider_strip_takes_less_and_takes_more_out_of_it() -> None:
    tried = [sums(width=width) for width in (6.0, 9.0, 14.0, 21.0, 32.0)]
    into = np.array([each[INTO] for each in tried])
    share = np.array([each[REMOVED] / each[3] for each in tried])

    assert falls(into)
    assert rises(share)


@pytest.mark.law(of=(route_buffer_by_year,))
def test_at_the_ends_of_every_sweep_all_or_nothing_goes_in() -> None:
    whole = sums()[0]

    assert sums(crest=150.0)[INTO] == pytest.approx(whole)
    assert sums(conductivity=1e4 / DAY, loss_linear=0.0, loss_square=0.0)[INTO] == pytest.approx(
        whole
    )
    assert sums(conductivity=1e-9 / DAY, drainable=0.0)[INTO] < 1e-6 * whole
    assert sums(width=1e9, drainable=0.0)[INTO] < 1e-6 * whole
    assert sums(length=1e-6)[INTO] < 1e-6 * whole
    assert sums(rate_per_day=0.0)[REMOVED] == 0.0


@pytest.mark.works(of=(middle_buffer,))
def test_a_buffer_of_the_middle_goes_with_length_over_width() -> None:
    """c = L K / (2 W), A = L W."""
    rest = (BARRIER, 101.5, 5 / DAY, 0.35, 0.10, 20.0, 100.0, 10.0, 0.10, 1.97, 8.0, 2.0)
    one, two = middle_buffer(300.0, 15.0, *rest), middle_buffer(600.0, 7.5, *rest)

    assert two.conductance == pytest.approx(4 * one.conductance)
    assert two.area == pytest.approx(one.area)

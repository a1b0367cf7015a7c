# SPDX-License-Identifier: Apache-2.0
"""What a distribution line gives to the soil, and the heads it takes.

h head, h2 stage, W width, K conductivity, r resistance, Q flow.
"""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_bvp

from tests.digits import printed
from tilewater.basis.errors import OutOfDomain
from tilewater.hydraulics._pipe_run import friction_slope
from tilewater.hydraulics.distribution_line import (
    BranchFlow,
    LinePipe,
    branch_evenness_findings,
    branch_flow,
    line_flow,
    line_flow_compiled,
    line_friction,
    line_run,
)
from tilewater.hydraulics.groundwater import buffer_flow_dupuit, radial_head_loss_ernst
from tilewater.hydraulics.line_exit import (
    LineSoil,
    flow_per_length_with_exit,
    line_exit_resistance_ernst,
    wetted_perimeter_of_pipe,
    wetted_perimeter_of_trench,
)

DAY = 86400.0
FREE = LineSoil(15.0, 1.0 / DAY, 0.0)
LOSSY = LineSoil(15.0, 1.0 / DAY, 2 * 0.5123 * DAY)
PIPE = LinePipe(1.4, 0.1016, 0.015, (150.0, 150.0))


@pytest.mark.oracle("scipy.integrate.solve_bvp", of=(branch_flow,))
@pytest.mark.parametrize("times", [1.0, 20.0, 60.0])
def test_a_branch_that_runs_full_against_a_boundary_value_problem(times):
    soil = LineSoil(15.0, times / DAY, 0.4 * DAY / times)
    head, stage, length = 2.2, 0.8, 150.0

    def rates(x: np.ndarray, state: np.ndarray) -> np.ndarray:
        h, q = state
        slope = friction_slope(0.1016, 1.0, 0.1016, 0.015) * q * np.abs(q)
        out = [flow_per_length_with_exit(max(float(each), 0.0), stage, soil=soil) for each in h]
        return np.vstack([-slope, -np.array(out)])

    start = np.linspace(0.0, length, 41)
    guess = np.vstack([np.full(41, head), np.linspace(1e-3, 0.0, 41)])
    solved = solve_bvp(
        rates, lambda near, far: np.array([near[0] - head, far[1]]), start, guess, tol=1e-8
    )
    assert solved.success
    low = LinePipe(0.2, PIPE.diameter, PIPE.n, PIPE.branches)
    found = branch_flow(head, stage, length, pipe=low, soil=soil)
    assert found.flow == pytest.approx(float(solved.y[1, 0]), rel=1e-4)
    assert found.far_head == pytest.approx(float(solved.y[0, -1]), abs=1e-4)
    assert found.wet_length == length


@pytest.mark.law(of=(line_flow, flow_per_length_with_exit))
def test_without_losses_a_line_gives_what_level_flow_takes():
    wide = LinePipe(0.1, 1.5, 0.001, (150.0, 150.0))
    level = buffer_flow_dupuit(1.8, 0.8, width=15.0, length=300.0, conductivity=1.0 / DAY)
    assert line_flow(1.8, 0.8, pipe=wide, soil=FREE) == pytest.approx(float(level), rel=1e-6)
    assert printed("0.0867") == flow_per_length_with_exit(1.8, 0.8, soil=FREE) * DAY


@pytest.mark.law(of=(flow_per_length_with_exit,))
@given(
    h=st.floats(0.05, 4.0),
    h2=st.floats(0.0, 4.0),
    k=st.floats(1e-7, 1e-3),
    r=st.floats(0.0, 2.0),
)
def test_what_leaves_the_pipe_is_what_the_soil_takes(h, h2, k, r):
    K = k
    soil = LineSoil(9.0, K, r / K)
    q = flow_per_length_with_exit(h, h2, soil=soil)
    if h >= h2:
        outside = h - soil.exit_resistance * q
        assert outside >= -1e-12
        assert q == pytest.approx(K * (outside**2 - h2**2) / 18.0, rel=1e-6, abs=1e-14)
        assert q <= K * (h**2 - h2**2) / 18.0 + 1e-15
    else:
        assert q == -flow_per_length_with_exit(h2, h, soil=soil) < 0
    assert flow_per_length_with_exit(h, h, soil=soil) == 0


@pytest.mark.law(of=(line_flow, branch_flow))
@settings(max_examples=25)
@given(head=st.floats(1.42, 2.5), more=st.floats(0.0, 0.5), k=st.floats(0.2, 60.0))
def test_more_head_and_freer_soil_give_more_and_friction_less(head, more, k):
    K = k
    soil = LineSoil(15.0, K / DAY, 0.5 * DAY / K)
    low = line_flow(head, 0.8, pipe=PIPE, soil=soil)
    assert low <= line_flow(head + more, 0.8, pipe=PIPE, soil=soil) * (1 + 1e-7)
    freer = LineSoil(15.0, 2 * K / DAY, 0.25 * DAY / K)
    assert low <= line_flow(head, 0.8, pipe=PIPE, soil=freer) * (1 + 1e-7)
    most = 300.0 * flow_per_length_with_exit(head, 0.8, soil=soil)
    assert 0 <= low <= most * (1 + 1e-9)


@pytest.mark.law(of=(line_flow, branch_flow))
def test_no_flow_at_equal_heads_or_below_the_pipe():
    assert line_flow(1.8, 1.8, pipe=PIPE, soil=FREE) == 0
    assert line_flow(1.8, 2.0, pipe=PIPE, soil=FREE) == 0
    assert line_flow(1.40, 0.8, pipe=PIPE, soil=FREE) == 0
    assert branch_flow(1.40, 0.8, 150.0, pipe=PIPE, soil=FREE).wet_length == 0


@pytest.mark.law(of=(branch_flow, branch_evenness_findings))
def test_in_free_soil_a_pipe_hardly_wet_ends_dry():
    sand = LineSoil(15.0, 60.0 / DAY, 0.0)
    short = branch_flow(1.44, 0.8, 150.0, pipe=PIPE, soil=sand)
    assert 0 < short.wet_length < 150.0
    assert short.far_share == 0
    (finding,) = branch_evenness_findings([short])
    assert (finding.code, finding.severity) == ("line-uneven", "caution")
    assert branch_evenness_findings([BranchFlow(1e-4, 1.0, 10.0, 0.95)]) == ()


@pytest.mark.law(of=(line_flow_compiled, line_run))
@settings(max_examples=20, deadline=None)
@given(head=st.floats(0.5, 3.0), stage=st.floats(0.1, 2.0), times=st.floats(1.0, 200.0))
def test_the_compiled_line_takes_what_the_readable_one_takes(
    head: float, stage: float, times: float
):
    soil = LineSoil(15.0, times / DAY, 0.4 * DAY / times)
    for pipe in (PIPE, LinePipe(0.2, 0.1016, 0.015, (90.0, 210.0))):
        whole = line_flow(head, stage, pipe=pipe, soil=soil)
        assert line_flow_compiled(head, stage, pipe=pipe, soil=soil) == pytest.approx(
            whole, rel=1e-12, abs=1e-18
        )


@pytest.mark.by_hand(of=(line_friction,))
def test_mean_friction_of_two_branches():
    """4-in tubing, n 0.015: 1 L/s loses 4.584e-4 per metre; 150 m fed at one end lose a quarter
    of that on the mean. Two equal branches carry half the flow each.
    """
    one = 4.126e-5 / 0.0003**2 * 150 / 4
    assert one == pytest.approx(line_friction((150.0,), diameter=0.1016, n=0.015), rel=1e-3)
    assert one / 4 == pytest.approx(
        line_friction((150.0, 150.0), diameter=0.1016, n=0.015), rel=1e-3
    )


@pytest.mark.oracle("mean of the loss along an even line", of=(line_friction,))
def test_mean_friction_is_the_mean_of_the_loss_along_the_line():
    far = np.linspace(0.0, 1.0, 20001)
    slope = friction_slope(0.1016, 1e-3, 0.1016, 0.015)
    loss = 150.0 * slope * (1 - (1 - far) ** 3) / 3
    mean = float(np.mean(loss))
    assert mean == pytest.approx(1e-6 * line_friction((150.0,), diameter=0.1016, n=0.015), rel=1e-4)


@pytest.mark.by_hand(of=(line_exit_resistance_ernst, wetted_perimeter_of_pipe))
def test_resistance_where_water_spreads():
    """K 1 m/day, D 1.5 m, u 0.3 m: 0.5123 d/m to both sides, twice that to one."""
    to_one = line_exit_resistance_ernst(conductivity=1.0 / DAY, thickness=1.5, wetted_perimeter=0.3)
    assert printed("0.5123") == to_one / DAY / 2
    assert printed("0.0444") == 0.0867 * to_one / DAY / 2
    loss = radial_head_loss_ernst(
        1e-6, conductivity=1.0 / DAY, thickness=1.5, wetted_perimeter=0.3, sides=1
    )
    assert to_one * 1e-6 == pytest.approx(float(loss), rel=1e-12)
    assert 2 * math.pi * 0.0051 == pytest.approx(wetted_perimeter_of_pipe(0.0051))
    assert 0.9 == pytest.approx(wetted_perimeter_of_trench(0.3, 0.3))
    assert 0 == line_exit_resistance_ernst(conductivity=1e-5, thickness=0.5, wetted_perimeter=0.9)


@pytest.mark.slow
@pytest.mark.oracle("timml, section in 20 and 40 layers", of=(line_exit_resistance_ernst,))
def test_spreading_of_a_line_at_the_top_of_a_layer():
    """A slot at the top of the layer, as high as one of its slices; its mirror doubles it."""
    timml = pytest.importorskip("timml")
    thickness, width = 2.0, 20.0
    excess, ernst = [], []
    for slices in (20, 40):
        model = timml.Model3D(kaq=1.0, z=np.linspace(thickness, 0.0, slices + 1), kzoverkh=1.0)
        every = list(range(slices))
        for side in (-width, width):
            timml.HeadLineSink1D(model, xls=side, hls=0.0, layers=every)
        timml.LineSink1D(model, xls=0.0, sigls=-1.0, layers=[0])
        model.solve(silent=True)
        level = width / (2 * thickness)
        excess.append(float(model.head(1e-9, 0.0)[0]) - level)
        slot = math.pi / 2 * thickness / slices
        ernst.append(
            line_exit_resistance_ernst(
                conductivity=1.0, thickness=thickness, wetted_perimeter=slot, sides=2
            )
        )
    assert excess == pytest.approx(ernst, rel=0.12)  # a slice is fed evenly, a slot is not
    assert excess[1] - excess[0] == pytest.approx(ernst[1] - ernst[0], rel=1e-3)


@pytest.mark.slow
@pytest.mark.oracle("timml, one layer between two ditches", of=(buffer_flow_dupuit,))
@pytest.mark.parametrize(("h1", "h2"), [(1.8, 0.8), (2.3, 0.1), (0.8, 1.8)])
def test_level_flow_between_two_ditches(h1, h2):
    """Flow that is not confined follows the square of the head as confined flow does the head."""
    timml = pytest.importorskip("timml")
    model = timml.ModelMaq(kaq=1.2, z=[1.0, 0.0])
    for place, head in ((0.0, h1), (9.1, h2)):
        timml.HeadLineSink1D(model, xls=place, hls=head**2 / 2)
    model.solve(silent=True)
    flow = float(model.disvec(4.0, 0.0)[0][0])
    assert flow == pytest.approx(
        float(buffer_flow_dupuit(h1, h2, width=9.1, length=1.0, conductivity=1.2)), rel=1e-6
    )


@pytest.mark.works(of=(line_exit_resistance_ernst, line_friction, branch_flow))
def test_lines_that_are_none_are_refused():
    with pytest.raises(OutOfDomain, match="sides is 3"):
        line_exit_resistance_ernst(conductivity=1e-5, thickness=1.0, wetted_perimeter=0.3, sides=3)
    with pytest.raises(OutOfDomain, match="number of branches is 0"):
        line_friction((), diameter=0.1, n=0.015)
    with pytest.raises(OutOfDomain, match="branch is 0"):
        branch_flow(1.8, 0.8, 0.0, pipe=PIPE, soil=LOSSY)

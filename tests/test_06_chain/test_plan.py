# SPDX-License-Identifier: Apache-2.0
"""Where things lie: corners in the grid, distances, what lies in the right of way."""

from functools import cache
from math import cos, hypot, radians, sin

import pytest

from tests.jobs import FARM, FOOT, corbel_inputs, with_givens
from tilewater.basis.trace import Given, Trace
from tilewater.chain.buffer import BUFFER
from tilewater.chain.design import design_bed, design_practice
from tilewater.chain.inputs import JobInputs
from tilewater.chain.plan import add_plan, only_of
from tilewater.chain.plan_distances import (
    add_line_of_buffer,
    cuts,
    lines_of_kind,
    width_by_plan,
)
from tilewater.chain.plan_findings import tell_of_plan
from tilewater.chain.plan_parts import (
    baseline_through,
    bend_at,
    box_around,
    clear_of_main,
    first_of,
    line_of_shots,
    outline_beside,
    right_of_way_line,
    station_of_end,
)
from tilewater.chain.result_plan import plan_record
from tilewater.tasks.checking import check_job

FINE = 1e-6  # m
MERRIDEW = FARM.parent / "merridew-farm"
AZIMUTH = radians(68.50)


@cache
def farm() -> Trace:
    return design_bed(check_job(FARM).inputs, by_days=False).trace


def traced(job: JobInputs) -> Trace:
    return design_bed(job, by_days=False).trace


def feet(key: str, trace: Trace | None = None) -> float:
    return float((trace or farm()).value(key)) / FOOT


def told(trace: Trace, code: str) -> list[str]:
    return [finding.message for finding in trace.findings if finding.code == code]


def by_hand(station: float, offset: float) -> tuple[float, float]:
    """North and east in feet of a station and offset of Corbel Farm."""
    return (
        3813100.00 + station * cos(AZIMUTH) - offset * sin(AZIMUTH),
        4843520.00 + station * sin(AZIMUTH) + offset * cos(AZIMUTH),
    )


@pytest.mark.by_hand(of=(add_plan, outline_beside))
@pytest.mark.parametrize(
    ("name", "station", "offset"),
    [
        ("bed-floor-lower-near", 44.3, 21.0),
        ("bed-floor-upper-far", 44.3 + 96.5, 21.0 + 30.0),
        ("bed-chips-lower-near", 44.3 - 3.5, 21.0 - 3.5),
        ("bed-cut-upper-near", 44.3 + 96.5 + 5.3, 21.0 - 5.3),
        ("bed-cut-lower-far", 44.3 - 5.3, 21.0 + 30.0 + 5.3),
        ("footprint-upper-far", 33.0 + 175.0, 10.0 + 47.0),
        ("inlet-structure", 140.0, 0.0),
        ("outlet-structure", 22.5, 36.0),
        ("pipe-return-lower", -0.5, 36.0),
        ("pipe-feed-upper", 140.3, 0.65),
        ("boring-B-2", 123.0, 42.0),
    ],
)
def test_corners_and_ends_lie_where_the_sketch_says(
    name: str, station: float, offset: float
) -> None:
    here = f"plan.points.{name}"
    assert (station, offset) == pytest.approx(
        (feet(f"{here}.station_m"), feet(f"{here}.offset_m")), abs=FINE
    )
    assert by_hand(station, offset) == pytest.approx(
        (feet(f"{here}.north_m"), feet(f"{here}.east_m")), abs=FINE
    )


@pytest.mark.works(of=(add_plan, only_of))
def test_benchmark_has_the_coordinates_of_its_shot() -> None:
    here = "plan.points.benchmark-bm-1"
    assert (3813166.872, 4843727.953) == pytest.approx(
        (feet(f"{here}.north_m"), feet(f"{here}.east_m")), abs=FINE
    )
    # 218 up the main and 14 to the right, within the scatter of a rover
    assert (218.0, 14.0) == pytest.approx(
        (feet(f"{here}.station_m"), feet(f"{here}.offset_m")), abs=0.1
    )


@pytest.mark.by_hand(of=(clear_of_main, box_around, right_of_way_line, outline_beside, first_of))
def test_parts_of_the_plan() -> None:
    assert 15.0 == clear_of_main(((0, 15), (0, 40), (9, 40), (9, 15)))
    assert 15.0 == clear_of_main(((0, -15), (0, -40), (9, -40), (9, -15)))
    assert 0.0 == clear_of_main(((0, -2), (0, 40), (9, 40), (9, -2)))
    assert ((9, 3.5), (9, 4.5), (11, 4.5), (11, 3.5)) == box_around(10, 4, 2, 1)
    bed = outline_beside(44, 21, 96, 30)
    edge = right_of_way_line(((8.0, -20.0), (8.0, 60.0)), 25.0, bed)
    assert ((33.0, -20.0), (33.0, 60.0)) == edge
    assert edge == right_of_way_line(((8.0, 60.0), (8.0, -20.0)), 25.0, bed)[::-1]
    assert (33.0, -20.0) == first_of(edge)
    assert 33.0 == station_of_end(edge, "lower")


@pytest.mark.by_hand(of=(baseline_through, bend_at, line_of_shots))
def test_bends_are_put_in_their_order() -> None:
    first, second = bend_at(100.0, 90.0), bend_at(150.0, 0.0)
    line = baseline_through(0.0, 0.0, 0.0, 0.0, upper=second, lower=first)
    assert [0.0, 100.0, 150.0] == [leg.station for leg in line.legs]
    # 100 north, 50 east, then north again
    shots = line_of_shots(line, (100.0, 130.0), (20.0, 50.0))
    for found, stated in zip(shots, ((120.0, 0.0), (180.0, 0.0)), strict=True):
        assert stated == pytest.approx(found)


@pytest.mark.works(of=(add_plan, plan_record))
def test_without_a_baseline_there_are_stations_and_no_grid() -> None:
    job = check_job(FARM).inputs
    kept = tuple(g for g in job.givens if g.key != "inputs.baseline.azimuth_deg")
    trace = traced(JobInputs(job.name, kept))
    point = plan_record(trace)["points"]["bed-floor-lower-near"]
    assert point["station_m"] == pytest.approx(44.3 * FOOT)
    assert point["north_m"] is None
    assert 15.7 == pytest.approx(feet("plan.distances.main_to_bed_cut_m", trace))
    assert [] == list(lines_of_kind(trace, "bank top"))  # it was shot, and the grid is not known


@pytest.mark.works(of=(add_plan, cuts))
def test_a_bed_without_a_place_is_left_out() -> None:
    job = check_job(FARM).inputs
    kept = tuple(g for g in job.givens if not g.key.startswith("inputs.place"))
    trace = traced(JobInputs(job.name, kept))
    assert () == cuts(trace)
    assert not [name for name in trace.names("plan.points") if name.startswith("bed")]


@pytest.mark.by_hand(of=(add_plan,))
def test_cells_lie_each_in_its_own_place() -> None:
    cells = []
    for name, width, offset in (("near", 14.0, 21.0), ("far", 12.0, 50.0)):
        here = f"inputs.cell.{name}"
        cells += [
            Given(f"{here}.width_bottom_m", width * FOOT, "m", "Width"),
            Given(f"{here}.offset_m", offset * FOOT, "m", "Offset"),
        ]
    trace = traced(with_givens(corbel_inputs(), *cells))
    assert 2 == len(cuts(trace))
    assert 50.0 + 12.0 + 5.3 == pytest.approx(
        feet("plan.points.cell-far-cut-upper-far.offset_m", trace)
    )
    near, far = (trace.value(f"plan.outlines.cell-{name}-floor") for name in ("near", "far"))
    gap = hypot(near[1][0] - far[0][0], near[1][1] - far[0][1])
    assert 50.0 - (21.0 + 14.0) == pytest.approx(gap / FOOT)


@pytest.mark.works(of=(tell_of_plan,))
def test_what_needs_consent_is_told() -> None:
    (message,) = told(farm(), "in-right-of-way")
    assert message == (
        "In the right of way or in the ditch lie 33.0 of 139.0 ft of pipe bypass; 9.5 of 20.8 ft "
        "of pipe bed to outlet; 22.0 of 22.0 ft of pipe return; outlet structure. "
        "They need consent."
    )


@pytest.mark.works(of=(tell_of_plan,))
def test_what_does_not_agree_is_told() -> None:
    assert [] == told(farm(), "pipe-length-in-plan")
    job = check_job(FARM).inputs
    moved = job.changed(
        {
            "inputs.pipe.feed.length_m": 25.0 * FOOT,
            "inputs.place.bed.offset_m": 4.0 * FOOT,
            "inputs.place.bed.station_m": 40.0 * FOOT,
        }
    )
    trace = traced(moved)
    assert told(trace, "pipe-length-in-plan") == [
        "Pipe feed is 20.35 ft long by its points and 25.00 ft as stated. Correct one of them."
    ]
    # floor at 4 ft with 5.3 ft of slope: over the main
    assert 1 == len(told(trace, "cut-on-main"))
    assert "comes to 0.0 ft from the middle" in told(trace, "cut-on-main")[0]
    assert 1 == len(told(trace, "cut-beyond-ground"))
    assert (
        "26.7 ft from the bank top by the plan and 31.0 ft as stated"
        in (told(trace, "edge-distance-in-plan")[0])
    )


def merridew_with_line(station: float, half: float) -> Trace:
    """Merridew Farm with its line drawn parallel to the bank. [ft]"""
    points = ((station * FOOT, -half * FOOT), (station * FOOT, half * FOOT))
    job = check_job(MERRIDEW).inputs
    job = job.changed({"inputs.line.distribution.points": points})
    return design_practice(job, BUFFER, by_days=False).trace


@pytest.mark.by_hand(of=(add_line_of_buffer, width_by_plan))
def test_a_strip_is_as_wide_in_plan_as_to_the_bank_and_down_to_the_water():
    trace = merridew_with_line(60.0, 550.4)
    assert 60.0 - 11.0 == pytest.approx(feet("plan.distances.bank_to_distribution_line_m", trace))
    # bank top 744.9, spring water 741.0, slope 1.5
    wide = 60.0 - 11.0 + 1.5 * (744.9 - 741.0)
    assert wide == pytest.approx(feet("plan.buffer_lines.distribution.width_m", trace), abs=1e-3)
    assert 2 * 550.4 == pytest.approx(feet("plan.buffer_lines.distribution.length_m", trace))
    assert [] == told(trace, "strip-width-in-plan") + told(trace, "line-length-in-plan")


@pytest.mark.works(of=(tell_of_plan,))
def test_a_line_drawn_nearer_to_the_water_than_stated_is_told():
    (words,) = told(merridew_with_line(55.0, 550.4), "strip-width-in-plan")
    assert (
        "Line distribution lies 49.8 ft from ordinary water by the plan, down the bank, and 55.0 "
        "ft as stated. Flow and travel time go by the stated width. Correct buffer.width or the "
        "points of the line."
    ) == words


@pytest.mark.works(of=(tell_of_plan,))
def test_a_line_drawn_longer_than_laid_is_told():
    (words,) = told(merridew_with_line(60.0, 600.0), "line-length-in-plan")
    assert (
        "The line is 1200 ft long by its points. Its perforated branches are 1050 ft, with their "
        "solid pipe 1101 ft. Correct one of them."
    ) == words
    assert [] == told(merridew_with_line(60.0, 530.0), "line-length-in-plan")

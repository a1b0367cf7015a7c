# SPDX-License-Identifier: Apache-2.0
"""Hold points in their order: what is skipped or signed out of turn is told."""

from typing import Any

import pytest

from tilewater.basis.trace import Given, Trace
from tilewater.chain.hold_points import (
    POINTS,
    add_holds,
    held_points,
    hold_findings,
    next_point,
    points_of,
)

BED = points_of("bed", "plastic")
LAST = "2027-10-08"
SIGNED = {"by": "M. Ostrow", "result": "accepted"}


def holds(**points: dict[str, Any]) -> Trace:
    trace = Trace()
    trace.give(Given("bed.floor_outlet_m", 359.88, "m", "Floor"))
    for name, entry in points.items():
        for key, value in entry.items():
            trace.give(Given(f"inputs.hold.{name}.{key}", value, "", key))
    add_holds(trace)
    return trace


def at(day: str, **more: Any) -> dict[str, Any]:
    return SIGNED | {"at": day} | more


def states(trace: Trace, day: str = LAST) -> dict[str, str]:
    return {each.point.name: each.state for each in held_points(trace, BED, day)}


@pytest.mark.works(of=(points_of,))
def test_each_practice_has_its_own_hold_points():
    assert [point.name for point in BED] == [
        "locate",
        "protection",
        "floor",
        "liner",
        "uplift",
        "chips",
        "fabric",
        "structures",
        "boards",
        "final",
    ]
    assert "uplift" not in {point.name for point in points_of("bed", "geotextile")}
    assert "liner" in {point.name for point in points_of("bed", "geotextile")}
    assert [p.name for p in points_of("buffer", "")] == [
        "locate",
        "protection",
        "trench",
        "structures",
        "boards",
        "final",
    ]
    assert len({point.name for point in POINTS}) == len(POINTS)


@pytest.mark.works(of=(held_points, next_point))
def test_work_stops_at_the_first_that_nobody_has_signed():
    trace = holds(locate=at("2027-09-20"), protection=at("2027-09-20"))
    held = held_points(trace, BED, LAST)
    assert [each.state for each in held[:3]] == ["signed", "signed", "open"]
    following = next_point(held)
    assert following is not None
    assert following.point.name == "floor"
    assert list(hold_findings(trace, held)) == []


@pytest.mark.works(of=(held_points, hold_findings))
def test_one_signed_while_an_earlier_one_is_open_is_reported_as_such():
    trace = holds(locate=at("2027-09-20"), floor=at("2027-09-23"))
    held = held_points(trace, BED, LAST)
    assert states(trace)["floor"] == "out of turn"
    (found,) = hold_findings(trace, held)
    assert found.severity == "fails"
    assert found.message == (
        "signed while open: excavation protected. Look at those now and sign them, or say who let "
        "it pass."
    )


@pytest.mark.works(of=(held_points,))
def test_one_signed_on_an_earlier_day_than_the_one_before_it_is_out_of_turn():
    trace = holds(locate=at("2027-09-21"), protection=at("2027-09-20"))
    held = held_points(trace, BED, LAST)
    assert held[1].state == "out of turn"
    assert held[1].why == "signed before: locate ticket seen"
    same_day = holds(locate=at("2027-09-20 08:00"), protection=at("2027-09-20"))
    assert states(same_day)["protection"] == "signed"  # without an hour nobody can tell
    hours = holds(locate=at("2027-09-20 08:00"), protection=at("2027-09-20 07:00"))
    assert states(hours)["protection"] == "out of turn"


@pytest.mark.works(of=(held_points, hold_findings))
def test_a_refused_one_and_one_without_a_name_or_a_day_are_open():
    trace = holds(
        locate=at("2027-09-20", result="refused"),
        protection={"at": "2027-09-20"},
        floor={"by": "M. Ostrow"},
        strange=at("2027-09-20"),
    )
    held = held_points(trace, BED, LAST)
    assert [each.state for each in held[:3]] == ["refused", "open", "open"]
    assert [found.code for found in hold_findings(trace, held)] == [
        "hold-refused",
        "hold-not-whole",
        "hold-not-whole",
        "hold-no-such",
    ]


@pytest.mark.works(of=(held_points,))
def test_what_was_signed_after_the_day_of_the_look_is_open_on_it():
    trace = holds(locate=at("2027-09-20"))
    assert states(trace, "2027-09-19")["locate"] == "open"
    assert states(trace, "2027-09-20")["locate"] == "signed"


@pytest.mark.by_hand(of=(add_holds, hold_findings))
@pytest.mark.parametrize(("water", "status"), [(359.80, "holds"), (359.90, "short")])
def test_ground_water_above_the_floor_under_a_bare_lining_is_told(water: float, status: str):
    # the floor lies at 359.88 m
    trace = holds(uplift={"groundwater_m": water})
    assert trace.value("holds.below_floor.status") == status
    found = [each.code for each in hold_findings(trace, held_points(trace, BED, LAST))]
    assert ("hold-uplift" in found) == (status == "short")

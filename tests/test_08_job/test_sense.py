# SPDX-License-Identifier: Apache-2.0
"""Values that make no sense, alone or together."""

from pathlib import Path

import pytest

from tilewater.basis.errors import BadInputFile
from tilewater.job.edits import Edit, edited
from tilewater.job.reading import job_of_text
from tilewater.job.sense import findings_of_sense

EXAMPLE = Path(__file__).parents[2] / "examples" / "corbel-farm"


def text_with(edits: dict[str, Edit]) -> str:
    return edited((EXAMPLE / "job.toml").read_text(encoding="utf-8"), edits)


def messages(edits: dict[str, Edit]) -> list[str]:
    notes = job_of_text(text_with(edits), EXAMPLE).notes
    return [note.message.partition(": ")[2] for note in notes]


@pytest.mark.works(of=job_of_text)
@pytest.mark.parametrize(
    ("key", "typed", "allowed"),
    [
        ("bed.media_depth", "0 ft", "0.5 ft to 20 ft"),
        ("bed.length_bottom", "0 ft", "3 ft to 1000 ft"),
        ("bed.width_bottom", "0 ft", "3 ft to 1000 ft"),
        ("structure.inlet.box_length", "0 ft", "0.5 ft to 40 ft"),
        ("structure.outlet.box_width", "0 ft", "0.5 ft to 40 ft"),
        ("main.slope", "0 %", "0.005 % to 20 %"),
        ("drainage.lateral_depth", "40 ft", "0.5 ft to 20 ft"),
    ],
)
def test_nothing_where_something_must_be_is_refused(key: str, typed: str, allowed: str) -> None:
    with pytest.raises(BadInputFile) as raised:
        job_of_text(text_with({key: typed}), EXAMPLE)
    assert str(raised.value).partition(": ")[2] == (
        f"{key}: '{typed}' is outside what makes sense here ({allowed}). "
        "Check the number and its unit."
    )


@pytest.mark.works(of=findings_of_sense)
def test_water_table_above_the_ground_is_told() -> None:
    assert messages({"drainage.design_water_height": "4.5 ft"}) == [
        "design_water_height, 4.50 ft above the laterals, is above the ground: the laterals are "
        "4.00 ft deep. Write the height midway above the laterals, lateral_depth or less."
    ]
    assert messages({"drainage.design_water_height": "4 ft"}) == []


@pytest.mark.works(of=findings_of_sense)
def test_days_without_a_season_and_with_two_are_told() -> None:
    assert messages({"season.spring.from": "03-25"}) == [
        "no season has the days 03-20 to 03-24. "
        "Let each season begin the day after the one before it ends."
    ]
    assert messages({"season.spring.from": "03-19"}) == [
        "the seasons winter and spring both have the days 03-19. "
        "Let each season begin the day after the one before it ends."
    ]
    assert messages({"season.autumn.to": "12-31", "season.winter.from": "01-03"}) == [
        "no season has the days 01-01 to 01-02. "
        "Let each season begin the day after the one before it ends."
    ]
    assert messages({"season.spring.from": "unknown"}) == []


@pytest.mark.works(of=findings_of_sense)
def test_confirmation_of_a_row_that_is_none_is_told() -> None:
    parts = {"by": "R. Lindqvist", "date": "2026-03-02", "edition": "September 2020"}
    named: dict[str, Edit] = {f"confirm.one.{part}": words for part, words in parts.items()}
    (message,) = messages({"confirm.one.row": "retension", **named})
    assert message.startswith(
        "confirm.one is not applied: the standard has no row 'retension'. The rows are "
    )
    assert message.endswith(", lining. Did you mean retention?")
    assert messages({"confirm.one.row": "605-retention", **named}) == []


@pytest.mark.works(of=job_of_text)
def test_overrule_that_nobody_signed_is_told() -> None:
    words = {"key": "bed.length_bottom_m", "value": "40 m", "by": "unknown", "date": "unknown"}
    edits: dict[str, Edit] = {f"overrule.longer.{part}": word for part, word in words.items()}
    assert messages({**edits, "overrule.longer.reason": "unknown"}) == [
        "overrule.longer is not applied, since a part of it is unknown. "
        "It needs key, value, by, date and reason."
    ]


@pytest.mark.works(of=findings_of_sense)
def test_levels_of_the_ditch_under_its_bottom_or_turned_round_are_told() -> None:
    assert messages({"season.summer.ditch_stage": "1178.4 ft"}) == [
        "season.summer.ditch_stage, 1178.40 ft, is below the bottom of the ditch, 1178.90 ft. "
        "Check both, and that both count from one datum."
    ]
    assert messages({"season.winter.ditch_high": "1179.2 ft"}) == [
        "ditch_high of winter, 1179.20 ft, is below ditch_stage, 1179.60 ft. Check which is which."
    ]
    (rule,) = messages({"ditch.rule": [["0 cfs", "8.4 ft"], ["1 cfs", "1181 ft"]]})  # type: ignore[dict-item]
    assert rule.startswith("ditch.rule: the level at 0 cfs, 8.40 ft, is below the bottom of the")


@pytest.mark.works(of=findings_of_sense)
def test_line_of_the_plan_placed_twice_or_not_at_all_is_told() -> None:
    assert messages({"line.hedge.kind": "fence"}) == [
        "line.hedge is given neither by shots nor by points, and is not drawn. Give one of them."
    ]
    assert messages({"line.lateral-1.shots": ["103", "106"]}) == [
        "line.lateral-1 is given by shots and by points; the points are used. Take out one of them."
    ]

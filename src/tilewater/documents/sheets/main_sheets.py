# SPDX-License-Identifier: Apache-2.0
"""Plan and profile of the main, on match-lined sheets where one would be at too small a scale."""

from collections.abc import Iterator

from tilewater.documents.sheets.material import SheetMaterial, is_sound
from tilewater.documents.sheets.record import GAP, Box, Picture, SheetPage, body_of

LEAST_RATIO = 300.0 * 12.0
"""The smallest scale of the profile of the main, 1 in = 300 ft. [-]"""
KEY_PLAN = 500.0 * 12.0
"""The smallest scale of its plan beside its profile, where nothing is set out from it. [-]"""
MOST_SHEETS = 8
TOGETHER = "The main"
EACH = (
    ("main-plan", "Plan of the main", KEY_PLAN),
    ("main", "Profile of the main", LEAST_RATIO),
)


def main_sheets(material: SheetMaterial) -> Iterator[SheetPage]:
    """The main in plan and profile: on one sheet, else each on its own, else broken at stations."""
    width, height = body_of(material.paper)
    profile = material.picture("main", width, height / 2)
    if profile is not None:
        room = height - profile.height_mm - GAP
        plan = material.picture("main-plan", width, room)
        if (
            plan is not None
            and plan.height_mm <= room
            and _is_clear(plan, KEY_PLAN)
            and _is_clear(profile)
        ):
            boxes = (_box(plan, width, 0.0), _box(profile, width, plan.height_mm + GAP))
            yield SheetPage(TOGETHER, boxes)
            return
    for name, title, least in EACH:
        yield from matched_sheets(material, name, title, least)


def matched_sheets(
    material: SheetMaterial, name: str, title: str, least: float = LEAST_RATIO
) -> Iterator[SheetPage]:
    """A drawing on as few match-lined sheets as it is clear on."""
    width, _ = body_of(material.paper)
    for number, picture in enumerate(_matched(material, name, least)):
        named = title if number == 0 else f"{title}, {number + 1}"
        yield SheetPage(named, (_box(picture, width, 0.0),))


def _matched(material: SheetMaterial, name: str, least: float) -> tuple[Picture, ...]:
    """A drawing in as few strips as give it the least scale; as it is where none do."""
    width, height = body_of(material.paper)
    whole = material.picture(name, width, height)
    for count in range(1, MOST_SHEETS + 1):
        made = [material.strip_of(name, width, height, n, count) for n in range(count)]
        pictures = tuple(
            p
            for p in made
            if p is not None and p.height_mm <= height + 0.01 and p.width_mm <= width + 0.01
        )
        if len(pictures) == count and all(_is_clear(each, least) for each in pictures):
            return pictures
    return () if whole is None else (whole,)


def _is_clear(picture: Picture, least: float = LEAST_RATIO) -> bool:
    """Whether it has its least scale, and no words on others."""
    return picture.ratio <= least * (1.0 + 1e-6) and is_sound(picture)


def _box(picture: Picture, width: float, top: float) -> Box:
    return Box(0.0, top, width, picture.height_mm, (picture,))

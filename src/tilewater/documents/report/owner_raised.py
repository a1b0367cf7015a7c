# SPDX-License-Identifier: Apache-2.0
"""What the owner's pages say of an outlet raised in season, in plain words."""

from collections.abc import Iterator

from tilewater.documents.paper.blocks import Run, Words
from tilewater.documents.report.governing_raised import span_of
from tilewater.documents.report.reading import TWO, Reading
from tilewater.documents.words import NOT_KNOWN

YEARLY: tuple[Words, ...] = (
    "Open the lid and look in from above: water should run over the boards, not under them.",
    "Pull the boards in good time before field work: the field needs days to drain.",
    "After a wet week walk the low spots above the structure; where crops stand wet, take out a "
    "board, and call.",
    "Look at the outlet pipe in the ditch: its guard on, nothing in it, the bank whole.",
    "Note the boards, the date and what you saw; the office asks for it.",
)
REMARK = "Water that stands in the field for days: pull two boards, and call."


def does(reading: Reading) -> str:
    """What boards on a main do, and how much."""
    reach = reading.words.about(reading.value("pool_reach_m"))
    far = "" if reach == NOT_KNOWN else f" With the highest boards it stands {reach} up the main."
    text = (
        "Boards in a structure on your tile main hold the water in the ground higher while the "
        f"field does not need to be dry.{far} Less water leaves by the tiles, and with it less "
        "nitrate. Nothing is treated: what is held back stays in the soil, is used by plants, or "
        "leaves another way. "
    )
    mean = span_of(reading, "removal.long_run_removed_kg")
    if mean == NOT_KNOWN:
        return text + "How much nitrogen that keeps back is not known yet."
    around = reading.say("days.round_boards_kg.p50", style=TWO)
    return text + (
        f"Over many years it keeps back {mean} of nitrogen a year; of that about {around} may "
        "come out again past the boards."
    )


def in_short(reading: Reading) -> Words:
    """What one asks first: how much it keeps back; "" where that is not known."""
    mean = span_of(reading, "removal.long_run_removed_kg")
    share = span_of(reading, "days.kept_share")
    if NOT_KNOWN in (mean, share):
        return ""
    return (
        "It keeps back ",
        Run(f"{mean} of nitrogen a year", "bold"),
        f" in the mean of many years, {share} of the tile water. A single year may keep back "
        "nothing.",
    )


def will_not(reading: Reading) -> Iterator[Words]:
    """What a raised outlet does not do."""
    yield "It does not treat any water: it only lets less of it go by the tiles."
    yield "It does not drain your field any better; boards left in too long make it wetter."
    yield "It does nothing while the boards are out."
    share = reading.say("days.kept_share.p50", style=TWO)
    if share != NOT_KNOWN and float(reading.value("days.kept_share.p50")) < LITTLE:
        yield (
            f"It keeps back {share} of the tile water here, which is little: ask whether higher "
            "boards in winter, or something else, would do more."
        )


LITTLE = 0.05
"""Share of the drain flow under which the owner is told that it is little."""

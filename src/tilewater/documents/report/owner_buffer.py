# SPDX-License-Identifier: Apache-2.0
"""What the owner's pages say of a buffer, in plain words, in place of what they say of a bed."""

from collections.abc import Iterator

from tilewater.documents.paper.blocks import Words
from tilewater.documents.report.governing import removal_group, span
from tilewater.documents.report.reading import TWO, Reading
from tilewater.documents.words import NOT_KNOWN

YEARLY: tuple[Words, ...] = (
    "Open the lid and look in from above: water should run over the boards, not under them.",
    "After a wet week look whether the water at the boards stands as high as it is meant to.",
    "Walk the bank: cracks along its top, soft places or running sand mean: lower the boards, and "
    "call.",
    "Walk the line: no wet spots above it, no trees or brush over it, no burrows; keep heavy "
    "machines off it.",
    "Keep the strip in grass; mow it once, after the birds have nested.",
    "Note the boards, the date and what you saw; the office asks for it.",
)


def does(reading: Reading) -> str:
    """What a buffer does, and how much water it treats."""
    length, width = (
        reading.words.about(reading.value(f"buffer.{key}")) for key in ("line_length_m", "width_m")
    )
    line = "a buried line of pipe along the ditch"
    if NOT_KNOWN not in (length, width):
        line = f"{length} of buried pipe with holes, {width} from the ditch"
    text = (
        f"The water of your tile main is let into {line}, and seeps through the soil of the grass "
        "strip to the ditch. Microbes in that soil turn nitrate into nitrogen gas, which is most "
        "of the air. "
    )
    group = removal_group(reading)
    treated = reading.say(f"{group}.treated_volume_share.p50", style=TWO)
    if treated != NOT_KNOWN:
        text += f"In a usual year about {treated} of the water goes that way; the rest goes past. "
    if span(reading, f"{group}.removed_kg") == NOT_KNOWN:
        return text + "How much nitrogen that takes out is not known yet."
    return text + (
        "No one can name closer what it takes out: no two soils and no two years are alike."
    )


def will_not(reading: Reading) -> Iterator[Words]:
    """What a buffer does not do."""
    yield "It does not drain your field any better, and it does not change what you apply."
    yield "It does not treat the water that goes past when the drains run hardest."
    if (
        reading.known("buffer.share_of_peak")
        and float(reading.value("buffer.share_of_peak")) < 0.05
    ):
        share = reading.say("buffer.share_of_peak")
        yield (
            f"It takes {share} of what the main can carry, which is little for the money: ask what "
            "else could be done here."
        )
    yield "It is not made for phosphorus, and it does not shore up the bank: it wets it."

# SPDX-License-Identifier: Apache-2.0
"""Hold points in the order of the work, and the owner's record of the ground before."""

from collections.abc import Mapping, Sequence

from tilewater.basis.trace import Trace
from tilewater.chain.hold_points import HOLDS, Held, next_point
from tilewater.documents.pages.said import Cell, Part, Said, Tone, block, dim, pairs, rows, status
from tilewater.documents.words import Words

SHAPES = {
    "signed": "+ signed",
    "out of turn": "! out of turn",
    "refused": "x refused",
    "open": "? open",
}
TONES: dict[str, Tone] = {
    "signed": "",
    "out of turn": "strong",
    "refused": "strong",
    "open": "aside",
}
BEFORE = (
    ("wet_spots", "wet spots"),
    ("yields", "yields"),
    ("crops", "crops"),
    ("photos", "photos"),
    ("note", "what else"),
)


def holds_page(held: Sequence[Held], trace: Trace, words: Words) -> tuple[Part, ...]:
    """Blocks of the part in their order."""
    return (_points(held), *_uplift(trace, words))


def _points(held: Sequence[Held]) -> Part:
    lines: list[list[Cell]] = []
    for place, each in enumerate(held, start=1):
        about = Said(f"{place}  {each.point.title}").append(f"\n{each.point.look}", "quiet")
        signed = ", ".join(filter(None, (each.by, each.at)))
        more = ", ".join(filter(None, (each.reading, each.photo, each.note)))
        told = Said(signed or "nobody yet", "" if signed else "aside")
        if more:
            told.append(f"\n{more}", "quiet")
        if each.why:
            told.append(f"\n{each.why}", "strong")
        lines.append([Said(SHAPES[each.state], TONES[each.state]), about, told])
    following = next_point(tuple(held))
    note = "all signed" if following is None else f"work stops at: {following.point.title.lower()}"
    return block("Hold points", note, rows(("", "hold point", "signed"), lines, wide=(1, 2)))


def _uplift(trace: Trace, words: Words) -> tuple[Part, ...]:
    if f"{HOLDS}.below_floor.status" not in trace:
        return ()
    water, floor = (
        words.say(trace.value(f"{HOLDS}.{key}"), "elevation")
        for key in ("groundwater_m", "lowest_floor_m")
    )
    told = Said(water, "", f"{HOLDS}.groundwater_m").append(f", floor {floor}  ", "quiet")
    told.append(status(str(trace.value(f"{HOLDS}.below_floor.status"))))
    note = "until chips and cover are placed"
    return (block("Ground water under the lining", note, pairs([("read", told)])),)


def before_page(told: Mapping[str, tuple[str, ...]]) -> tuple[Part, ...]:
    """The owner's record of the ground before."""
    lines: list[tuple[str, Cell]] = [
        (words, "\n".join(told[key]) if told.get(key) else dim("not written yet"))
        for key, words in BEFORE
    ]
    by, on = ("".join(told.get(key, ())) for key in ("signed_by", "signed_on"))
    signed: Cell = f"{by}, {on}" if by and on else Said("not signed", "aside")
    return (
        block("Before building", "before anything is opened", pairs([*lines, ("signed", signed)])),
    )

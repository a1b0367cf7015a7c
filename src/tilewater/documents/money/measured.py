# SPDX-License-Identifier: Apache-2.0
"""How an item of a bid is measured, with its dimensions, and the sentence that it is paid by."""

import tomllib
from dataclasses import dataclass
from fnmatch import fnmatchcase
from functools import cache
from importlib import resources

from tilewater.basis.trace import Trace
from tilewater.chain.bid_items import ScheduleItem
from tilewater.documents.specification.writing import filled_clause
from tilewater.documents.words import Words

UNIT_WORDS = {
    "CY": "cubic yard",
    "CF": "cubic foot",
    "SY": "square yard",
    "SF": "square foot",
    "AC": "acre",
    "LF": "foot",
    "FT": "foot",
    "LB": "pound",
    "TON": "ton",
    "M3": "cubic metre",
    "M2": "square metre",
    "HA": "hectare",
    "M": "metre",
    "KG": "kilogram",
    "HR": "hour",
    "DAY": "day",
    "EA": "piece",
    "LS": "lump sum",
}
SAID_BY_ENGINEER = "as the engineer says"


@dataclass(frozen=True)
class Measured:
    """How one item is measured, and how it is paid."""

    measured: str
    paid: str


@cache
def _sections() -> tuple[dict[str, object], ...]:
    file = resources.files("tilewater.documents.money") / "measured.toml"
    return tuple(tomllib.loads(file.read_text(encoding="utf-8")).values())


def measured_of(trace: Trace, item: ScheduleItem, words: Words) -> Measured:
    """How an item is measured and paid, in the units of the reader.

    Parameters
    ----------
    trace : Trace
        Of the bid.
    item : ScheduleItem
    words : Words

    Returns
    -------
    Measured
        Without dimensions where one of them is not known.
    """
    if item.measured:
        return Measured(item.measured, item.measured)
    for section in _sections():
        only_with = str(section.get("only_with", ""))
        if only_with and only_with not in trace:
            continue
        likes = section["items"]
        assert isinstance(likes, list)
        if any(fnmatchcase(item.item, like) for like in likes):
            return Measured(
                _filled(str(section["measured"]), trace, item, words) or "As drawn.",
                _filled(str(section["paid"]), trace, item, words),
            )
    unit = UNIT_WORDS.get(item.unit, item.unit)
    return Measured("As drawn.", f"By the {unit} in place, as drawn.")


def _filled(text: str, trace: Trace, item: ScheduleItem, words: Words) -> str:
    for blank, fill in (
        ("{unit}", UNIT_WORDS.get(item.unit, item.unit)),
        ("{floor}", _floor(trace, words)),
        ("{parts}", _parts(trace, item, words)),
    ):
        text = text.replace(blank, fill)
    return filled_clause(text, trace, words)


def _floor(trace: Trace, words: Words) -> str:
    """Length and width of the floor of the bed, or of each of its cells."""
    cells = trace.names("inputs.cell")
    if not cells:
        return "floor {bed.length_bottom_m|length} by {bed.width_bottom_m|length}"
    each = (
        f"{name} {{bed.cells.{name}.length_bottom_m|length}} by "
        f"{{bed.cells.{name}.width_bottom_m|length}}"
        for name in cells
    )
    return f"floors of cells {', '.join(each)}"


def _parts(trace: Trace, item: ScheduleItem, words: Words) -> str:
    """What an item is summed of, each with its own quantity."""
    parts = []
    for name in item.counted:
        step = trace.steps[f"quantities.{name}.quantity"]
        amount = f"{words.quantity(step.value, step.unit)} {words.bid_unit(step.unit)}"
        parts.append(f"{name.partition('-')[2].replace('-', ' ') or name} {amount}")
    return ", ".join(parts) or "as drawn"

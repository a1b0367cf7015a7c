# SPDX-License-Identifier: Apache-2.0
"""What binds, in words that fit a drawing and in words that fit beside a number."""

from tilewater.basis.unknown import is_unknown
from tilewater.chain.design import Design
from tilewater.documents.living.stage import Binds
from tilewater.documents.words import NOT_KNOWN, Words, kind_of, step_value

PLACES = {
    "bed": "the bed",
    "buffer": "the buffer",
    "raised": "the raised outlet",
    "main": "the main",
    "above": "the main above",
    "ditch": "the ditch",
    "bank": "the bank",
    "line": "the line",
    "return": "the return",
    "feed": "the feed",
    "bypass": "the main past it",
    "bed-to-outlet": "pipe from the bed",
    "structure": "the structure",
}
BANK = "criteria.604-bank"
SIGNS = {">=": "at least", "<=": "at most"}


def binds_of(design: Design, words: Words) -> Binds:
    """What binds of a design, for its drawing.

    Parameters
    ----------
    design : Design
    words : Words

    Returns
    -------
    Binds
        Empty where nothing could be judged.
    """
    governs = design.governs
    if governs is None:
        return Binds()
    return Binds(governs.key, governs.where, stands(design, governs.key, words), value_key(design))


def value_key(design: Design) -> str:
    """Key of the number that binds; "" where nothing could be judged."""
    governs = design.governs
    return "" if governs is None else design.requirement(governs.key).value


def stands(design: Design, key: str, words: Words) -> str:
    """How a requirement stands to its limit: "16.4 %, at least 15.0 %"."""
    one = design.requirement(key)
    value = words.of_step(design.trace.steps[one.value])
    limit = words.of_step(design.trace.steps[one.limit])
    if NOT_KNOWN in (value, limit):
        return NOT_KNOWN
    return f"{value}, {SIGNS[one.operator]} {limit}"


def place_of(design: Design, words: Words) -> str:
    """Where it binds, in words: "the bed", "low spot 2+90"; "" where nothing could be judged."""
    governs = design.governs
    if governs is None:
        return ""
    spot = f"inputs.spot.{governs.where}"
    if f"{spot}.station_m" in design.trace:
        station = words.say(design.trace.value(f"{spot}.station_m"), "station")
        return f"{design.trace.value(f'{spot}.kind')} {station}"
    if governs.key == BANK:
        return PLACES["bank"]
    return PLACES.get(governs.where, governs.where.replace("-", " "))


def reserve_of(design: Design, words: Words) -> str:
    """How much is left to the limit, or lacking; "" where that says nothing."""
    governs = design.governs
    if governs is None:
        return ""
    one = design.requirement(governs.key)
    step, limit = design.trace.steps[one.value], step_value(design.trace, one.limit)
    if is_unknown(step.value) or is_unknown(limit) or not isinstance(step.value, float | int):
        return ""
    room = float(step.value) - float(limit)
    room = room if one.operator == ">=" else -room
    kind = kind_of(step.key, step.unit)
    if kind == "elevation":
        said = words.say(abs(room), "length")
    else:
        said = words.of_key(step.key, abs(room), step.unit)
    return f"{said} left" if room >= 0.0 else f"{said} short"


def now_binds(before: Design | None, after: Design, words: Words) -> str:
    """What binds now that did not before; "" where nothing moved."""
    if before is None or after.governs is None or before.governs == after.governs:
        return ""
    same = before.governs is not None and before.governs.key == after.governs.key
    if same and _is_short(before) == _is_short(after):
        return ""
    title = after.requirement(after.governs.key).title
    return f"Now binds: {title}, {stands(after, after.governs.key, words)}."


def _is_short(design: Design) -> bool:
    return design.governs is not None and design.governs.slack < 0.0

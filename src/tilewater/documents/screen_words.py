# SPDX-License-Identifier: Apache-2.0
"""Words of a screening with their values put in, in the units of the reader."""

import re

from tilewater.basis.units import Style
from tilewater.basis.unknown import is_unknown
from tilewater.chain.screen_drawn import Drawn
from tilewater.chain.screen_rows import Said, ScreenRow
from tilewater.documents.words import NOT_KNOWN, Words

COUNTED = {"count": "none", "yes": "no"}
"""Kinds that are no quantities, and the word for none of them."""
PLACE = re.compile(r"\{(\w+)\}")
SENTENCE = re.compile(r"(?<=\.)\s+")


def in_words(said: Said, words: Words, style: Style = "plain") -> str:
    """The words of a row; a sentence with a value that is not known is left out.

    Parameters
    ----------
    said : Said
        Words with places, and their values. [-]
    words : Words
        Units of the reader. [-]
    style : str
        How numbers are rounded. [-]
    """
    known = (
        sentence
        for sentence in SENTENCE.split(said.text)
        if not any(is_unknown(said.figures[name][0]) for name in PLACE.findall(sentence))
    )
    return PLACE.sub(lambda place: _figure(said, place[1], words, style), " ".join(known))


def _figure(said: Said, name: str, words: Words, style: Style) -> str:
    value, kind = said.figures[name]
    return words.say(value, "number" if kind in COUNTED else kind, style=style)


def held(row: ScreenRow, words: Words) -> tuple[str, str]:
    """Value and limit of a row as printed."""
    if row.kind in COUNTED and not is_unknown(row.value):
        no = COUNTED[row.kind]
        return (f"{row.value:.0f}" if row.kind == "count" else "yes") if row.value else no, ""
    if row.kind in COUNTED:
        return NOT_KNOWN, ""
    if row.shown is not None:
        return words.say(row.shown, row.kind), ""
    operator = "at least" if row.operator == ">=" else "at most"
    limit = words.say(row.limit, row.kind)
    return words.say(row.value, row.kind), f"{operator} {limit}" if limit != NOT_KNOWN else limit


def drawn_words(drawn: Drawn, words: Words, *, refused: bool) -> str:
    """What the bed drawn does on paper, and whether the place lets it."""
    length, width = (words.about(side) for side in (drawn.length, drawn.width))
    text = f"The bed drawn in the job has a floor of {length} by {width}."
    share, hours = words.say(drawn.share, "ratio"), words.time(drawn.retention)
    if NOT_KNOWN not in (share, hours):
        text += f" It takes {share} of the peak and holds the water {hours}"
        text += ": on paper that is enough." if drawn.passes_on_paper else "."
    count = len(drawn.short)
    rules = "one of its rules falls short" if count == 1 else f"{count} of its rules fall short"
    if refused:
        return f"{text} It is refused, for the reasons above" + (f"; {rules}." if count else ".")
    return f"{text} {rules[0].upper()}{rules[1:]}." if count else text

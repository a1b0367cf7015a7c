# SPDX-License-Identifier: Apache-2.0
"""Letters that the typeface of the papers has, and what stands for those that it has not."""

import re

from tilewater.documents.drawing.metrics import advances

LINE = "\n"
BREAK = "\u200b"
"""A place without width where a line may end."""
_LONG = re.compile(r"\S{28}(?=\S{8})")
"""A part of a word so long that it might not fit a line."""
_SHORT = 36
"""Letters of a text that holds no such part."""


def shown(text: str) -> str:
    """A text as it can be set.

    A letter that the typeface has not is shown by its number, `[U+6F22]`, so that nobody takes the
    name for another; a control character is left out. A very long word may be broken.

    Parameters
    ----------
    text : str
        Any words.
    """
    known = in_typeface(text)
    return known if len(known) < _SHORT else _LONG.sub(rf"\g<0>{BREAK}", known)


def in_typeface(text: str) -> str:
    """A text in letters that the typeface has; nothing is broken."""
    if text.isascii() and (text.isprintable() or text.replace(LINE, " ").isprintable()):
        return text
    known = advances("regular")
    return "".join(_letter(letter, known) for letter in text)


def _letter(letter: str, known: dict[str, float]) -> str:
    if letter in known or letter == LINE:
        return letter
    if letter.isspace():
        return " "
    return f"[U+{ord(letter):04X}]" if letter.isprintable() else ""

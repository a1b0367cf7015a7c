# SPDX-License-Identifier: Apache-2.0
"""What binds, in words that fit a drawing and in words that fit beside a number."""

from tilewater.chain.design import Design
from tilewater.documents.living.stage import Binds
from tilewater.documents.words import NOT_KNOWN, Words

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

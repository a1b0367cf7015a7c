# SPDX-License-Identifier: Apache-2.0
"""The five numbers above the section, always in the same place."""

from typing import NamedTuple

from tilewater.documents.words import Words
from tilewater.tasks.held import Answer


class Five(NamedTuple):
    """One of the five.

    Attributes
    ----------
    label, value, below : str
        What it is, the number or words, what stands below in the second rank.
    key : str
        Key of the number that opens; empty where there is none.
    binds : bool
        Whether it is what binds.
    """

    label: str
    value: str
    below: str = ""
    key: str = ""
    binds: bool = False


def five_of(answer: Answer, words: Words) -> tuple[Five, ...]:
    """Through it, time in it, season treated, nitrate removed, what binds now."""
    if answer.design is None:
        return ()
    governs = answer.design.governs
    return (Five("Binds now", governs.text if governs else "nothing could be judged", binds=True),)

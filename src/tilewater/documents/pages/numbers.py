# SPDX-License-Identifier: Apache-2.0
"""A number of the design in a cell: its words, with the key that leads to where it comes from."""

from tilewater.basis.trace import Trace
from tilewater.documents.pages.said import Said, Tone
from tilewater.documents.words import NOT_KNOWN, Words, step_value


def number(
    trace: Trace,
    words: Words,
    key: str,
    kind: str = "",
    *,
    tone: Tone = "",
    unit: bool = True,
    if_not_known: str = NOT_KNOWN,
) -> Said:
    """The value behind a key, in the kind of quantity that is said, else in that of its key."""
    if not kind and key in trace:
        text = words.of_step(trace.steps[key])
    else:
        text = words.say(step_value(trace, key), kind or "number", unit=unit)
    return keyed(trace, if_not_known if text == NOT_KNOWN else text, key, tone)


def keyed(trace: Trace, text: str, key: str, tone: Tone = "") -> Said:
    """Words for a number or a group of them, with the key where the design has it."""
    return Said(text, tone, key if key in trace or trace.names(key) else "")

# SPDX-License-Identifier: Apache-2.0
"""The plain questions beside the section, each with a sentence of status; in any order."""

from collections.abc import Callable, Iterator
from typing import NamedTuple

from tilewater.chain.design import Design
from tilewater.documents.pages import (
    summary_bed,
    summary_decides,
    summary_levels,
    summary_money,
    summary_rules,
)
from tilewater.documents.pages.said import Part
from tilewater.documents.words import Words
from tilewater.tasks.held import Answer


class Question(NamedTuple):
    """A question: its name in an address, its words, its sentence, what it opens to."""

    slug: str
    words: str
    sentence: Callable[[Answer, Words], str]
    blocks: Callable[[Design, Words], Iterator[Part | None]]


class Asked(NamedTuple):
    """A question beside the section."""

    slug: str
    words: str
    sentence: str


def _nothing(answer: Answer, words: Words) -> str:
    return ""


QUESTIONS: tuple[Question, ...] = (
    Question("tile", "Where is the tile?", _nothing, lambda d, w: iter(())),
    Question(
        "water", "How much water?", _nothing, lambda d, w: iter((summary_bed.water(d.trace, w),))
    ),
    Question("practice", "What could lie here?", _nothing, lambda d, w: iter(())),
    Question("height", "How high?", _nothing, lambda d, w: iter((summary_levels.ladder(d, w),))),
    Question(
        "field",
        "Does the field stay dry?",
        _nothing,
        lambda d, w: iter((summary_levels.field(d, w),)),
    ),
    Question(
        "removal",
        "What does it remove?",
        _nothing,
        lambda d, w: iter((summary_money.removal(d.trace, w),)),
    ),
    Question(
        "cost", "What does it cost?", _nothing, lambda d, w: iter((summary_money.cost(d.trace, w),))
    ),
    Question(
        "unknown",
        "What is not known?",
        _nothing,
        lambda d, w: iter(
            (summary_rules.open_items(d), summary_decides.decides(d.trace, d.practice.words))
        ),
    ),
)


def asked_of(answer: Answer, words: Words) -> tuple[Asked, ...]:
    """The questions with their sentences of now."""
    return tuple(Asked(q.slug, q.words, q.sentence(answer, words)) for q in QUESTIONS)

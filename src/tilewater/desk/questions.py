# SPDX-License-Identifier: Apache-2.0
"""The plain questions beside the section, each with a sentence of status; in any order."""

from collections.abc import Callable
from typing import NamedTuple

from tilewater.desk import question_words as say
from tilewater.documents.words import Words
from tilewater.tasks.held import Answer


class Way(NamedTuple):
    """A page of the job that goes on where a question leads: the end of its address, its words."""

    to: str
    words: str


class Question(NamedTuple):
    """A question: its name in an address, its words, its sentence of status, where it leads."""

    slug: str
    words: str
    sentence: Callable[[Answer, Words], str]
    ways: tuple[Way, ...] = ()


class Asked(NamedTuple):
    """A question beside the section."""

    slug: str
    words: str
    sentence: str


QUESTIONS: tuple[Question, ...] = (
    Question("tile", "Where is the tile?", say.tile),
    Question("water", "How much water?", say.water),
    Question("practice", "What could lie here?", say.practice),
    Question("height", "How high?", say.height),
    Question("field", "Does the field stay dry?", say.field),
    Question("removal", "What does it remove?", say.removal),
    Question(
        "cost", "What does it cost?", say.cost, (Way("bid", "Estimate, sources of money and bids"),)
    ),
    Question(
        "built",
        "Is it built as drawn?",
        say.built,
        (
            Way("site", "On site: gates and hold points"),
            Way("inspect", "Inspect: chips, grade, finished work"),
        ),
    ),
    Question(
        "years",
        "How does it run?",
        say.years,
        (
            Way("run-it", "Boards through the year"),
            Way("measured", "What it removed"),
            Way("trouble", "When something is wrong"),
            Way("renew", "When to renew"),
        ),
    ),
    Question("unknown", "What is not known?", say.unknown),
)


def asked_of(answer: Answer, words: Words) -> tuple[Asked, ...]:
    """The questions with their sentences of now."""
    return tuple(Asked(q.slug, q.words, q.sentence(answer, words)) for q in QUESTIONS)


def question(slug: str) -> Question | None:
    """The question of a name in an address."""
    return next((one for one in QUESTIONS if one.slug == slug), None)

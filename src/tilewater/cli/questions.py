# SPDX-License-Identifier: Apache-2.0
"""The few answers that a new job is begun with, from the command line or asked one by one."""

import typer

from tilewater.basis.errors import UnitMismatch
from tilewater.job.template import FIRST_QUESTIONS
from tilewater.tasks.starting import question_of


def answers_of(words: list[str], *, ask: bool) -> dict[str, str]:
    """Answers by path in the job file; asked at the terminal where none is given."""
    if words:
        return dict(_answer(word) for word in words)
    return _asked() if ask else {}


def _answer(word: str) -> tuple[str, str]:
    path, is_there, value = word.partition("=")
    if not is_there:
        raise UnitMismatch(
            f"--answer '{word}' has no '='. Write it like --answer main.diameter=\"10 in\"."
        )
    return path.strip(), value.strip().strip('"')


def _asked() -> dict[str, str]:
    answers = {}
    for path in FIRST_QUESTIONS:
        answer = typer.prompt(question_of(path), default="", show_default=False, err=True)
        if answer.strip():
            answers[path] = answer.strip()
    return answers

# SPDX-License-Identifier: Apache-2.0
"""A screening as other programs read it: answers, rows and advice, values in SI."""

from collections.abc import Callable

from tilewater.basis.unknown import Unknown
from tilewater.chain.plain import Record, plain_value
from tilewater.chain.screen import Screen
from tilewater.chain.screen_answers import RULE, Answer
from tilewater.chain.screen_drawn import Drawn
from tilewater.chain.screen_next import Advice, Measurement
from tilewater.chain.screen_rows import Said, ScreenRow

Speak = Callable[[Said], str]


def screen_record(screen: Screen, version: str, speak: Speak) -> Record:
    """The record of a screening.

    Parameters
    ----------
    screen : Screen
        The screened job. [-]
    version : str
        Version of the program. [-]
    speak : callable
        Puts the values into the words of a row. [-]
    """
    return {
        "tilewater": version,
        "kind": "screening, no design",
        "job": screen.job.name,
        "rule": RULE,
        "answers": {each.practice: _answer(each, speak) for each in screen.answers},
        "drawn": None if screen.drawn is None else _drawn(screen.drawn),
        "measure": [_measurement(each) for each in screen.measure],
        "else": [_advice(each, speak) for each in screen.helps],
        "again": [_advice(each, speak) for each in screen.again],
    }


def _answer(answer: Answer, speak: Speak) -> Record:
    return {
        "answer": answer.answer,
        "reasons": [speak(each) for each in answer.reasons],
        "also": [speak(each) for each in answer.also],
        "told": [text for each in answer.told if (text := speak(each))],
        "notes": [speak(each) for each in answer.notes],
        "rows": [_row(row) for row in answer.rows],
    }


def _row(row: ScreenRow) -> Record:
    return {
        "name": row.slug,
        "question": row.ask,
        "key": row.key,
        "value": plain_value(row.value),
        "operator": row.operator,
        "limit": plain_value(row.limit),
        "status": row.status,
        "why": row.why,
        "weight": row.weight,
        "limit_known_by": row.honesty,
        "source": row.source,
        "measure": row.measure,
    }


def _drawn(drawn: Drawn) -> Record:
    def known(value: object) -> object:
        return None if isinstance(value, Unknown) else value

    return {
        "length_m": known(drawn.length),
        "width_m": known(drawn.width),
        "share_of_peak": known(drawn.share),
        "retention_h": known(drawn.retention),
        "passes_share_and_retention": drawn.passes_on_paper,
        "falls_short_of": list(drawn.short),
        "not_known": drawn.open,
    }


def _measurement(each: Measurement) -> Record:
    return {
        "name": each.slug,
        "what": each.what,
        "how": each.how,
        "hours": each.hours,
        "usd": each.usd,
        "known_by": "practice",
        "settles": list(each.questions),
        "chance": None if each.weighed is None else each.weighed.chance.share,
        "settles_answer": None if each.weighed is None else each.weighed.settles.share,
        "for": list(each.practices),
    }


def _advice(each: Advice, speak: Speak) -> Record:
    return {"text": speak(each.said), "known_by": each.honesty}

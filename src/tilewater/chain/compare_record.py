# SPDX-License-Identifier: Apache-2.0
"""The result record of a comparison: one plain object, coherent SI with the unit in each name.

Every number stands under the key by which it is explained: the name of the practice, then the key
of its own result.
"""

from typing import Any

from tilewater.basis.trace import Trace
from tilewater.chain.compare import PracticeComparison
from tilewater.chain.compare_contenders import Contender
from tilewater.chain.compare_draws import TOLD_APART
from tilewater.chain.compare_pairs import Pair
from tilewater.chain.compare_words import life_words, must_be_true, not_known
from tilewater.chain.compare_worth import Choice
from tilewater.chain.explain import keys_of
from tilewater.chain.measurements import cannot_tell, choice_words
from tilewater.chain.plain import Record, plain

QUANTILES = ("p10", "p50", "p90")
RANGES = (
    ("removal", "removed_kg"),
    ("removal", "site_percent"),
    ("removal", "treated_volume_share"),
    ("cost", "usd_per_kg"),
    ("owner", "usd_per_kg"),
)
NUMBERS = (
    ("cost", "total_usd"),
    ("cost", "annual_usd"),
    ("owner", "annual_usd"),
    ("owner", "hours"),
    ("owner", "hours_usd"),
    ("owner", "land_m2"),
    ("owner", "land_usd"),
    ("owner", "wet_days_more"),
    ("life", "permeability_years"),
    ("life", "carbon_years"),
)


def comparison_record(comparison: PracticeComparison, version: str) -> Record:
    """Plain record of a comparison, ready for JSON.

    Parameters
    ----------
    comparison : PracticeComparison
        Practices side by side. [-]
    version : str
        Version of the program. [-]

    Returns
    -------
    dict
        As documented for `compare --json`. [-]
    """
    contenders = comparison.contenders
    return {
        "tilewater": version,
        "job": comparison.job.name,
        "practices": [each.name for each in contenders],
        "buildable": list(comparison.buildable),
        "told_apart_from": TOLD_APART,
        "answers": {
            answer.measure: {"ahead": answer.ahead or None, "not_beaten": list(answer.front)}
            for answer in comparison.answers
        },
        **{each.name: _practice(comparison.trace, each) for each in contenders},
        "pairs": _pairs(comparison),
        "choice": _choice(comparison.choice),
    }


def _practice(trace: Trace, contender: Contender) -> Record:
    name = contender.name
    record: Record = {
        "what": contender.words,
        "verdict": contender.verdict,
        "missing": list(contender.missing),
    }
    if not contender.is_described:
        return record
    governs = contender.design.governs if contender.design is not None else None
    record["governs"] = None if governs is None else {"key": governs.key, "text": governs.text}
    for group, number in NUMBERS:
        key = f"{name}.{group}.{number}"
        if key in trace:
            record.setdefault(group, {})[number] = plain(trace, key)
    for group, quantity in RANGES:
        here = f"{name}.{group}.{quantity}"
        if f"{here}.p50" in trace:
            values = {p: plain(trace, f"{here}.{p}") for p in QUANTILES}
            record.setdefault(group, {})[quantity] = values
    words = life_words(contender)
    if words:
        record.setdefault("life", {})["words"] = words
    record["must_be_true"] = list(must_be_true(contender))
    record["not_known"] = list(not_known(contender))
    return record


def _choice(choice: Choice | None) -> Record | None:
    """What is chosen by the middle of the draws, and what could be measured to change it."""
    if choice is None:
        return None
    return {
        "among": list(choice.options),
        "now": choice.now,
        "is_clear": choice.is_clear,
        "measure": [
            {
                "name": each.measurement.slug,
                "what": each.measurement.words,
                "settles": each.measurement.settles,
                "usd": each.usd,
                "time": each.measurement.time,
                "chance": each.chance.share,
                "chance_error": each.chance.error,
                "settles_choice": each.settles.share,
                "settles_choice_error": each.settles.error,
                "words": choice_words(each),
            }
            for each in choice.measures
        ],
        "cannot_tell_first_two": len(choice.measures) > 1 and cannot_tell(*choice.measures[:2]),
    }


def _pairs(comparison: PracticeComparison) -> Record:
    record: Record = {}
    for pair in comparison.pairs:
        of_first = record.setdefault(pair.first, {})
        of_first.setdefault(pair.second, {})[pair.measure] = _pair(comparison.trace, pair)
    return record


def _pair(trace: Trace, pair: Pair) -> Record:
    record: dict[str, Any] = {
        f"{pair.first}_better": pair.first_better,
        f"{pair.second}_better": pair.second_better,
        "better": pair.better or None,
    }
    if pair.hinge is not None:
        record["hinge"] = {"name": pair.hinge.name, "correlation": pair.hinge.correlation}
    return record


def explained_keys(comparison: PracticeComparison, key: str) -> tuple[Trace, str]:
    """Trace and key behind a key of the record.

    What a practice says of itself as a whole, such as its verdict, stands in its own design.
    """
    trace = comparison.trace
    if key in trace:
        return trace, key
    name, _, rest = key.partition(".")
    found = next((c for c in comparison.contenders if c.name == name), None)
    if found is None or found.design is None or not rest:
        return trace, key
    own = found.design.trace
    spelled = key_of(own, rest)
    return (trace, f"{name}.{spelled}") if spelled is not None else (own, rest)


def key_of(trace: Trace, key: str) -> str | None:
    """Key of the one number that a key of a result means; None where it means several."""
    keys = keys_of(trace, key)
    return keys[0] if len(keys) == 1 else None

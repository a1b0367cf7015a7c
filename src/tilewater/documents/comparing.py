# SPDX-License-Identifier: Apache-2.0
"""A comparison of practices in words, for the page of the engineer and the pages of the owner."""

from collections.abc import Iterator
from dataclasses import dataclass

from tilewater.basis.trace import Trace
from tilewater.basis.unknown import is_unknown
from tilewater.chain.advice import MOST
from tilewater.chain.compare import PracticeComparison
from tilewater.chain.compare_contenders import NONE, Contender
from tilewater.chain.compare_pairs import Answer, Pair, hinge_words
from tilewater.chain.compare_words import life_words
from tilewater.chain.measurements import LITTLE, Weighed, cannot_tell
from tilewater.chain.measurements import choice_words as measured_words
from tilewater.documents.words import NOT_KNOWN, Words, step_value

HEADS = {
    "bed": "bed",
    "buffer": "buffer",
    "raised": "raised outlet",
    "bed-then-buffer": "bed, then buffer",
    "none": "leave it",
}
NOTHING = "-"
MEASURED = 3
"""Measurements that are told."""
NONE_OF = {"money": "$0", "area": "none", "hours": "none", "days": "none"}


@dataclass(frozen=True)
class Line:
    """One line of the table: what it is, and the same of each practice."""

    label: str
    cells: tuple[str, ...]


def headline(comparison: PracticeComparison) -> str:
    """What the comparison comes to, in a sentence."""
    built = [comparison.contender(name).words for name in comparison.buildable]
    if not built:
        described = [c for c in comparison.contenders if c.is_described and c.name != NONE]
        if not described:
            return "The job describes no practice that could be compared."
        return "Nothing that was described fits here: leave it as it is."
    if len(built) == 1:
        return f"Of what was described only one may be built: {built[0]}."
    return f"{len(built)} may be built: {', '.join(built)}."


def shown(comparison: PracticeComparison) -> tuple[Contender, ...]:
    """Those that stand in the table: what is described, and leaving it."""
    return tuple(each for each in comparison.contenders if each.is_described)


def lines(comparison: PracticeComparison, words: Words) -> Iterator[Line]:
    """Lines of the table, a cell for each of those shown."""
    trace, each = comparison.trace, shown(comparison)
    yield Line("verdict", tuple(c.verdict for c in each))
    pound = "USD/lb" if words.system == "us" else "USD/kg"
    other = "USD/kg" if words.system == "us" else "USD/lb"
    for label, key, kind in (
        ("nitrate-N out a year", "removal.removed_kg", "mass"),
        ("of the site's load", "removal.site_percent", "percent"),
        ("of the water treated", "removal.treated_volume_share", "ratio"),
    ):
        yield Line(label, tuple(_span(trace, words, f"{c.name}.{key}", kind) for c in each))
    for label, key in (
        ("costs, built", "cost.total_usd"),
        ("a year, on the bill", "cost.annual_usd"),
        ("a year, hours and ground too", "owner.annual_usd"),
    ):
        yield Line(label, tuple(_one(trace, words, f"{c.name}.{key}", "money") for c in each))
    for label, kind in ((_per(pound), pound), (_per(other), other)):
        here = "owner.usd_per_kg"
        yield Line(label, tuple(_span(trace, words, f"{c.name}.{here}", kind) for c in each))
    for label, key, kind in (
        ("ground taken", "owner.land_m2", "area"),
        ("owner's hours a year", "owner.hours", "hours"),
        ("more wet days a season", "owner.wet_days_more", "days"),
    ):
        yield Line(label, tuple(_one(trace, words, f"{c.name}.{key}", kind) for c in each))
    yield Line("lasts", tuple(_life(trace, words, c) for c in each))


def _per(kind: str) -> str:
    return f"a {'pound' if kind == 'USD/lb' else 'kilogram'} for"


def _one(trace: Trace, words: Words, key: str, kind: str) -> str:
    if key not in trace:
        return NOTHING
    value = step_value(trace, key)
    if not is_unknown(value) and value == 0.0:
        return NONE_OF[kind]
    if kind == "hours":
        return words.time(value).replace(".0 ", " ")
    return words.say(value, kind, style="two figures")


def _span(trace: Trace, words: Words, key: str, kind: str) -> str:
    """Ten to ninety percent of the draws, two figures each."""
    if f"{key}.p50" not in trace:
        return NOTHING
    ends = [step_value(trace, f"{key}.{p}") for p in ("p10", "p90")]
    if kind == "percent":
        low, high = (words.percent(value, two_figures=True) for value in ends)
        low = low.removesuffix(" %")
    else:
        low = words.say(ends[0], kind, style="two figures", unit=False)
        high = words.say(ends[1], kind, style="two figures")
        if kind.startswith("USD"):
            high = high.partition("/")[0]
    if NOT_KNOWN in (low, high):
        return NOT_KNOWN
    return high if low == high else f"{low} to {high}"


def _life(trace: Trace, words: Words, contender: Contender) -> str:
    told = life_words(contender)
    key = f"{contender.name}.life.permeability_years"
    if told or key not in trace:
        return told.partition(" (")[0] or NOTHING
    return f"chips {words.say(step_value(trace, key), 'years', style='two figures')}"


def ahead_words(comparison: PracticeComparison, answer: Answer) -> str:
    """Who is ahead in one measure, or that nobody is, and what would tell them apart."""
    what = "Takes out most nitrate" if answer.measure == "removed" else "Cheapest kilogram"
    if answer.ahead:
        return f"{what}: {comparison.contender(answer.ahead).words}, in nine draws of ten or more."
    front = [comparison.contender(name).words for name in answer.front]
    if not front:
        return f"{what}: nothing to say, since nothing may be built."
    if len(front) == 1:
        return f"{what}: {front[0]}, the only one that may be built."
    if not any(pair.measure == answer.measure for pair in comparison.pairs):
        return f"{what}: not known, since the days are not known."
    return f"{what}: {' and '.join(front)} cannot be told apart."


def settle_words(comparison: PracticeComparison, answer: Answer) -> Iterator[str]:
    """For each two that cannot be told apart: how often one does better, what it hangs on."""
    among = set(answer.front)
    for pair in comparison.pairs:
        if pair.measure != answer.measure or pair.better or not {pair.first, pair.second} <= among:
            continue
        yield _settle(comparison, pair)


def _settle(comparison: PracticeComparison, pair: Pair) -> str:
    first, second = (comparison.contender(name).words for name in (pair.first, pair.second))
    share = f"{100 * pair.first_better:.0f} of 100 draws"
    does = "removes more" if pair.measure == "removed" else "is cheaper a kilogram"
    if pair.hinge is None:
        return f"The {first} {does} than the {second} in {share}."
    hangs = hinge_words(pair.hinge.name)
    return f"The {first} {does} than the {second} in {share}. It hangs most on the {hangs}."


def choice_words(comparison: PracticeComparison, *, pound: bool = True) -> str:
    """What is chosen by the middle of the draws, and whether that is clear."""
    choice = comparison.choice
    if choice is None:
        return ""
    among = [comparison.contender(name).words for name in choice.options]
    if choice.now == NONE:
        now = f"By the middle of the draws nothing is built: of {_listed(among)} none keeps its "
        now += "rules at a price that the job allows" if _has_limit(comparison) else "rules"
    elif len(among) == 1:
        now = f"By the middle of the draws the {among[0]} is built"
    else:
        chosen = comparison.contender(choice.now).words
        now = f"By the middle of the draws the choice is the {chosen}, which has the cheapest "
        now += f"{'pound' if pound else 'kilogram'} of those that keep their rules"
    clear = "nine of ten draws agree." if choice.is_clear else "the draws do not agree on it."
    return f"{now}; {clear}"


def measure_lines(comparison: PracticeComparison) -> tuple[tuple[str, str, str], ...]:
    """What to measure, what it takes and what it could change; those that change something."""
    choice = comparison.choice
    told = () if choice is None else tuple(e for e in choice.measures if _changes(e))[:MEASURED]
    return tuple(
        (
            each.measurement.words[0].upper() + each.measurement.words[1:],
            f"about ${each.usd:,.0f}, {each.measurement.time}",
            measured_words(each),
        )
        for each in told
    )


def measure_note(comparison: PracticeComparison) -> str:
    """What else is to be said of what could be measured."""
    choice = comparison.choice
    if choice is None:
        return "Nothing can be weighed: no practice has draws and a price that may be built."
    told = [each for each in choice.measures if _changes(each)]
    if not told:
        return "Nothing on the list of measurements would change the choice or make it clear."
    if len(told) > 1 and cannot_tell(*told[:2]):
        return "The first two cannot be told apart by what they change for their price."
    return ""


def _changes(each: Weighed) -> bool:
    return each.changes.is_told and each.changes.share >= LITTLE


def _has_limit(comparison: PracticeComparison) -> bool:
    limits = (f"{c.name}.{MOST}" for c in comparison.contenders)
    return any(key in comparison.trace and comparison.trace.known(key) for key in limits)


def _listed(names: list[str]) -> str:
    return f"{', '.join(names[:-1])} and {names[-1]}" if len(names) > 1 else names[0]


def why_not(contender: Contender) -> str:
    """What falls short of a practice, its worst first."""
    first, *others = contender.stops or ("nobody said what",)
    return f"{first}, and {len(others)} more" if others else first

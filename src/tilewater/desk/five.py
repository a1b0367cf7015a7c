# SPDX-License-Identifier: Apache-2.0
"""The five numbers above the section, always in the same place.

What a practice takes, how long water stays in it, how much of the water it treats, the nitrate that
it removes, and what binds. Where days are still being computed the words say so; an old range is
never left standing beside new boards.
"""

import re
from collections.abc import Callable, Mapping
from typing import NamedTuple

from tilewater.basis.trace import Trace
from tilewater.basis.unknown import is_unknown
from tilewater.chain.design import Design
from tilewater.chain.scene_looked_at import LookedScene
from tilewater.desk.bound import place_of, reserve_of, stands, value_key
from tilewater.documents.pages.summary_rules import removed, treated_words
from tilewater.documents.words import NOT_KNOWN, Words, folded, step_value
from tilewater.tasks.held import Answer

FOLLOWS = "range follows"
"""What stands where only days can say it, until they have."""
HERE = "looked_at"
UNIT = re.compile(r"(\d) (?=[%a-z])")


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
    follows : bool
        Whether it is still being computed.
    """

    label: str
    value: str
    below: str = ""
    key: str = ""
    binds: bool = False
    follows: bool = False


def five_of(answer: Answer, words: Words, looked: LookedScene | None = None) -> tuple[Five, ...]:
    """Through it, time in it, water treated, nitrate removed, what binds now.

    Parameters
    ----------
    answer : Answer
        First or refined.
    words : Words
        Units of the reader.
    looked : LookedScene or None
        Water at a flow and a ditch that are looked at.

    Returns
    -------
    tuple of Five
        Empty where the job has faults instead of a design.
    """
    if answer.design is None:
        return ()
    design = answer.design
    trace = design.trace if looked is None else looked.trace
    first_two = _FIRST_TWO[design.practice.name](trace, words, looked is not None)
    by_days = _BY_DAYS[design.practice.name](design.trace, words)
    if not answer.is_refined:
        by_days = tuple(Five(one.label, FOLLOWS, follows=True) for one in by_days)
    told = (*first_two, *by_days, _binds(design, words))
    return tuple(_held_together(_with_next_step(trace, one)) for one in told)


def _with_next_step(trace: Trace, one: Five) -> Five:
    """What would make a number known, below one that is not."""
    step = trace.steps.get(one.key)
    if one.value != NOT_KNOWN or step is None or not is_unknown(step.value):
        return one
    first = step.value.measure.split(";")[0]
    return one._replace(below=first or one.below)


def _held_together(one: Five) -> Five:
    """Numbers not parted from their units at the end of a line; "not known" said once."""
    said = "" if one.value == one.below == NOT_KNOWN else one.below
    value, below = (UNIT.sub("\\1\u00a0", text) for text in (one.value, said))
    return one._replace(value=value, below=below)


def _bed(trace: Trace, words: Words, is_looked: bool) -> tuple[Five, Five]:
    if is_looked:
        return _looked(trace, words, "Through the bed", "Time in the bed")
    here = "capacity.criterion"
    through = Five(
        "Through the bed",
        words.say(step_value(trace, f"{here}.flow_m3_s"), "flow"),
        _shares(trace, words),
        f"{here}.flow_m3_s",
    )
    new = words.time(step_value(trace, "capacity.new.retention_h"))
    porosity = words.say(step_value(trace, f"{here}.porosity"), "number")
    kind = words.of_key("", step_value(trace, f"{here}.porosity_kind"), "")
    time = Five(
        "Time in the bed",
        words.time(step_value(trace, f"{here}.retention_h")),
        "; ".join(
            said
            for said in (folded("{} new", new), folded(f"{kind} porosity {{}}", porosity))
            if said != NOT_KNOWN
        ),
        f"{here}.retention_h",
    )
    return through, time


def _shares(trace: Trace, words: Words) -> str:
    """Share of the peak of the line that is judged, then of the others."""
    share = words.say(step_value(trace, "capacity.criterion.share_of_peak"), "ratio")
    age = words.say(step_value(trace, "capacity.criterion.age_years"), "number")
    when = "" if age == NOT_KNOWN else f" in year {age}"
    others = [
        f"{label} {said}"
        for name, label in (("spring", "spring"), ("new", "new"))
        if (said := words.say(step_value(trace, f"capacity.{name}.share_of_peak"), "ratio"))
        != NOT_KNOWN
    ]
    return "; ".join(filter(None, (folded(f"{{}} of the peak{when}", share), ", ".join(others))))


def _buffer(trace: Trace, words: Words, is_looked: bool) -> tuple[Five, Five]:
    if is_looked:
        flow, _ = _looked(trace, words, "Into the buffer", "")
        days = words.say(step_value(trace, f"{HERE}.travel_time_days"), "days")
        return flow, Five("Time in the soil", days, "as looked at")
    season = str(words.of_key("", step_value(trace, "buffer.criterion_season"), ""))
    share = words.say(step_value(trace, "buffer.share_of_peak"), "ratio")
    low, high = (
        words.say(step_value(trace, f"buffer.share_{end}_of_peak"), "ratio")
        for end in ("low", "high")
    )
    span = "" if NOT_KNOWN in (low, high) else f", {low.removesuffix(' %')} to {high} as tested"
    through = Five(
        f"Into the buffer, {season}" if season != NOT_KNOWN else "Into the buffer",
        words.say(step_value(trace, "buffer.flow_m3_s"), "flow"),
        folded("{} of the peak", share) + span,
        "buffer.flow_m3_s",
    )
    days = words.say(step_value(trace, "buffer.travel_time_days"), "days")
    width = words.say(step_value(trace, "buffer.width_m"), "length")
    time = Five(
        "Time in the soil", days, folded("over {} to the water", width),
        "buffer.travel_time_days",
    )  # fmt: skip
    return through, time


def _raised(trace: Trace, words: Words, is_looked: bool) -> tuple[Five, Five]:
    if is_looked:
        level = words.say(step_value(trace, f"{HERE}.level_m"), "elevation")
        head = words.say(step_value(trace, f"{HERE}.bypass_head_m"), "length")
        over = folded("{} over the boards, as looked at", head)
        first = Five("Water in the structure", level, over)
    else:
        crest = words.say(step_value(trace, "raised.highest_crest_m"), "elevation")
        under = words.say(step_value(trace, "raised.water_below_lowest_m"), "length")
        below = folded("{} under the lowest ground", under)
        first = Five("Highest crest", crest, below, "raised.highest_crest_m")
    reach = words.about(step_value(trace, "pool_reach_m"))
    slope = words.say(step_value(trace, "raised.zone_slope"), "slope")
    pool = Five("Water reaches", reach, folded("up the main, ground {}", slope), "pool_reach_m")
    return first, pool


def _looked(trace: Trace, words: Words, through: str, time: str) -> tuple[Five, Five]:
    share = words.say(step_value(trace, f"{HERE}.share"), "ratio")
    inflow = words.say(step_value(trace, f"{HERE}.inflow_m3_s"), "flow")
    below = folded("{} of the {} that is looked at", share, inflow)
    flow = words.say(step_value(trace, f"{HERE}.flow_m3_s"), "flow")
    hours = words.time(step_value(trace, f"{HERE}.retention_h"))
    return (
        Five(through, flow, below),
        Five(time, hours, "as looked at"),
    )


def _treated(trace: Trace, words: Words) -> tuple[Five, ...]:
    share = "removal.treated_volume_share"
    span = _span(words, [step_value(trace, f"{share}.{p}") for p in ("p10", "p90")])
    middle = words.say(step_value(trace, f"{share}.p50"), "ratio", style="two figures")
    treated = Five(
        "Water treated",
        middle if span == NOT_KNOWN else span,
        folded(f"{treated_words(trace)}, middle {{}}; the rest goes by", middle),
        f"{share}.p50",
    )
    return treated, _removed(trace, words, "Nitrate removed")


def _removed(trace: Trace, words: Words, label: str) -> Five:
    low, high = (
        words.percent(step_value(trace, f"removal.site_percent.{p}"), two_figures=True)
        for p in ("p10", "p90")
    )
    of_load = folded("a year; {} to {} of the field's load", low.removesuffix(" %"), high)
    return Five(label, removed(trace, words), of_load, "removal.removed_kg.p50")


def _kept_back(trace: Trace, words: Words) -> tuple[Five, ...]:
    middle = words.say(step_value(trace, "days.kept_share.p50"), "ratio", style="two figures")
    span = _span(words, [step_value(trace, f"days.kept_share.{p}") for p in ("p10", "p90")])
    kept = Five(
        "Water kept back",
        middle if span == NOT_KNOWN else span,
        folded("of the drain flow, middle {}", middle),
        "days.kept_share.p50",
    )
    return kept, _removed(trace, words, "Nitrate kept back")


def _span(words: Words, ends: list[object]) -> str:
    low, high = (words.say(end, "ratio", style="two figures") for end in ends)
    if NOT_KNOWN in (low, high):
        return NOT_KNOWN
    return low if low == high else f"{low.removesuffix(' %')} to {high}"


def _binds(design: Design, words: Words) -> Five:
    governs = design.governs
    if governs is None:
        return Five("Binds now", "not known", "nothing could be judged")
    title = design.requirement(governs.key).title
    told = "; ".join(filter(None, (stands(design, governs.key, words), reserve_of(design, words))))
    return Five("Binds now", place_of(design, words), f"{title}: {told}", value_key(design), True)


_FIRST_TWO: Mapping[str, Callable[[Trace, Words, bool], tuple[Five, Five]]] = {
    "bed": _bed,
    "buffer": _buffer,
    "raised": _raised,
}
_BY_DAYS: Mapping[str, Callable[[Trace, Words], tuple[Five, ...]]] = {
    "bed": _treated,
    "buffer": _treated,
    "raised": _kept_back,
}

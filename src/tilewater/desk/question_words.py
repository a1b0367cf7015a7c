# SPDX-License-Identifier: Apache-2.0
"""One true sentence of status for each question, made from the answer of the chain.

A sentence says only what the answer knows. What rests on days that were not counted yet says so.
"""

from collections.abc import Iterator

from tilewater.basis.trace import Trace
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.chain.design import Design
from tilewater.chain.practices import PRACTICES, described_in
from tilewater.chain.verdict import FITS, OPEN, SHORT
from tilewater.documents.pages.summary_rules import removed
from tilewater.documents.words import NOT_KNOWN, Words, step_value
from tilewater.job.schema_main import FOUND
from tilewater.tasks.held import Answer

LATER = "the days are being counted"
GUESSED = FOUND[3:]
"""How an end of a stretch was found that nobody has seen: from a map, or remembered."""
COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
ONCE = "the file has a fault first; mend it"
CONTROLS = {
    "main": "the main holds it back",
    "drainage coefficient": "set by the drainage coefficient",
    "laterals": "the laterals bring no more",
    "pump": "the pump lifts no more",
    "measured": "the largest measured",
}


def counted(count: int, noun: str) -> str:
    """A count in words: `one join`, `12 joins`."""
    number = COUNTS[count] if count < len(COUNTS) else str(count)
    return f"{number} {noun}{'' if count == 1 else 's'}"


def tile(answer: Answer, words: Words) -> str:
    """Size, grade and what is only a guess about the main."""
    design = answer.design
    if design is None:
        return ONCE
    trace = design.trace
    size = words.say(step_value(trace, "inputs.main.diameter_m"), "size")
    slope = words.say(step_value(trace, "inputs.main.slope"), "slope")
    material = words.of_key("", step_value(trace, "inputs.main.material"), "")
    if size == NOT_KNOWN:
        first = "The size of the main is not known"
    else:
        made_of = "" if material == NOT_KNOWN else f" {material}"
        first = f"Main {size}{made_of}"
        first += ", its grade not known" if slope == NOT_KNOWN else f" at {slope}"
    names = trace.names("inputs.segment")
    if not names:
        return f"{first}; not surveyed in segments"
    guesses = sum(_guesses(trace, name) for name in names)
    told = f"in {counted(len(names), 'segment')}"
    if not guesses:
        return f"{first}, {told}"
    return f"{first}, {told}; {counted(guesses, 'end')} nobody has seen"


def _guesses(trace: Trace, name: str) -> int:
    """Ends of a segment that are only guessed; the upper one is as the lower where not said."""
    lower = step_value(trace, f"inputs.segment.{name}.found")
    upper = step_value(trace, f"inputs.segment.{name}.found_up")
    return sum(how in GUESSED for how in (lower, lower if is_unknown(upper) else upper))


def water(answer: Answer, words: Words) -> str:
    """The peak and what holds it, and the water of a mean year."""
    if answer.design is None:
        return ONCE
    trace = answer.design.trace
    peak = words.say(step_value(trace, "drain_flow.peak_for_share_m3_s"), "flow")
    by = words.of_key("", step_value(trace, "drain_flow.controlled_by"), "").replace("_", " ")
    depth = words.say(step_value(trace, "drain_flow.mean_annual_depth_m"), "depth")
    first = "The peak is not known"
    if peak != NOT_KNOWN:
        told = CONTROLS.get(by, "" if by == NOT_KNOWN else f"set by {by}")
        first = f"{peak} at the peak" + (f", {told}" if told else "")
    year = (
        "what a year brings is not known" if depth == NOT_KNOWN else f"{depth} of water in a year"
    )
    return f"{first}; {year}"


def practice(answer: Answer, words: Words) -> str:
    """Whether what is designed fits, and which others were not tried."""
    design = answer.design
    if design is None:
        return ONCE
    name = _called(design)
    verdict = {
        FITS: f"{name} fits",
        OPEN: f"{name} fits as far as is known",
        SHORT: f"{name} does not fit",
    }.get(design.verdict, f"Whether {name[0].lower()}{name[1:]} fits is not known yet")
    binding = design.governs
    if design.verdict == SHORT and binding is not None:
        title = design.requirement(binding.key).title
        verdict += f": {title[0].lower()}{title[1:]} falls short"
    return verdict + "".join(f"; {told}" for told in _others(answer, design))


def _others(answer: Answer, design: Design) -> Iterator[str]:
    """What is said of the other practices: tried, not compared, not described."""
    described = {one.name for one in described_in(design.job)}
    tried = (answer.record or {}).get("alternatives") or ()
    left: list[str] = []
    for name, other in PRACTICES.items():
        if name == design.practice.name:
            continue
        of_it = [one for one in tried if str(one["what"]).casefold().endswith(other.words)]
        if of_it:
            yield f"{name} {str(of_it[0]['why_not']).partition(':')[0]}"
        elif name in described:
            left.append(name)
    if left:
        yield f"{', '.join(left)} not compared{'' if answer.is_refined else ' yet'}"
    missing = [n for n in ("bed", "buffer") if n not in described and n != design.practice.name]
    if missing:
        yield f"no {' or '.join(missing)} described"


def _called(design: Design) -> str:
    words = design.practice.words
    article = "An" if words[0] in "aeiou" else "A"
    return f"{article} {words}"


def height(answer: Answer, words: Words) -> str:
    """The crest, and how far it is from what the field allows."""
    if answer.design is None:
        return ONCE
    trace = answer.design.trace
    crest = step_value(trace, "boards.inlet-design.crest_m")
    highest = step_value(trace, "highest_crest_m")
    said = words.say(crest, "elevation")
    if said == NOT_KNOWN:
        return "The crest of the boards is not known"
    if is_unknown(highest):
        return f"Crest {said}; what the field allows is not known"
    apart = float(highest) - float(crest)
    spots = trace.names("field")
    at = [s for s in spots if step_value(trace, f"field.{s}.highest_crest_m") == highest]
    where = f"what {at[0]} allows" if at else "what the field allows"
    far = words.say(abs(apart), "length")
    return f"Crest {said}, {far} {'below' if apart >= 0 else 'above'} {where}"


def field(answer: Answer, words: Words) -> str:
    """The spot with the least clear soil to spare."""
    if answer.design is None:
        return ONCE
    trace = answer.design.trace
    limits = [r for r in trace.requirements if r.key.startswith("field.") and r.unit == "m"]
    judged = [r for r in limits if trace.known(f"{r.key}.slack")]
    if not limits:
        return "No low spot is listed yet"
    if not judged:
        return "How dry it stays is not known"
    driest = min(judged, key=lambda r: float(trace.value(f"{r.key}.slack")))
    left = float(trace.value(driest.value)) - float(trace.value(driest.limit))
    _, spot, kind = driest.key.split(".")[:3]
    far = words.say(abs(left), "length")
    if left < 0:
        return f"{spot} {kind} is {far} too wet"
    blind = len(limits) - len(judged)
    more = f"; {counted(blind, 'limit')} not known" if blind else ""
    return f"Tightest: {spot} {kind}, {far} to spare{more}"


def removal(answer: Answer, words: Words) -> str:
    """Nitrate taken out in a year: a range, never one figure."""
    if answer.design is None:
        return ONCE
    trace = answer.design.trace
    span = removed(trace, words)
    if NOT_KNOWN in span and not answer.is_refined:
        return LATER.capitalize()
    if NOT_KNOWN in span:
        return _why(trace, "removal.removed_kg.p50", "What it removes is not known")
    if not answer.is_refined:
        return f"{span} a year by published rates; {LATER}"
    middle = words.say(step_value(trace, "removal.removed_kg.p50"), "mass", style="two figures")
    kept = "kept back" if answer.design.practice.name == "raised" else "removed"
    return f"{span} a year {kept}, middle {middle}"


def cost(answer: Answer, words: Words) -> str:
    """What it costs to build, and a pound or kilogram."""
    if answer.design is None:
        return ONCE
    trace = answer.design.trace
    total = words.say(step_value(trace, "cost.total_usd"), "money")
    if total == NOT_KNOWN:
        return _why(trace, "cost.total_usd", "What it costs is not known")
    kind = "USD/lb" if words.system == "us" else "USD/kg"
    low, high = (
        words.say(step_value(trace, f"cost.usd_per_kg.{p}"), kind, style="two figures")
        for p in ("p10", "p90")
    )
    if not answer.is_refined:
        return f"{total} to build; {LATER}"
    if NOT_KNOWN in (low, high):
        return f"{total} to build"
    return f"{total} to build; {low.partition('/')[0]} to {high}"


def unknown(answer: Answer, words: Words) -> str:
    """How many things are open, and the first of them."""
    if answer.design is None:
        return f"{counted(len(answer.faults), 'fault').capitalize()} in the files"
    items = answer.design.open_items
    if not items:
        return "Nothing is open"
    first = items[0].why.partition(":")[0]
    more = "open, first" if len(items) > 1 else "open"
    return f"{counted(len(items), 'thing').capitalize()} {more}: {first[0].lower()}{first[1:]}"


def built(answer: Answer, words: Words) -> str:
    """How far the work on site has come, as far as anything of it is typed."""
    if answer.design is None:
        return ONCE
    trace = answer.design.trace
    signed = [name for name in trace.names("inputs.hold") if trace.known(f"inputs.hold.{name}.by")]
    if trace.known("inputs.as_built.shots"):
        return "Finished work was shot; look at it under Inspect"
    if signed:
        return f"{counted(len(signed), 'hold point').capitalize()} signed"
    asked = trace.names("inputs.approval")
    if asked:
        return f"{counted(len(asked), 'approval').capitalize()} in the register, nothing built yet"
    return "Nothing typed of approvals, chips or finished work yet"


def years(answer: Answer, words: Words) -> str:
    """What is measured of the running practice, as far as anything of it is typed."""
    if answer.design is None:
        return ONCE
    trace = answer.design.trace
    loggers = trace.names("inputs.logger")
    if loggers:
        return f"{counted(len(loggers), 'logger').capitalize()}; what it removed is under Report"
    if trace.known("inputs.board_log.file"):
        return "The boards are logged, nothing else is measured"
    return "Nothing is measured yet"


def _why(trace: Trace, key: str, begin: str) -> str:
    """That a number is not known, with the inputs that it waits for."""
    value = step_value(trace, key)
    causes = value.causes if isinstance(value, Unknown) else ()
    titles = [trace.steps[cause].title for cause in causes if cause in trace]
    if not titles:
        return begin
    more = f" and {len(titles) - 1} more" if len(titles) > 1 else ""
    return f"{begin}: it waits for {titles[0][0].lower()}{titles[0][1:]}{more}"

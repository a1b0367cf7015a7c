# SPDX-License-Identifier: Apache-2.0
"""Blocks of a design about a buffer: its line, what it takes and why, its bank, what removes most.

What is the same for every practice is told by the other modules of the page.
"""

from collections.abc import Iterator

from tilewater.basis.trace import Trace
from tilewater.chain.buffer import AT_STAKE, flow_rule_words
from tilewater.documents.pages.numbers import keyed, number
from tilewater.documents.pages.said import Cell, Part, Said, Tone, block, dim, pairs, rows
from tilewater.documents.words import NOT_KNOWN, Words, folded, step_value, together
from tilewater.practices.buffer.line_steps import YEAR, seasons
from tilewater.practices.buffer.soil_steps import BY, KINDS, used_kind

CURVES = (
    ("width", "strip", "inputs.buffer.width_m", "length"),
    ("length", "line that feeds", "buffer.line_length_m", "length"),
    ("crest", "bypass crest", "boards.inlet-design.crest_m", "length"),
)
LAWS = (("first_order", "first order"), ("zero_order", "zero order"))


def buffer(trace: Trace, words: Words) -> Part:
    """The line and its strip, and the head that drives water through it."""

    def length(key: str) -> str:
        return words.say(step_value(trace, key), "length")

    def level(key: str) -> str:
        return words.say(step_value(trace, key), "elevation")

    size = words.say(step_value(trace, "inputs.buffer.pipe_diameter_m"), "size")
    around = words.of_key("", step_value(trace, "inputs.buffer.envelope"), "")
    feeds = folded("{} that feeds", length("buffer.line_length_m"))
    solid = folded("{} solid", length("quantities.solid-line.quantity"))
    return block(
        "Buffer",
        "",
        pairs(
            (
                ("line", together(("feeding length", feeds), ("solid", solid))),
                ("pipe", folded("{}, in {}", size, around)),
                (
                    "strip",
                    keyed(
                        trace,
                        folded("{} from line to water", length("buffer.width_m")),
                        "buffer.width_m",
                    ),
                ),
                ("invert", number(trace, words, "inputs.buffer.line_invert_m", "elevation")),
                ("soil over it", number(trace, words, "buffer.cover_m", "length")),
                (
                    "restrictive layer",
                    number(trace, words, "inputs.buffer.barrier_m", "elevation"),
                ),
                ("field edge", _field_edge(trace, words)),
                ("organic matter", words.say(step_value(trace, "buffer.organic_matter"), "ratio")),
            )
        ),
    )


def _field_edge(trace: Trace, words: Words) -> str:
    clear = words.say(step_value(trace, "buffer.field_edge.standing_m"), "length")
    asked = words.say(step_value(trace, "inputs.limits.standing_m"), "length")
    return folded("{} of clear soil over the held water, {} asked", clear, asked)


def taken(trace: Trace, words: Words) -> Part:
    """What the buffer takes of the capacity, both arms of its rule, and what its line costs."""
    share = words.say(step_value(trace, "buffer.share_of_peak"), "ratio")
    low, high = (
        words.say(step_value(trace, f"buffer.share_{end}_of_peak"), "ratio")
        for end in ("low", "high")
    )
    flow = words.say(step_value(trace, "buffer.flow_m3_s"), "flow")
    free = words.say(step_value(trace, "buffer.flow_without_losses_m3_s"), "flow")
    used = words.say(step_value(trace, "buffer.length_share"), "ratio")
    season = str(step_value(trace, "buffer.criterion_season"))
    judged = "water at the bypass crest, ordinary ditch"
    return block(
        "What it takes",
        judged if season == YEAR else f"judged in {season}, {judged}",
        Said(flow_rule_words(trace), "strong"),
        pairs(
            (
                (
                    "of the capacity",
                    keyed(
                        trace,
                        folded("{}, {} to {} for the conductivity", share, low, high),
                        "buffer.share_of_peak",
                    ),
                ),
                (
                    "of the strip",
                    keyed(trace, folded("{} of the length there is", used), "buffer.length_share"),
                ),
                (
                    "flow",
                    keyed(
                        trace,
                        folded("{}; {} if the line took no head", flow, free),
                        "buffer.flow_m3_s",
                    ),
                ),
                (
                    "travel time",
                    keyed(trace, _travel(trace, words), "buffer.travel_time_days"),
                ),
            )
        ),
    )


def _travel(trace: Trace, words: Words) -> str:
    exact, linear = (
        words.say(step_value(trace, f"buffer.travel_time{end}_days"), "days")
        for end in ("", "_linear")
    )
    oxic = words.say(step_value(trace, "buffer.oxic_days"), "days")
    told = folded("{}, by mean velocity and 1.11 {}", exact, linear)
    if told == NOT_KNOWN:
        return told
    return f"{told}; the first {oxic} take up oxygen"


def conductivity(trace: Trace, words: Words) -> Part | None:
    """Every kind of conductivity side by side, with what the buffer would take by it."""
    used = used_kind(trace)
    season = step_value(trace, "buffer.criterion_season")
    lines: list[list[Cell]] = []
    for label, kind in KINDS.items():
        if f"{BY}.{kind}_m_s" not in trace:
            continue
        here = f"buffer.season.{season}"
        factor = step_value(trace, f"{BY}.{kind}_factor")
        style: Tone = "strong" if kind == used else ""
        lines.append(
            [
                Said(label, style),
                number(trace, words, f"{BY}.{kind}_m_s", "conductivity"),
                words.say(factor, "number"),
                number(trace, words, f"{here}.flow_{kind}_m3_s", "flow"),
                number(trace, words, f"{here}.share_{kind}_of_peak", "ratio"),
                Said("used" if kind == used else "", style),
            ]
        )
    if not lines:
        return None
    heads = ("by", "conductivity", "off by, factor", "flow", "of capacity", "")
    return block(
        "Conductivity of the strip",
        "kinds are never mixed",
        rows(heads, lines, right=(1, 2, 3, 4)),
        *_holes(trace, words),
    )


def _holes(trace: Trace, words: Words) -> tuple[Cell, ...]:
    names = trace.names("buffer.hole")
    if not names:
        return ()
    each = (
        f"{name} {words.say(step_value(trace, f'buffer.hole.{name}.conductivity_m_s'), kind)}"
        for name in names
        for kind in ("conductivity",)
    )
    return (dim(f"Holes: {', '.join(each)}."),)


def by_season(trace: Trace, words: Words) -> Part:
    """What the buffer takes in each season, with the boards and the ditch of that season."""

    def line(season: str) -> Iterator[Cell]:
        here = f"buffer.season.{season}"
        setting = "design" if season == YEAR else season
        yield season
        yield number(trace, words, f"boards.inlet-{setting}.crest_m", "elevation")
        yield number(trace, words, f"ditch.{season}.stage_m", "elevation")
        yield number(trace, words, f"{here}.flow_m3_s", "flow")
        yield number(trace, words, f"{here}.share_of_peak", "ratio")
        yield number(trace, words, f"{here}.travel_time_days", "days")

    heads = ("season", "bypass crest", "ditch", "flow", "of capacity", "travel time")
    lines = (list(line(season)) for season in seasons(trace))
    return block("By season", "", rows(heads, lines, right=(1, 2, 3, 4, 5)))


def bank(trace: Trace, words: Words) -> Part:
    """The bank: its height, where water comes out of it, how safely it stands."""
    height = words.say(step_value(trace, "buffer.bank_height_m"), "length")
    seep = words.say(step_value(trace, "buffer.seep_m"), "elevation")
    above = words.say(step_value(trace, "buffer.seep_above_toe_m"), "length")
    gradient, leaving = (
        words.say(step_value(trace, f"buffer.{name}"), "number")
        for name in ("gradient", "exit_gradient")
    )
    low, high = (
        words.say(step_value(trace, f"buffer.bank_factor_{end}"), "number")
        for end in ("low", "high")
    )
    study = words.of_key("", step_value(trace, "inputs.buffer.bank_study"), "")
    return block(
        "Bank",
        "",
        pairs(
            (
                ("height", folded("{} over the bottom of the ditch", height)),
                ("seeps up to", folded("{}, {} over the bottom", seep, above)),
                ("gradient", folded("{} on the way, {} where it leaves", gradient, leaving)),
                ("factor of safety", folded("{} to {} by simple models", low, high)),
                ("studied", study),
            )
        ),
        dim(AT_STAKE),
    )


def removal_of_line(trace: Trace, words: Words) -> Part | None:
    """What removes most here, how flat that best is, and the two laws side by side."""
    lines: list[list[Cell]] = []
    for name, label, here, kind in CURVES:
        key = f"buffer.curve.{name}"
        if not trace.known(key):
            continue
        curve = trace.value(key)
        lines.append(
            [
                label,
                words.say(step_value(trace, here), kind),
                words.say(curve.best, kind),
                folded(
                    "{} to {}",
                    words.say(curve.flat_low, kind, unit=False),
                    words.say(curve.flat_high, kind),
                ),
                words.say(float(curve.removed_share.max()), "ratio", style="two figures"),
            ]
        )
    if not lines:
        return None
    heads = ("what", "here", "most at", "within 5 % of it", "of all nitrate")
    laws = ", ".join(
        f"{words.say(step_value(trace, f'buffer.removal.{law}'), 'ratio', style='two figures')} "
        f"by {label}"
        for law, label in LAWS
    )
    return block(
        "What removes most here",
        "over the days of the record, one thing changed at a time",
        rows(heads, lines, right=(1, 2, 3, 4)),
        dim(
            f"Of what enters, steady: {laws}. Tried is what there is room for; what stands in the "
            "way of it is told elsewhere." + _least_width(trace, words)
        ),
    )


def _least_width(trace: Trace, words: Words) -> str:
    limit = "criteria.604-width.limit"
    if limit not in trace:
        return ""
    return (
        f" The standard lets no strip be narrower than {words.say(trace.value(limit), 'length')}."
    )

# SPDX-License-Identifier: Apache-2.0
"""Blocks of a design about an outlet raised in season: what is kept back, and where it goes."""

from tilewater.basis.trace import Trace
from tilewater.chain.raised_days import WAYS
from tilewater.documents.pages.said import Part, Said, block, dim, pairs, rows
from tilewater.documents.words import Words, folded, step_value

OF_RAISED = "raised.highest_crest_m"
"""A key that only a raised outlet has."""


def is_raised(trace: Trace) -> bool:
    """Whether a design is that of a raised outlet."""
    return OF_RAISED in trace


def first_numbers(trace: Trace, words: Words) -> Part:
    """The numbers that matter most, under the verdict."""
    share = words.say(step_value(trace, "days.kept_share.p50"), "ratio", style="two figures")
    crest = words.say(step_value(trace, OF_RAISED), "elevation")
    numbers = (share, _span(trace, words, "removal.removed_kg"), crest)
    told = ("of the drain flow kept back", "nitrate-N kept back a year", "highest crest")
    lines = ([Said(text, "strong") for text in numbers], [dim(text) for text in told])
    return rows(("", "", ""), lines, wide=(0, 1, 2))


def zone(trace: Trace, words: Words) -> Part:
    """The ground that the boards reach."""

    def length(key: str) -> str:
        return words.say(step_value(trace, key), "length")

    return block(
        "Control zone",
        "the ground that the boards reach",
        pairs(
            (
                ("pool reaches", folded("{} up the main", length("pool_reach_m"))),
                ("ground falls", folded("{} along it", length("raised.zone_fall_m"))),
                ("slope", words.say(step_value(trace, "raised.zone_slope"), "slope")),
                (
                    "highest water",
                    folded("{} under the lowest ground", length("raised.water_below_lowest_m")),
                ),
            )
        ),
    )


def kept_back(trace: Trace, words: Words) -> Part:
    """What does not leave by the drains in a year."""
    site = [
        words.percent(step_value(trace, f"removal.site_percent.{p}"), two_figures=True)
        for p in ("p10", "p90")
    ]
    middle = words.say(step_value(trace, "removal.removed_kg.p50"), "mass", style="two figures")
    span = _span(trace, words, "removal.removed_kg")
    around = words.say(step_value(trace, "days.round_boards_kg.p50"), "mass", style="two figures")
    return block(
        "Kept back",
        _rests_on(trace),
        pairs(
            (
                ("nitrate-N", Said(folded("{}, middle {}", span, middle), "strong")),
                ("of the site's load", folded("{} to {}", site[0].removesuffix(" %"), site[1])),
                ("may pass round", folded("up to {} of it, through the ground", around)),
                ("the drains bring", _span(trace, words, "removal.load_kg")),
                ("treated", "nothing"),
            )
        ),
    )


def _rests_on(trace: Trace) -> str:
    if not trace.known("days.whole_years", "days.draws"):
        return ""
    years = int(trace.value("days.whole_years").sum())
    return f"a year of {years}, P10 to P90 of {len(trace.value('days.draws'))} draws"


def where(trace: Trace, words: Words) -> Part | None:
    """Where the water of a mean year goes, boards out and boards in."""
    if "raised.balance.drain_flow.out_m" not in trace:
        return None
    parts = {"drain_flow": "through the drains", **WAYS}
    lines = [
        (
            dim(told),
            words.say(step_value(trace, f"raised.balance.{part}.out_m"), "depth"),
            words.say(step_value(trace, f"water.balance.{part}_m"), "depth"),
        )
        for part, told in parts.items()
    ]
    table = rows(("goes", "boards out", "boards in"), lines, right=(1, 2))
    return block("Where the water goes", "mean year", table)


def _span(trace: Trace, words: Words, group: str) -> str:
    low, high = (step_value(trace, f"{group}.{p}") for p in ("p10", "p90"))
    first = words.say(low, "mass", style="two figures", unit=False)
    last = words.say(high, "mass", style="two figures")
    return first if first == last else f"{first} to {last}"

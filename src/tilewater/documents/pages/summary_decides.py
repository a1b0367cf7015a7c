# SPDX-License-Identifier: Apache-2.0
"""Blocks of a design about what decides it, what to measure next, and what else it does."""

from itertools import pairwise

from tilewater.basis.trace import Trace
from tilewater.chain.advice import advice_in_order
from tilewater.chain.decides import HERE
from tilewater.chain.decides_numbers import YearShares, told_of
from tilewater.chain.measurements import LITTLE, advice_words, cannot_tell
from tilewater.chain.result_decides import untold_pairs
from tilewater.chain.side_effects import HERE as SIDE
from tilewater.chain.variance_shares import Share, VarianceShares
from tilewater.documents.pages.said import Cell, Part, Said, block, dim, pairs
from tilewater.documents.words import Words, folded

SHOWN = (
    ("removed_kg", "removed in a year"),
    ("long_run_removed_kg", "removed in a mean year"),
    ("long_run_share", "share treated"),
    ("share_of_peak", "share of peak"),
)
MOST = 3
"""Parameters and measurements that a block names; the rest stand in the record."""


def decides(trace: Trace, practice: str) -> Part | None:
    """What the spread of the answer comes from, and what to measure next."""
    lines: list[tuple[str, Cell]] = []
    for output, label in SHOWN:
        key = f"{HERE}.{output}.shares"
        if trace.known(key):
            lines.append((label, _shares(trace.value(key))))
    if not lines:
        return None
    order = advice_in_order(trace)
    told = [each for each in order if max(each.changes.share, each.narrows.share) >= LITTLE]
    for number, each in enumerate(told[:MOST], 1):
        lines.append((f"measure {number}", Said(advice_words(each, practice))))
    if any(cannot_tell(a, b) for a, b in pairwise(told[:MOST])):
        lines.append(("", dim("Which of these comes first cannot be told for sure.")))
    return block("What decides", "percent of the spread, +/- its error", pairs(lines))


def side_effects(trace: Trace, words: Words) -> Part | None:
    """Days with nitrate used up, nitrous oxide, and the first flush."""
    if not trace.known(f"{SIDE}.used_up_days"):
        return None
    used, sulfide = (float(trace.value(f"{SIDE}.{n}_days")) for n in ("used_up", "sulfide"))
    lines: list[tuple[str, Cell]] = [
        ("nitrate used up", f"{used:.0f} days a year; sulfide can form on {sulfide:.0f}")
    ]
    if trace.known(f"{SIDE}.nitrous_oxide_kg.low"):
        low, high = (
            words.say(trace.value(f"{SIDE}.nitrous_oxide_kg.{p}"), "mass", style="two figures")
            for p in ("low", "high")
        )
        lines.append(
            ("nitrous oxide", folded("{} to {} of N a year by published shares", low, high))
        )
        flush = words.say(trace.value(f"{SIDE}.flush_m3"), "volume", style="two figures")
        share = 100 * float(trace.value(f"{SIDE}.flush_share"))
        lines.append(
            ("first flush", folded("{} of brown water, {} of a year", flush, f"{share:.0f} %"))
        )
    return block("What else it does", "counted from the days", pairs(lines))


def _shares(shares: VarianceShares | YearShares) -> Said:
    named = told_of(shares)[:MOST]
    shown = [
        f"{name.replace('-', ' ')} {100 * shares.first[name].share:.0f}{_error(shares.first[name])}"
        for name in named
    ]
    untold = [pair for pair in untold_pairs(shares) if set(pair) <= set(named)]
    end = "".join(
        f"; {a.replace('-', ' ')} and {b.replace('-', ' ')} cannot be told apart" for a, b in untold
    )
    return Said(f"{', '.join(shown) or 'nothing that can be told'}{end}")


def _error(share: Share) -> str:
    """Standard error in percent; nothing where it rounds to none."""
    return f" +/- {100 * share.error:.0f}" if share.error >= 0.005 else ""

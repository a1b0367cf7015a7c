# SPDX-License-Identifier: Apache-2.0
"""The page of a design: the verdict first, then what it rests on, in the order of the work."""

from collections.abc import Callable, Iterator

from tilewater.chain.alternatives import Alternative
from tilewater.chain.design import Design
from tilewater.documents.pages import (
    summary_bed,
    summary_buffer,
    summary_decides,
    summary_ditch,
    summary_levels,
    summary_main,
    summary_money,
    summary_raised,
    summary_rules,
    summary_season,
    summary_water,
)
from tilewater.documents.pages.said import Part, Said, dim
from tilewater.documents.words import Words


def summary(
    title: str, design: Design, found: tuple[Alternative, ...], words: Words
) -> Iterator[Part]:
    """Blocks of the page in their order; a block that has nothing to say is left out."""
    trace = design.trace
    yield summary_rules.verdict(title, design, words)
    is_long = len(design.open_items) > summary_rules.MANY
    open_items = summary_rules.open_items(design)
    blocks = (
        summary_rules.overrules(trace, words, design.job.assumptions),
        None if is_long else open_items,
        summary_bed.water(trace, words),
        summary_main.main(trace, words),
        summary_main.pump(trace, words),
        *_OF_PRACTICE[design.practice.name](design, words),
        summary_rules.criteria(design, words),
        *_removal(design, words),
        summary_money.quantities(trace, words),
        summary_money.cost(trace, words),
        summary_decides.decides(trace, design.practice.words),
        summary_decides.side_effects(trace, words),
        summary_rules.alternatives(found, words),
        open_items if is_long else None,
    )
    yield from (each for each in blocks if each is not None)
    yield Said()
    example = "capacity.criterion.flow_m3_s"
    yield dim(f"Where a number comes from:\n  tilewater design JOB --explain {example}")


def _removal(design: Design, words: Words) -> Iterator[Part | None]:
    """What is taken out or kept back, and how long chips last."""
    trace = design.trace
    if design.practice.name == "raised":
        yield summary_raised.kept_back(trace, words)
        yield summary_raised.where(trace, words)
        return
    yield summary_money.removal(trace, words)
    if design.practice.name == "bed":
        yield summary_money.life(trace, words)


def _bed(design: Design, words: Words) -> Iterator[Part | None]:
    trace = design.trace
    yield summary_bed.bed(trace, words)
    yield summary_bed.capacity(trace, words)
    yield summary_bed.seasons(trace, words)
    yield from _levels(design, words)
    yield summary_levels.groundwater(design, words)
    yield summary_season.emptying(trace, words)
    yield summary_season.start_up(trace, words)
    yield summary_season.winter(trace, words)
    yield summary_season.lid_card(trace, words)


def _buffer(design: Design, words: Words) -> Iterator[Part | None]:
    trace = design.trace
    yield summary_buffer.buffer(trace, words)
    yield summary_buffer.taken(trace, words)
    yield summary_buffer.conductivity(trace, words)
    yield summary_buffer.by_season(trace, words)
    yield summary_buffer.bank(trace, words)
    yield summary_buffer.removal_of_line(trace, words)
    yield from _levels(design, words)
    yield summary_levels.groundwater(design, words)


def _levels(design: Design, words: Words) -> Iterator[Part | None]:
    """Boards, elevations, ditch, field and ground, which every practice has."""
    trace = design.trace
    yield summary_bed.boards(trace, words)
    yield summary_levels.ladder(design, words)
    yield summary_ditch.ditch(trace, words)
    yield summary_levels.field(design, words)
    yield summary_water.wet_days(trace, words)
    yield summary_levels.site(design, words)


def _raised(design: Design, words: Words) -> Iterator[Part | None]:
    yield summary_raised.zone(design.trace, words)
    yield from _levels(design, words)


_OF_PRACTICE: dict[str, Callable[[Design, Words], Iterator[Part | None]]] = {
    "bed": _bed,
    "buffer": _buffer,
    "raised": _raised,
}
"""Blocks that a practice has, by its name."""

# SPDX-License-Identifier: Apache-2.0
"""The page of a design: the verdict first, then what it rests on, in the order of the work."""

from collections.abc import Iterator

from rich.console import RenderableType
from rich.text import Text

from tilewater.cli import (
    summary_bed,
    summary_ditch,
    summary_levels,
    summary_main,
    summary_money,
    summary_rules,
    summary_season,
    summary_water,
)
from tilewater.cli.page import dim
from tilewater.documents.words import Words
from tilewater.tasks.designing import Outcome


def summary(outcome: Outcome, words: Words) -> Iterator[RenderableType]:
    """Blocks of the page in their order; a block that has nothing to say is left out."""
    design, trace = outcome.design, outcome.design.trace
    yield summary_rules.verdict(outcome.job.title, design, words)
    is_long = len(design.open_items) > summary_rules.MANY
    open_items = summary_rules.open_items(design)
    blocks = (
        summary_rules.overrules(trace, words, outcome.job.inputs.assumptions),
        None if is_long else open_items,
        summary_bed.water(trace, words),
        summary_main.main(trace, words),
        summary_main.pump(trace, words),
        summary_bed.bed(trace, words),
        summary_bed.capacity(trace, words),
        summary_bed.seasons(trace, words),
        summary_bed.boards(trace, words),
        summary_levels.ladder(design, words),
        summary_ditch.ditch(trace, words),
        summary_levels.field(design, words),
        summary_water.wet_days(trace, words),
        summary_levels.site(design, words),
        summary_levels.groundwater(design, words),
        summary_season.emptying(trace, words),
        summary_season.start_up(trace, words),
        summary_season.winter(trace, words),
        summary_season.lid_card(trace, words),
        summary_rules.criteria(design, words),
        summary_money.removal(trace, words),
        summary_money.life(trace, words),
        summary_money.quantities(trace, words),
        summary_money.cost(trace, words),
        summary_rules.alternatives(outcome.alternatives, words),
        open_items if is_long else None,
    )
    yield from (each for each in blocks if each is not None)
    yield Text()
    example = "capacity.criterion.flow_m3_s"
    yield dim(f"Where a number comes from:\n  tilewater design JOB --explain {example}")

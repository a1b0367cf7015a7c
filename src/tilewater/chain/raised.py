# SPDX-License-Identifier: Apache-2.0
"""The outlet raised in season as the chain designs it: boards on the main, and nothing else.

It has the structure of `structure.inlet` and the boards that each season sets: `raised_boards`
where the season has them, else those of the inlet. Where every season has its own, the design
setting is the highest of them, since that is what the field has to bear.
"""

from dataclasses import replace

from tilewater.basis.trace import Given, Trace
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.chain.bed import OF_BUFFER
from tilewater.chain.buffer import OF_BED, add_no_section
from tilewater.chain.practice import Omission, Practice
from tilewater.chain.raised_days import add_raised_days, add_raised_removal, tell_raised_days
from tilewater.practices.bed import board_steps, groundwater_steps, ladder, rating_steps, settings
from tilewater.practices.bed.settings import DESIGN
from tilewater.practices.boards import crest_elevation
from tilewater.practices.raised import quantities, rules
from tilewater.practices.rules import add_rung, same

OWN, USUAL = "raised_boards_m", "inlet_boards_m"


class BoardsOfSeasons(Omission):
    """Inputs of a raised outlet: those of the job, each season's own boards put in."""

    def applied_to(self, givens: tuple[Given, ...]) -> tuple[Given, ...]:
        """The inputs that are left, the boards of the inlet being those of the raised outlet."""
        left = super().applied_to(givens)
        own = {g.key.removesuffix(OWN): g for g in left if g.key.endswith(f".{OWN}")}
        if not own:
            return left
        instead = {f"{here}{USUAL}": g for here, g in own.items()}
        seasons = {g.key.rpartition(".")[0] for g in left if g.key.startswith("inputs.season.")}
        heights = [g.value for g in own.values() if not is_unknown(g.value)]
        if len(heights) == len(seasons):
            highest = max(own.values(), key=lambda g: float(g.value))
            instead["inputs.boards.inlet_m"] = highest
        kept = tuple(g for g in left if g.key not in instead and not g.key.endswith(f".{OWN}"))
        return (*kept, *(replace(g, key=key) for key, g in instead.items()))


OF_OTHERS = BoardsOfSeasons(
    keys=(*OF_BED.keys, *OF_BUFFER.keys),
    pipe_uses=frozenset({*OF_BED.pipe_uses, "bypass", "solid replacement"}),
)
"""What only a bed or a buffer is designed from. Its pipe is that of [raised]."""


def add_raised_boards(trace: Trace) -> None:
    """Record the boards of the structure by season, and their ratings."""
    settings.add_boards(trace, ("inlet",))
    board_steps.add_board_sets(trace, ("inlet",))


def add_raised_crest(trace: Trace) -> None:
    """Record the crest of the design setting under its name in the ladder."""
    trace.compute(
        "elevations.inlet_crest.elevation_m",
        same,
        unit="m",
        title="Crest of the boards, design setting",
        value=f"boards.inlet-{DESIGN}.crest_m",
    )


def add_raised(trace: Trace) -> None:
    """Record what the boards are held to, the anchor of the structure and the quantities."""
    _add_levels(trace)
    _add_zone(trace)
    trace.compute(
        "raised.solid_pipe_m",
        same,
        unit="m",
        title="Solid pipe on each side of the structure",
        value="inputs.raised.solid_pipe_m",
    )
    groundwater_steps.add_boxes(trace, ("inlet",))
    quantities.add_quantities(trace)


def _add_levels(trace: Trace) -> None:
    rim, ground = (f"inputs.structure.inlet.{part}_m" for part in ("rim", "ground"))
    zero = trace.constant("rules.none_m", 0.0, "No less than level", unit="m", source="derived")
    add_rung(
        trace,
        "inlet_rim",
        "Rim of the structure above the ground",
        upper=rim,
        lower=ground,
        limit="rules.rim-above-ground_m",
        elevation=rim,
        scale="freeboard",
        where="structure",
    )
    crest = f"boards.inlet-{DESIGN}.crest_m"
    add_rung(
        trace,
        "inlet_crest",
        "Crest of the boards under the highest crest that the field allows",
        upper="highest_crest_m",
        lower="elevations.inlet_crest.elevation_m",
        limit=zero,
        elevation=crest,
        where="structure",
    )
    ladder.add_season_crests(trace)
    rating_steps.add_bypass_head(
        trace,
        "bypass",
        "drain_flow.peak_for_bypass_m3_s",
        "Head over the crest at the largest physical flow",
    )
    rating_steps.tell_of_bypass_range(trace)
    trace.compute(
        "bypass.level_m",
        crest_elevation,
        unit="m",
        title="Water in the structure at the largest physical flow",
        sill="elevations.inlet_crest.elevation_m",
        height="bypass.head_m",
    )
    add_rung(
        trace,
        "inlet_rim_storm",
        "Rim of the structure above its water at the largest physical flow",
        upper=rim,
        lower="bypass.level_m",
        limit=zero,
        elevation=rim,
        scale="freeboard",
        where="structure",
    )


def _add_zone(trace: Trace) -> None:
    """The ground that the boards reach, and the highest water under it."""
    places = {}
    for spot in trace.names("inputs.spot"):
        key = f"raised.place.{spot}"
        trace.compute(
            key,
            rules.place_of_spot,
            unit="m",
            title=f"Station and ground of {spot}",
            station=f"inputs.spot.{spot}.station_m",
            ground=f"inputs.spot.{spot}.ground_m",
        )
        places[f"spot_{spot.replace('-', '_')}"] = key
    crests = {
        f"setting_{name.replace('-', '_')}": f"boards.inlet-{name}.crest_m"
        for name in (DESIGN, *trace.names("inputs.season"))
    }
    trace.compute(
        "raised.highest_crest_m",
        rules.highest_of,
        unit="m",
        title="Highest crest of all settings",
        **crests,
    )
    zone = {"pool_reach": "pool_reach_m", "station": "inputs.main.station_diversion_m"}
    for name, function, unit, title, inputs in (
        ("zone_fall_m", rules.zone_fall, "m", "Fall of the ground that the boards reach", zone),
        ("zone_slope", rules.zone_slope, "-", "Slope of that ground along the main", zone),
        (
            "water_below_lowest_m",
            rules.water_below_lowest,
            "m",
            "Highest standing water under the lowest ground that was shot",
            {"highest_crest": "raised.highest_crest_m"},
        ),
    ):
        if not places:
            _give_unshot(trace, f"raised.{name}", unit, title)
            continue
        trace.compute(f"raised.{name}", function, unit=unit, title=title, **inputs, **places)


def _give_unshot(trace: Trace, key: str, unit: str, title: str) -> None:
    unknown = Unknown("no spot of the field is given", "shoot the low spots along the main")
    trace.give(Given(key, unknown, unit, title))


def judge_site_of_raised(trace: Trace) -> None:
    """Nothing is taken from the ground but a pit for the structure."""


def add_nothing_by_draw(trace: Trace) -> None:
    """No criterion of a raised outlet is decided by draws."""


RAISED = Practice(
    name="raised",
    words="outlet raised in season",
    standard="554",
    edition="2016",
    has_ways=False,
    leaves_out=OF_OTHERS,
    add_boards=add_raised_boards,
    add_crests=add_raised_crest,
    add=add_raised,
    add_days=add_raised_days,
    add_removal=add_raised_removal,
    tell_days=tell_raised_days,
    judge_site=judge_site_of_raised,
    add_section=add_no_section,
    add_by_draw=add_nothing_by_draw,
    by_draw={},
)

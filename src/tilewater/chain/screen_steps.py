# SPDX-License-Identifier: Apache-2.0
"""Steps of the screening: what each question holds to its limit, from the site alone.

How high boards may stand is taken from the field, not from the boards that the job draws: the site
is asked, not the drawing. Only depth of cut and the dry hole take the floor that is drawn.
"""

from tilewater.basis.trace import Given, Trace, argument_name
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.chain import screen_parts as parts
from tilewater.chain.ditch_days import RECORD
from tilewater.chain.ditch_seasons import seasons_of
from tilewater.chain.ditch_share import share_under_crest
from tilewater.chain.main_parts import station_difference
from tilewater.chain.segments import LINE as SEGMENTS
from tilewater.chain.segments import LINE_ABOVE
from tilewater.hydrology import ditch_shares
from tilewater.hydrology.drain_flow import largest_of, least_of
from tilewater.practices import main_pool, wetness
from tilewater.practices.bed.ladder import smallest_board
from tilewater.practices.bed.steps import lower_of
from tilewater.practices.rules import difference, same

FOOT = 0.3048
ACRE = 4046.8564224
LIMITS = (
    ("hold_m", FOOT, "m", "Least water that boards hold over main and ditch", "practice"),
    ("narrowest_bed_m", 10 * FOOT, "m", "Narrowest floor of a bed", "practice"),
    ("ground_m", 20 * FOOT, "m", "Narrowest cut: such a floor, sides of 1:1, 5 ft", "practice"),
    ("cut_m", 6 * FOOT, "m", "Deepest cut that is no costly hole", "practice"),
    ("shoring_m", 5 * FOOT, "m", "Depth from which a cut is sloped or shored", "osha1926p"),
    ("trench_m", FOOT, "m", "Narrowest trench of a line", "practice"),
    ("reach_share", 0.2, "-", "Least share of the main worth a structure", "practice"),
    ("grade", 0.01, "m/m", "Steepest field for a raised outlet", "osu-controlled"),
    ("nitrate_mg_per_l", 8.0, "mg/L", "Nitrate worth a practice", "practice"),
    ("acres_low_m2", 30 * ACRE, "m2", "Fewest acres as usual", "admc-bioreactors"),
    ("acres_high_m2", 100 * ACRE, "m2", "Most acres as usual", "admc-bioreactors"),
    ("size_low_m", 6 * FOOT / 12, "m", "Smallest main as usual", "admc-bioreactors"),
    ("size_high_m", 10 * FOOT / 12, "m", "Largest main as usual", "admc-bioreactors"),
    ("none", 0.0, "-", "None", "derived"),
    ("yes", 1.0, "-", "Yes", "derived"),
)
"""Limits of the screening that no other part of the chain states."""

ORDINARY, CREST = "ditch.ordinary_m", "highest_crest_m"
ASKED = ("owner", "tenant", "neighbour_upstream", "drainage_district", "easements")


def give_limits(trace: Trace) -> None:
    """Record the limits under `screen.limit.`."""
    for name, value, unit, title, source in LIMITS:
        trace.constant(f"screen.limit.{name}", value, title, unit=unit, source=source)
    trace.constant("rules.none_m", 0.0, "No less than level", unit="m", source="derived")


def add_site(trace: Trace) -> None:
    """Record levels, head, ground and rights as the screening asks for them."""
    _add_ditch(trace)
    _add_head(trace)
    _add_days(trace)
    _add_hole(trace)
    _add_ground(trace)
    _add_raised(trace)


def asked_for(trace: Trace, key: str, title: str, unit: str, measure: str) -> str:
    """Key of an input; not known where the job does not have it."""
    if key not in trace:
        trace.give(Given(key, Unknown("not given", measure), unit, title))
    return key


def _over(trace: Trace, key: str, title: str, upper: str, lower: str) -> None:
    trace.compute(key, difference, unit="m", title=title, upper=upper, lower=lower)


def _add_ditch(trace: Trace) -> None:
    for name, what, upper in (
        ("floor", "Main where a bed would be fed", "inputs.main.invert_diversion_m"),
        ("outlet", "End of the main", "inputs.main.invert_outlet_m"),
    ):
        title = f"{what} above ordinary ditch water"
        _over(trace, f"screen.{name}_over_ditch_m", title, upper, ORDINARY)
    trace.compute(
        "screen.ditch_high_m",
        largest_of,
        unit="m",
        title="Highest high water of the ditch over the seasons",
        **{season.word: season.key("high_m") for season in seasons_of(trace)},
    )


def _add_head(trace: Trace) -> None:
    """Head from the highest crest to the ditch, as a bed asks for it and as one board does."""
    trace.compute(
        "screen.smallest_board_m",
        smallest_board,
        unit="m",
        title="Smallest step by which a crest can be set",
        board_heights="inputs.boards.heights_m",
        seal_gap="inputs.boards.seal_gap_m",
    )
    _add_crest_at_most(trace)
    for key, limit in (
        ("screen.head_m", "rules.driving-head_m"),
        ("screen.head_for_boards_m", "screen.smallest_board_m"),
    ):
        _add_bounded_head(trace, key, limit)
    _over(
        trace,
        "screen.flood_head_m",
        "Head between the highest crest of the field and the high water of the ditch",
        CREST,
        "screen.ditch_high_m",
    )


def _add_crest_at_most(trace: Trace) -> None:
    """What no crest is higher than, from the spots that are known."""
    spots = [s for s in trace.names("field") if trace.known(f"field.{s}.crest_for_standing_m")]
    if spots:
        trace.compute(
            "screen.crest_at_most_m",
            least_of,
            unit="m",
            title="No crest of the field is higher: standing water at the spots that are known",
            **{argument_name(s): f"field.{s}.crest_for_standing_m" for s in spots},
        )


def _add_bounded_head(trace: Trace, key: str, limit: str) -> None:
    """The head; where only its bound is known, that bound if even it falls short of the limit."""
    title = "Head between the highest crest of the field and ordinary ditch water"
    _over(trace, key, title, CREST, ORDINARY)
    at_most = "screen.crest_at_most_m"
    if trace.known(key) or not trace.known(limit) or at_most not in trace:
        return
    bound = "screen.head_at_most_m"
    _over(trace, bound, f"{title}, at most", at_most, ORDINARY)
    if trace.known(bound) and trace.value(bound) < trace.value(limit):
        trace.compute(key, same, unit="m", title=f"{title}, at most", value=bound)


def _add_days(trace: Trace) -> None:
    """Shares of flow and of days with the ditch above the highest crest."""
    for end, kind in (("", "stage"), ("_at_high", "high")):
        stage = f"ditch.record_{kind}_m"
        inputs = {"crest": CREST, "stage": stage}
        if not trace.known(stage):
            continue
        depth = RECORD if trace.value("ditch.share_basis") == "measured" else "water.depth_m_s"
        trace.compute(
            f"screen.days_without_head{end}",
            parts.share_of_days_above,
            unit="-",
            title="Share of the days with drain flow that have the ditch above the highest crest",
            daily_depth=depth,
            **inputs,
        )
        trace.compute(
            f"screen.flow_without_head{end}",
            ditch_shares.volume_share_above,
            unit="-",
            title="Share of the drain flow that meets the ditch above the highest crest",
            flow=depth,
            **inputs,
        )
    _choose_share(trace)


def _choose_share(trace: Trace) -> None:
    """The share that is judged: by the day, else what both levels of the seasons leave sure."""
    key, limit = "screen.share_without_head", "inputs.limits.drowned"
    title = "Share of the drain flow that meets the ditch above the highest crest"
    low, high = "screen.flow_without_head", "screen.flow_without_head_at_high"
    if low in trace and "ditch.record_high_m" not in trace:
        trace.compute(key, same, unit="-", title=title, value=low)
        return
    if trace.known(high, limit) and trace.value(high) <= trace.value(limit):
        trace.compute(key, same, unit="-", title=title, value=high)
    elif trace.known(low, limit) and trace.value(low) > trace.value(limit):
        trace.compute(key, same, unit="-", title=title, value=low)
    elif trace.known(CREST, "screen.ditch_high_m") and _has_season_table(trace):
        reserve = "screen.crest_over_high_m"
        _over(trace, reserve, "Highest crest over high ditch water", CREST, "screen.ditch_high_m")
        if trace.value(reserve) >= 0.0:
            trace.compute(key, share_under_crest, unit="-", title=title, year=reserve)
    if key not in trace:
        trace.give(Given(key, _why_not(trace), "-", title))


def _has_season_table(trace: Trace) -> bool:
    way = "inputs.ditch.stage"
    return trace.known(way) and trace.value(way) == "season table"


def _why_not(trace: Trace) -> Unknown:
    for key in (ORDINARY, "screen.ditch_high_m", CREST):
        value = trace.value(key)
        if is_unknown(value):
            return value
    return Unknown(
        "the ditch stands above the highest crest at times, and on which days is not known",
        "log the ditch day by day, and name a file of daily weather or of drain flow",
    )


def _add_hole(trace: Trace) -> None:
    floor = "screen.floor_drawn_m"
    trace.compute(
        floor,
        lower_of,
        unit="m",
        title="Lowest floor of the bed drawn",
        first=asked_for(trace, "inputs.bed.floor_inlet_m", "Floor at the inlet", "m", "draw it"),
        second=asked_for(trace, "inputs.bed.floor_outlet_m", "Floor at the outlet", "m", "draw it"),
    )
    building = "inputs.groundwater.building_m"
    _over(trace, "screen.dry_hole_m", "Floor above ground water while building", floor, building)
    trace.compute(
        "screen.lift_pa",
        parts.lift_of_water,
        unit="Pa",
        title="Pressure of the ground water under an empty lining, wet season",
        groundwater="inputs.groundwater.finished_m",
        floor=floor,
    )
    _over(trace, "screen.cut_m", "Depth of the cut drawn", "inputs.site.ground_at_bed_m", floor)


def _add_ground(trace: Trace) -> None:
    compute, how = trace.compute, "tape the strip with the owner"
    sides = {
        side: asked_for(
            trace, f"inputs.bed.footprint_{side}_m", f"{side} of the ground".capitalize(), "m", how
        )
        for side in ("length", "width")
    }
    title = "Narrow side of the ground that may be used"
    compute("screen.ground_m", parts.shorter_side, unit="m", title=title, **sides)
    if "inputs.ditch.right_of_way_m" in trace:
        edge = "inputs.ditch.edge_distance_m"
        asked_for(trace, edge, "From the bank top to the edge of the bed", "m", "tape it")
    people = {name: f"inputs.people.{name}" for name in ASKED}
    for name, key in people.items():
        asked_for(trace, key, name.replace("_", " ").capitalize(), "", "ask at the first call")
    compute("screen.rights_open", parts.left_open, unit="-", title="Rights left open", **people)
    compute(
        "screen.utilities_open",
        parts.left_open,
        unit="-",
        title="Utilities left open",
        utilities="inputs.site.utilities",
    )
    for name, value, unit in (
        ("acres", "inputs.drainage.area_m2", "m2"),
        ("size", "inputs.main.diameter_m", "m"),
    ):
        compute(
            f"screen.{name}_outside_{unit}",
            parts.outside_usual,
            unit=unit,
            title=f"{name.capitalize()} outside the usual range",
            value=value,
            low=f"screen.limit.{name}_low_{unit}",
            high=f"screen.limit.{name}_high_{unit}",
        )


def _add_raised(trace: Trace) -> None:
    compute, invert = trace.compute, "inputs.main.invert_diversion_m"
    compute(
        "screen.hold_from_m",
        parts.higher_of,
        unit="m",
        title="Higher of the main and the ordinary ditch water",
        first=invert,
        second=ORDINARY,
    )
    title = "Water that boards hold over main and ditch"
    _over(trace, "screen.hold_m", title, CREST, "screen.hold_from_m")
    in_segments = SEGMENTS in trace
    below = {"segments": LINE_ABOVE} if in_segments else {"invert": invert}
    compute(
        "screen.reach_m",
        main_pool.pool_reach_segments if in_segments else wetness.pool_reach,
        unit="m",
        title="Main that holds standing water at the highest crest",
        crest=CREST,
        **below,
        **({} if in_segments else {"slope": "inputs.main.slope"}),
    )
    start = "inputs.main.station_diversion_m"
    compute(
        "screen.reach_share",
        parts.reach_share,
        unit="-",
        title="Share of the main above the structure that holds standing water",
        reach="screen.reach_m",
        upper_end="inputs.main.upstream_station_m",
        start=start,
    )
    compute(
        "screen.property_line_m",
        station_difference,
        unit="m",
        title="Main from the structure to the property line",
        station="inputs.main.property_line_station_m",
        start=start,
    )
    title = "Main between the end of the held water and the property line"
    _over(trace, "screen.reach_to_line_m", title, "screen.property_line_m", "screen.reach_m")

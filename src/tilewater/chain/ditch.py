# SPDX-License-Identifier: Apache-2.0
"""Steps that find the water level of the ditch, whichever way the job knows it.

All ways end at the same keys, for each season `ditch.SEASON.stage_m` and `.high_m` with a band, and
`ditch.stage_rule` for any day and drain flow. A way of which something is missing ends in unknown
levels that name what to measure, never in none.
"""

from tilewater.basis.findings import Finding
from tilewater.basis.told import feet
from tilewater.basis.trace import Trace
from tilewater.basis.unknown import is_unknown
from tilewater.chain.ditch_seasons import SPOKEN, WORDS, SeasonKeys, give_unknown, seasons_of
from tilewater.chain.ditch_section import add_season_levels, add_section
from tilewater.chain.ditch_share import add_shares
from tilewater.hydrology import ditch_record, ditch_stage
from tilewater.hydrology.drain_flow import largest_of
from tilewater.practices.boards import crest_elevation
from tilewater.practices.rules import difference, same

HOW = "read the stage on a staff through one spring"
SERIES = "inputs.ditch_series"
RECORD = {"daily_depth": "inputs.record.daily_depth_m_s", "day": "inputs.record.day"}
TWO_YEARS = 730
"""Days of a series below which its highest reading says little of a 2-year flood."""
UNKNOWN = "unknown"


def add_ditch(trace: Trace) -> None:
    """Record the levels of the ditch by season, its rule, and what meets it too high."""
    seasons = seasons_of(trace)
    way = way_of(trace)
    if "inputs.ditch.stage" in trace:
        title = "How the level of the ditch is known"
        trace.compute("ditch.way", same, unit="", title=title, value="inputs.ditch.stage")
    _add_way(trace, way, seasons)
    for season in seasons:
        _add_band(trace, season)
    _add_rule(trace, way, seasons)
    add_shares(trace, way, seasons)
    for season in seasons:
        _tell_reverse(trace, season)
    _tell_typed_besides(trace, way, seasons)


def way_of(trace: Trace) -> str:
    """How the job knows the ditch: "season table", "series", "rule", "section" or "unknown"."""
    known = "inputs.ditch.stage" in trace and trace.known("inputs.ditch.stage")
    return str(trace.value("inputs.ditch.stage")) if known else UNKNOWN


def _add_way(trace: Trace, way: str, seasons: tuple[SeasonKeys, ...]) -> None:
    if way == UNKNOWN:
        why = "the stage of the ditch is not known"
        give_unknown(trace, "ditch.stage_m", "Stage of the ditch", why, HOW)
    elif way == "section":
        add_section(trace)
    elif way == "rule":
        if "inputs.ditch.rule" not in trace:
            give_unknown(
                trace,
                "inputs.ditch.rule",
                "Rule of the ditch against drain flow",
                "no pairs of drain flow and level are given",
                "read the ditch at low, middle and high drain flow",
                unit="",
            )
        trace.compute(
            "ditch.stage_rule",
            ditch_stage.stage_rule_by_flow,
            unit="",
            title="Rule of the ditch against drain flow",
            knots="inputs.ditch.rule",
        )
    elif way == "series" and "inputs.ditch.series" not in trace:
        give_unknown(
            trace,
            "inputs.ditch.series",
            "File of ditch levels",
            "no file of readings is named",
            "name it as series under [ditch]",
            unit="",
        )
    levels = {
        "season table": _add_typed,
        "series": _add_measured,
        "rule": _add_by_flow,
        "section": add_season_levels,
    }.get(way, _add_not_known)
    for season in seasons:
        levels(trace, season)


def _add_not_known(trace: Trace, season: SeasonKeys) -> None:
    for kind, words in WORDS.items():
        trace.compute(
            season.key(f"{kind}_m"),
            same,
            unit="m",
            title=f"{words}, {season.name}",
            value="ditch.stage_m",
        )


def _add_typed(trace: Trace, season: SeasonKeys) -> None:
    """The levels that the season table states."""
    for kind, words in WORDS.items():
        given = season.given(f"ditch_{kind}_m")
        title = f"{words}, {season.name}"
        if not season.is_listed:
            given = season.key(f"{kind}_typed_m")
            give_unknown(trace, given, title, "no season states the levels of the ditch", HOW)
        elif given not in trace:
            give_unknown(trace, given, title, "not given", HOW)
        trace.compute(season.key(f"{kind}_m"), same, unit="m", title=title, value=given)


def _add_measured(trace: Trace, season: SeasonKeys) -> None:
    """Median and highest of the season's days of the series."""
    compute, ends = trace.compute, {"first": season.first, "last": season.last}
    if f"{SERIES}.day" not in trace:
        for kind, words in WORDS.items():
            give_unknown(
                trace,
                season.key(f"{kind}_m"),
                f"{words}, {season.name}",
                "the file of ditch levels was not read",
                "name it as series under [ditch]",
                causes=("inputs.ditch.series",),
            )
        return
    days = compute(
        season.key("days"),
        ditch_record.season_days,
        unit="days",
        title=f"Days of the series of ditch levels in {season.name}",
        day=f"{SERIES}.day",
        **ends,
    )
    if is_unknown(days) or days == 0:
        for kind, words in WORDS.items():
            give_unknown(
                trace,
                season.key(f"{kind}_m"),
                f"{words}, {season.name}",
                f"the series of ditch levels has no day in {season.name}",
                "go on reading through that season",
            )
        return
    compute(
        season.key("stage_m"),
        ditch_record.season_ordinary,
        unit="m",
        title=f"{WORDS['stage']}, {season.name}: median of its days",
        stage=f"{SERIES}.stage_m",
        day=f"{SERIES}.day",
        **ends,
    )
    quantile = "inputs.ditch.series_high"
    compute(
        season.key("high_m"),
        ditch_record.season_high,
        unit="m",
        title=f"{WORDS['high']}, {season.name}: of the highest readings of its days",
        highest=f"{SERIES}.highest_m",
        day=f"{SERIES}.day",
        **ends,
        **({"quantile": quantile} if quantile in trace else {}),
    )
    _add_years(trace, season)


def _add_years(trace: Trace, season: SeasonKeys) -> None:
    """The ordinary level year by year, and the band that the years make."""
    by_years = trace.compute(
        season.key("by_years_m"),
        ditch_record.season_by_years,
        unit="m",
        title=f"{WORDS['stage']}, {season.name}, year by year",
        stage=f"{SERIES}.stage_m",
        day=f"{SERIES}.day",
        first=season.first,
        last=season.last,
    )
    if isinstance(by_years, tuple) and len(by_years) > 1:
        for end, function in (("low", ditch_stage.lowest_of), ("high", ditch_stage.highest_of)):
            trace.compute(
                season.key(f"stage_{end}_m"),
                function,
                unit="m",
                title=f"{WORDS['stage']}, {season.name}: {end} end of its band",
                by_years=season.key("by_years_m"),
                stage=season.key("stage_m"),
            )


def _add_by_flow(trace: Trace, season: SeasonKeys) -> None:
    """Levels at an ordinary and at the largest drain flow: of the record, else of the design."""
    recorded = all(key in trace for key in RECORD.values())
    if recorded:
        days = trace.compute(
            season.key("record_days"),
            ditch_record.season_days,
            unit="days",
            title=f"Days of the flow record in {season.name}",
            day=RECORD["day"],
            first=season.first,
            last=season.last,
        )
        recorded = not is_unknown(days) and days > 0
    for kind, words in WORDS.items():
        flow = season.key(f"drain_flow_{SPOKEN[kind]}_m3_s")
        title = f"{SPOKEN[kind].capitalize()} drain flow, {season.name}"
        if recorded:
            trace.compute(
                flow,
                ditch_record.season_flow,
                unit="m3/s",
                title=f"{title}: {'median' if kind == 'stage' else 'largest'} of its days",
                **RECORD,
                area="inputs.drainage.area_m2",
                first=season.first,
                last=season.last,
                quantile=trace.constant(
                    f"ditch.quantile_{SPOKEN[kind]}",
                    0.5 if kind == "stage" else 1.0,
                    f"Share of days that the {SPOKEN[kind]} flow is not passed on",
                    unit="-",
                    source="practice",
                ),
            )
        else:
            own = season.given("drain_flow_m3_s")
            if kind == "high":
                own = "drain_flow.peak_for_bypass_m3_s"
            elif own not in trace:
                own = "drain_flow.mean_flow_m3_s"
            trace.compute(flow, same, unit="m3/s", title=title, value=own)
        trace.compute(
            season.key(f"{kind}_m"),
            ditch_stage.stage_by_flow,
            unit="m",
            title=f"{words}, {season.name}: by the rule at the {SPOKEN[kind]} drain flow",
            flow=flow,
            rule="ditch.stage_rule",
        )


def _add_band(trace: Trace, season: SeasonKeys) -> None:
    """The band that is typed, else what the way gave, else not known."""
    typed = season.given("ditch_band_m")
    for kind, words in WORDS.items():
        for end, function, parts in (
            ("low", difference, ("upper", "lower")),
            ("high", crest_elevation, ("sill", "height")),
        ):
            key = season.key(f"{kind}_{end}_m")
            title = f"{words}, {season.name}: {end} end of its band"
            if typed in trace:
                level = season.key(f"{kind}_m")
                inputs = dict(zip(parts, (level, typed), strict=True))
                trace.compute(key, function, unit="m", title=title, **inputs)
            elif key not in trace:
                give_unknown(
                    trace, key, title, "no band of the level is given", "state it as ditch_band"
                )


def _add_rule(trace: Trace, way: str, seasons: tuple[SeasonKeys, ...]) -> None:
    """The level for any day and drain flow, and the highest ordinary level of the seasons."""
    for kind in WORDS:
        for season in seasons:
            trace.compute(
                season.key(f"{kind}_days"),
                ditch_stage.SeasonValue,
                unit="",
                title=f"{WORDS[kind]} with its days, {season.name}",
                first=season.first,
                last=season.last,
                value=season.key(f"{kind}_m"),
            )
        trace.compute(
            f"ditch.{kind}_by_day_m",
            ditch_stage.year_table,
            unit="m",
            title=f"{WORDS[kind]} on each day of the year",
            **{season.word: season.key(f"{kind}_days") for season in seasons},
        )
    if way != "rule":
        trace.compute(
            "ditch.stage_rule",
            ditch_stage.stage_rule_by_season,
            unit="",
            title="Water of the ditch for any day",
            by_day="ditch.stage_by_day_m",
        )
    trace.compute(
        "ditch.ordinary_m",
        largest_of,
        unit="m",
        title="Highest ordinary water of the ditch over the seasons",
        **{season.word: season.key("stage_m") for season in seasons},
    )


def _tell_reverse(trace: Trace, season: SeasonKeys) -> None:
    """Where the ditch stands above the boards of a season, and water would come back."""
    crests = {
        "outlet": f"boards.outlet-{season.boards}.crest_m",
        "bypass": f"boards.inlet-{season.boards}.crest_m",
    }
    for boards, key in crests.items():
        if not trace.known(key):
            continue
        crest = float(trace.value(key))
        for what, when in (
            ("stage_m", "on ordinary days"),
            ("high_m", "at its high level"),
            ("high_high_m", "at the upper end of the band of its high level"),
        ):
            level = season.key(what)
            if trace.known(level) and float(trace.value(level)) > crest:
                trace.findings.append(
                    _reverse(season.name, boards, when, float(trace.value(level)), crest)
                )
                break


RETURNS = {
    "outlet": "Ditch water would enter the bed over the outlet boards whenever the bed stands "
    "lower, and the bed has that much less head. Set the outlet boards above it in that season, or "
    "keep it out with a flap gate.",
    "bypass": "No water would leave over the bypass boards; ditch water would stand in the main "
    "and in the field behind them. No setting of the boards helps the drains then; the ditch does.",
}


def _reverse(season: str, boards: str, when: str, level: float, crest: float) -> Finding:
    return Finding(
        f"ditch-over-{boards}",
        "caution",
        f"Ditch, {season}",
        f"In {season} the ditch stands at {feet(level)} {when}, "
        f"{feet(level - crest)} above the {boards} crest, {feet(crest)}. "
        f"{RETURNS[boards]}",
        value=level,
        operator="<=",
        limit=crest,
        unit="m",
        source="derived",
    )


def _tell_typed_besides(trace: Trace, way: str, seasons: tuple[SeasonKeys, ...]) -> None:
    """What is typed and not used, since the job knows the ditch another way; a short series."""
    fields = [season.given(f"ditch_{kind}_m") for season in seasons for kind in WORDS]
    if way in ("series", "rule", "section") and any(key in trace for key in fields):
        trace.findings.append(
            Finding(
                "ditch-levels-instead",
                "note",
                "Ditch",
                f"ditch_stage and ditch_high of the seasons are not used: the {way} stands in "
                'their place. Write stage = "season table" under [ditch] to use what is typed.',
            )
        )
    if way == "series" and trace.known(f"{SERIES}.day"):
        days = len(trace.value(f"{SERIES}.day"))
        if days < TWO_YEARS:
            trace.findings.append(
                Finding(
                    "ditch-series-short",
                    "caution",
                    "Ditch",
                    f"The series of ditch levels has {days} days. Its highest reading is no "
                    "2-year level: about every other year the ditch rises higher. Ask for high "
                    "water marks, or state the level as an overrule.",
                    value=float(days),
                    operator=">=",
                    limit=float(TWO_YEARS),
                    unit="days",
                    source="derived",
                )
            )

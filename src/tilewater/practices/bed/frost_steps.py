# SPDX-License-Identifier: Apache-2.0
"""Steps of the winter: boards frozen in, the cold water of snowmelt, soil over what may freeze."""

from tilewater.basis.findings import Finding
from tilewater.basis.requirement import SCALES, Requirement
from tilewater.basis.told import feet
from tilewater.basis.trace import Given, Trace, argument_name
from tilewater.basis.unknown import Unknown
from tilewater.hydraulics._pipe_run import PipeRun
from tilewater.hydrology.frost_depth import frost_depth_stefan
from tilewater.practices.bed import capacity_steps, frost, steps
from tilewater.practices.bed.emptying_steps import YEAR, stage_key
from tilewater.practices.bed.settings import DESIGN

WINDOW = {
    "frozen_from": "inputs.frost.frozen_from",
    "frozen_to": "inputs.frost.frozen_to",
}
MELT = "capacity.snowmelt"
BOXES = ("inlet", "outlet")
DOUBTFUL = 2.0
"""Frost depth over its estimate, or the other way round, from which on both are doubted. [-]"""


def add_frost(trace: Trace) -> None:
    """Record the setting that the frost holds, the snowmelt line and the soil over the pipes."""
    _add_setting(trace)
    _add_snowmelt(trace)
    _add_covers(trace)
    _add_estimate(trace)


def _add_setting(trace: Trace) -> None:
    seasons = trace.names("inputs.season")
    if not seasons:
        trace.constant("frost.setting", DESIGN, "Setting that the frost holds", source="derived")
        return
    trace.compute(
        "frost.setting",
        frost.season_before_frost,
        unit="",
        title="Season whose boards stand when the frost comes, and until it goes",
        frozen_from=WINDOW["frozen_from"],
        **{argument_name(name): f"inputs.season.{name}.from" for name in seasons},
    )
    parts = [
        (name, f"inputs.season.{name}.from", *(f"boards.{s}-{name}.stack_m" for s in BOXES))
        for name in seasons
    ]
    if not trace.known(*WINDOW.values(), *(key for _, *keys in parts for key in keys)):
        return
    boards = tuple(
        frost.SeasonBoards(name, *(trace.value(key) for key in keys)) for name, *keys in parts
    )
    window = [str(trace.value(key)) for key in WINDOW.values()]
    for season in frost.moves_in_frost(boards, *window):
        trace.findings.append(
            Finding(
                "boards-frozen",
                "caution",
                f"Boards, {season.name}",
                f"The boards of {season.name} go in on {season.starts}, and boards may be frozen "
                f"in from {window[0]} to {window[1]}: they cannot be moved then. Set them before "
                f"{window[0]}, or let the season begin outside the frost. What stands at the first "
                "frost has to carry the snowmelt.",
                source="practice",
            )
        )


def _add_snowmelt(trace: Trace) -> None:
    """The main full of melt water, against the boards and the high ditch that winter leaves."""
    steps.add_media(trace, "snowmelt")
    if not trace.known("frost.setting"):
        _give_unknown(trace)
        return
    setting = str(trace.value("frost.setting"))
    season = YEAR if setting == DESIGN else setting
    key = stage_key(trace, season, "high") or "ditch.ordinary_m"
    capacity_steps.add_balance(
        trace,
        MELT,
        capacity_steps.WORDS["snowmelt"],
        inflow="drain_flow.full_m3_s",
        stage=key,
        media=f"{MELT}.media",
        setting=setting,
    )
    capacity_steps.add_line(trace, "snowmelt", f"{MELT}.tailwater_m", setting)


def _give_unknown(trace: Trace) -> None:
    """Snowmelt without a setting: not known, by the cause that the setting is not known."""
    cause = trace.value("frost.setting")
    for name, unit in (
        ("flow_m3_s", "m3/s"),
        ("share_of_peak", "-"),
        ("bypass_head_m", "m"),
        ("level_m", "m"),
        ("retention_h", "h"),
    ):
        trace.give(
            Given(f"{MELT}.{name}", Unknown(cause.why, cause.measure, cause.causes), unit, name)
        )


def _add_covers(trace: Trace) -> None:
    compute = trace.compute
    compute(
        "frost.feed_cover_m",
        soil_over_feed,
        unit="m",
        title="Soil over the feed at the diversion",
        ground="inputs.structure.inlet.ground_m",
        feed="system.feed.pipe",
    )
    for end in BOXES:
        compute(
            f"frost.header_{end}_cover_m",
            frost.soil_over_pipe,
            unit="m",
            title=f"Soil and chips over the {end} header",
            ground="inputs.site.ground_at_bed_m",
            invert=f"inputs.bed.floor_{end}_m",
            diameter=f"system.header_{end}.diameter_m",
        )
    _require_covers(trace)
    _tell_of_chips(trace)


def _require_covers(trace: Trace) -> None:
    for name, title in (
        ("feed", "Feed under the design frost depth"),
        ("header_inlet", "Inlet header under the design frost depth"),
        ("header_outlet", "Outlet header under the design frost depth"),
    ):
        trace.require(
            Requirement(
                key=f"frost.{name}",
                title=title,
                value=f"frost.{name}_cover_m",
                operator=">=",
                limit="inputs.frost.depth_m",
                unit="m",
                scale=SCALES["freeboard"],
                where=name.replace("_", " "),
                binding=False,
            )
        )


def _tell_of_chips(trace: Trace) -> None:
    trace.compute(
        "frost.in_media_m",
        frost.frost_in_media,
        unit="m",
        title="How far the design frost would reach into the chips, were they soil",
        frost_depth="inputs.frost.depth_m",
        cover="uplift.cover_m",
    )
    if trace.known("frost.in_media_m") and trace.value("frost.in_media_m") > 0:
        deep = float(trace.value("frost.in_media_m"))
        trace.findings.append(
            Finding(
                "frost-in-chips",
                "note",
                "Frost",
                f"The design frost would reach {feet(deep, '.1f')} into the chips, were they "
                "soil. Drains a yard deep rarely freeze, and water that moves under snow keeps the "
                "bed open (common practice, nothing measured); a bed that stands still or half "
                "empty in a hard frost is another matter.",
                value=deep,
                operator="<=",
                limit=0.0,
                unit="m",
                source="practice",
            )
        )


def _add_estimate(trace: Trace) -> None:
    index, depth = "inputs.frost.freezing_index_c_days", "inputs.frost.depth_m"
    if index not in trace:
        return
    trace.compute(
        "frost.estimate_m",
        frost_depth_stefan,
        unit="m",
        title="Frost depth by the freezing index, turf under snow: a check only",
        freezing_index=index,
    )
    if not trace.known("frost.estimate_m", depth) or float(trace.value(depth)) <= 0:
        return
    given, found = float(trace.value(depth)), float(trace.value("frost.estimate_m"))
    if not given / DOUBTFUL <= found <= given * DOUBTFUL:
        trace.findings.append(
            Finding(
                "frost-depth-doubtful",
                "caution",
                "Frost",
                f"The frost depth is {feet(given, '.1f')}, and the freezing index gives about "
                f"{feet(found, '.1f')} under turf and snow by a remembered formula. Check both.",
                value=given,
                operator="<=",
                limit=found * DOUBTFUL,
                unit="m",
                source="stefan1891",
            )
        )


def soil_over_feed(ground: float, feed: PipeRun) -> float:
    """Soil over the crown of the feed where it leaves the diversion.

    Parameters
    ----------
    ground : float
        Ground at the diversion structure. [m]
    feed : PipeRun
        The feed. [-]

    Returns
    -------
    float
        Depth; the wall of the pipe is left out. [m]

    Notes
    -----
    cover = ground - (invert + D)    (derived)

    References
    ----------
    derived, a difference
    """
    return frost.soil_over_pipe(ground, feed.invert_up, feed.diameter)

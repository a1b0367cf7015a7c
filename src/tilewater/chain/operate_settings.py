# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: stacks that a search asks, their ratings, and what each does on every day.

The steps are those of the design itself, for settings that no season has. Work goes bypass stack
by bypass stack, so that it can be told how far it is, and stopped.
"""

from collections.abc import Callable

from tilewater.basis.trace import Trace, argument_name
from tilewater.basis.units import format_quantity
from tilewater.chain import operate_choices as choices
from tilewater.chain import operate_days as days
from tilewater.chain import water_field as field
from tilewater.chain import water_parts as parts
from tilewater.chain.areas import AREA_ABOVE
from tilewater.chain.field_crest import field_crest
from tilewater.chain.nitrate_days import nitrate_key
from tilewater.chain.operate_choices import Choice
from tilewater.chain.pumping import has_pump
from tilewater.chain.water_pool import pool_height
from tilewater.chain.water_wet import days_too_wet, height_over_drain
from tilewater.practices.bed.board_steps import add_set, set_key
from tilewater.practices.bed.days import SettingWorks, bed_table
from tilewater.practices.bed.settings import DESIGN, add_stack
from tilewater.practices.bed.system_steps import add_path, lower_main, path_key
from tilewater.practices.buffer.board_steps import add_field_crest, add_head_set
from tilewater.practices.buffer.day_steps import boards_by_setting, both_sets
from tilewater.practices.rules import same

Tell = Callable[[str, float], None]
"""Told what is done now, and the share that is done; raises `Stopped` where nobody waits."""

HERE = "operate"
CHOICES, DAYS = f"{HERE}.choices", f"{HERE}.days"
SETS = {"bed": ("inlet", "outlet"), "buffer": ("inlet", "head"), "raised": ("inlet",)}
"""Sets of boards of a practice that are moved through the year."""
LEAST = f"{HERE}.used_up_below_mg_per_l"


def sets_of(trace: Trace, practice: str) -> tuple[str, ...]:
    """Sets of boards that are moved through the year; no head set in which no board stands."""
    found = [each for each in SETS[practice] if f"boards.{each}-{DESIGN}.height_m" in trace]
    heights = [
        trace.value(f"boards.head-{setting}.height_m")
        for setting in (DESIGN, *trace.names("inputs.season"))
        if trace.known(f"boards.head-{setting}.height_m")
    ]
    return tuple(each for each in found if each != "head" or any(heights))


def setting_of(choice: Choice, board_set: str) -> str:
    """Setting under which the stack of a set of a choice is recorded."""
    is_buffer = any(name == "head" for name, _ in choice.heights)
    if is_buffer:
        return f"run-{choice.name}"
    return choices.setting_name(choice.height(board_set))


def crest_setting(choice: Choice) -> str:
    """Setting whose crest holds the water of the field."""
    return setting_of(choice, "inlet")


def add_settings(trace: Trace, practice: str) -> None:
    """Record the heights that are asked, every stack of them, and all settings of the sets."""
    sets = sets_of(trace, practice)
    for each in sets:
        _add_heights(trace, each)
    wanted = {
        argument_name(setting): _wanted_setting(trace, sets, setting)
        for setting in (DESIGN, *trace.names("inputs.season"))
    }
    trace.compute(
        f"{HERE}.wanted",
        choices.tuple_of,
        unit="m",
        title="Settings of design and seasons",
        **wanted,
    )
    _add_choices(trace, sets)
    if not trace.known(CHOICES):
        return
    for choice in trace.value(CHOICES):
        for each in sets:
            add_board_set(trace, choice, each)
        if "head" in sets:
            add_field_crest(trace, setting_of(choice, "inlet"))


def _add_heights(trace: Trace, board_set: str) -> None:
    """Heights of a set: those of design and seasons, and others between."""
    settings = (DESIGN, *trace.names("inputs.season"))
    heights = {argument_name(s): f"boards.{board_set}-{s}.height_m" for s in settings}
    trace.compute(
        f"{HERE}.wanted_{board_set}_m",
        choices.tuple_of,
        unit="m",
        title=f"Heights of the {board_set} boards in design and seasons",
        **heights,
    )
    highest = f"{HERE}.highest_{board_set}_m"
    title = f"Tallest stack of the {board_set} boards that is asked"
    wanted = f"{HERE}.wanted_{board_set}_m"
    trace.compute(highest, choices.largest_of, unit="m", title=title, values=wanted)
    trace.compute(
        f"{HERE}.heights_{board_set}_m",
        choices.thinned_heights,
        unit="m",
        title=f"Heights of the {board_set} boards that are asked",
        highest=highest,
        board_heights="inputs.boards.heights_m",
        seal_gap="inputs.boards.seal_gap_m",
        wanted=wanted,
    )


def _wanted_setting(trace: Trace, sets: tuple[str, ...], setting: str) -> str:
    key = f"{HERE}.wanted.{setting}"
    trace.compute(
        key,
        choices.tuple_of,
        unit="m",
        title=f"Heights of the boards, {setting} setting",
        **{each: f"boards.{each}-{setting}.height_m" for each in sets},
    )
    return key


def _add_choices(trace: Trace, sets: tuple[str, ...]) -> None:
    title = "Settings of the boards that are asked"
    heights = {each: f"{HERE}.heights_{each}_m" for each in sets}
    wanted = {"wanted": f"{HERE}.wanted"}
    if "outlet" in sets:
        sills = {f"{each}_sill": f"inputs.structure.{each}.sill_m" for each in sets}
        function = choices.choices_of_bed
        trace.compute(CHOICES, function, unit="", title=title, **heights, **sills, **wanted)
    elif "head" in sets:
        function_of_buffer = choices.choices_of_buffer
        trace.compute(CHOICES, function_of_buffer, unit="", title=title, **heights, **wanted)
    else:
        function_of_one = choices.choices_of_one
        trace.compute(CHOICES, function_of_one, unit="", title=title, **heights, **wanted)


def add_board_set(trace: Trace, choice: Choice, board_set: str) -> None:
    """Stack, crest and rating of one set of a choice; of a bed the way through it too."""
    setting = setting_of(choice, board_set)
    if f"boards.{board_set}-{setting}.stack_m" in trace:
        return
    height = choice.height(board_set)
    target = trace.constant(
        f"{HERE}.target.{board_set}.{choices.height_name(height)}_m",
        height + 1e-7,
        f"Height that the {board_set} boards are stacked to",
        unit="m",
        source="derived",
    )
    if board_set == "head":
        add_head_set(trace, setting, target)
        return
    add_stack(trace, board_set, setting, target)
    add_set(trace, board_set, setting)
    if board_set == "outlet":
        add_path(trace, setting)


def add_setting_days(trace: Trace, practice: str, tell: Tell) -> None:
    """Record what every setting does on every day, bypass stack by bypass stack."""
    trace.constant(LEAST, 0.5, "Nitrate below which it is used up", unit="mg/L", source="practice")
    groups = groups_of(trace.value(CHOICES))
    keys = {}
    for number, (name, group) in enumerate(groups.items()):
        tell(f"inlet boards {said(group[0].height('inlet'))}", number / len(groups))
        here = f"{HERE}.group.{name}"
        works = {argument_name(c.name): add_works(trace, practice, c) for c in group}
        keys[argument_name(name)] = f"{here}.days"
        ADDERS[practice](trace, here, works, f"inlet boards {said(group[0].height('inlet'))}")
    title = "Nitrate removed on every day, by setting of the boards"
    trace.compute(DAYS, days.days_side_by_side, unit="", title=title, **keys)


def groups_of(settings: tuple[Choice, ...]) -> dict[str, list[Choice]]:
    """Settings by the stack of their bypass boards."""
    groups: dict[str, list[Choice]] = {}
    for choice in settings:
        groups.setdefault(f"in-{choices.height_name(choice.height('inlet'))}", []).append(choice)
    return groups


def said(height: float) -> str:
    """A height as it is told while the search runs.

    Parameters
    ----------
    height : float
        Above the sill. [m]

    Returns
    -------
    str
        In inches. [-]
    """
    return format_quantity(height, "size", system="us")


def add_works(trace: Trace, practice: str, choice: Choice) -> str:
    """Key of what a setting changes for the days."""
    key = f"{HERE}.works.{choice.name}"
    if key in trace:
        return key
    boards = f"Boards {choice.name.replace('-', ' and ').replace('_', '.')} in"
    inlet = set_key("inlet", setting_of(choice, "inlet"))
    if practice == "bed":
        path = path_key(setting_of(choice, "outlet"))
        trace.compute(key, SettingWorks, unit="", title=boards, path=path, bypass_boards=inlet)
    elif practice == "buffer":
        heads = (set_key("head", setting_of(choice, "inlet")), set_key("head"))
        head = next((each for each in heads if each in trace), "")
        more = {"head": head} if head else {}
        trace.compute(key, both_sets, unit="", title=boards, bypass=inlet, **more)
    else:
        key = f"boards.inlet-{setting_of(choice, 'inlet')}.crest_m"
    return key


def add_table(trace: Trace, key: str, works: dict[str, str], words: str) -> None:
    """Record how inflows divide in some settings of a bed."""
    trace.compute(
        key,
        bed_table,
        unit="",
        title=f"How inflows divide, {words}",
        shape="bed.shape",
        bypass="system.bypass.pipe",
        conductivity_new="inputs.media.conductivity_new_m_s",
        conductivity_aged="inputs.media.conductivity_aged_m_s",
        ward_coefficient="inputs.media.ward_coefficient",
        highest_stage="inputs.structure.inlet.rim_m",
        most="days.most_m3_s",
        **lower_main(trace),
        **works,
    )


def _add_days_of_bed(trace: Trace, here: str, works: dict[str, str], words: str) -> None:
    add_table(trace, f"{here}.table", works, words)
    trace.compute(
        f"{here}.days",
        days.days_of_bed,
        unit="",
        title=f"Every day through the bed, {words}",
        series="days.series",
        bed="days.middle",
        table=f"{here}.table",
        least_mg_per_l=LEAST,
    )


def _add_days_of_buffer(trace: Trace, here: str, works: dict[str, str], words: str) -> None:
    boards = f"{here}.boards"
    trace.compute(boards, boards_by_setting, unit="", title=f"Boards, {words}", **works)
    trace.compute(
        f"{here}.days",
        days.days_of_buffer,
        unit="",
        title=f"Every day through the buffer, {words}",
        series="days.series",
        buffer="days.middle",
        boards=boards,
    )


def _add_days_of_raised(trace: Trace, here: str, works: dict[str, str], words: str) -> None:
    (crest,) = works.values()
    add_mean_height(trace, f"{here}.height_m", crest, words)
    title = f"The field day by day, {words}"
    compiled = parts.field_run_compiled
    field.add_run(trace, f"{here}.run", f"{here}.height_m", title, function=compiled)
    trace.compute(
        f"{here}.days",
        days.days_of_raised,
        unit="",
        title=f"Kept back on every day, {words}",
        out="raised.run_out",
        within=f"{here}.run",
        annual_depth="raised.annual_depth_m",
        area=AREA_ABOVE,
        nitrate_mg_per_l=nitrate_key(trace),
    )


ADDERS = {
    "bed": _add_days_of_bed,
    "buffer": _add_days_of_buffer,
    "raised": _add_days_of_raised,
}


def add_mean_height(trace: Trace, key: str, crest: str, words: str) -> None:
    """Record the water that a crest holds over the laterals, mean of all."""
    if key in trace:
        return
    places = trace.steps[f"water.setting.{DESIGN}.outlet_height_m"].inputs
    trace.compute(
        key,
        pool_height,
        unit="m",
        title=f"Water over the laterals, mean of all, {words}",
        **(dict(places) | {"crest": crest}),
    )


def add_wet_settings(trace: Trace, tell: Tell) -> None:
    """Record the days too wet at every spot, by the crest that holds the field."""
    spots = trace.names("field")
    crests = list(dict.fromkeys(crest_setting(c) for c in trace.value(CHOICES)))
    for number, setting in enumerate(crests):
        tell("days too wet at every spot", number / len(crests))
        for spot in spots:
            _add_wet(trace, spot, setting)


def wet_key(spot: str, setting: str) -> str:
    """Key of the days too wet at a spot with the crest of a setting."""
    return f"{HERE}.spot.{spot}.{setting}.wet"


def _add_wet(trace: Trace, spot: str, setting: str) -> None:
    here, words = f"{HERE}.spot.{spot}.{setting}", f"at {spot}, {setting.replace('run-', '')} in"
    key, title = f"{here}.outlet_height_m", f"Water that the boards hold over the lateral {words}"
    if has_pump(trace):  # the pump holds none
        trace.compute(key, same, unit="m", title=title, value="water.boards_out_m")
    else:
        crest, drain = field_crest(trace, setting), f"field.{spot}.drain_m"
        trace.compute(key, height_over_drain, unit="m", title=title, crest=crest, drain=drain)
    add_spot_run(trace, here, spot, f"{here}.outlet_height_m", words)


def add_spot_run(trace: Trace, here: str, spot: str, height: str, words: str) -> None:
    """Record the field as a spot lies with water held over its lateral, and its days too wet."""
    own = f"water.spot.{spot}.drains"
    field.add_run(
        trace,
        f"{here}.run",
        height,
        f"The field as {spot} lies, day by day, {words}",
        drains=own if own in trace else "water.drains",
        function=parts.spot_run_compiled,
    )
    trace.compute(
        f"{here}.wet",
        days_too_wet,
        unit="",
        title=f"Days with less clear soil midway than the limit {words}",
        run=f"{here}.run",
        limit=f"field.{spot}.limits_m.midway",
    )

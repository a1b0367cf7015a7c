# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: the days of the record through the bed, and what they add up to.

Takes the daily drain flow of `water` as it is, measured or simulated; each season's boards and
ditch; chips that age and are renewed. The middle of every uncertain parameter gives the days that
are shown; the draws give the range.
"""

from tilewater.basis.compiled import has_compiler
from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace, argument_name
from tilewater.chain.day_series import add_dates, add_series, has_days
from tilewater.chain.days_sums import add_sums
from tilewater.chain.drain_flow_range import DRAIN_FLOW, add_drain_flow_range, flow_words
from tilewater.chain.nitrate_days import pattern_of
from tilewater.chain.redrawn import add_pairs
from tilewater.chain.updated import add_updates
from tilewater.chain.updated_draws import draws_key, keep_agreeing
from tilewater.nitrate.measured_removal import removal_above_measured
from tilewater.nitrate.parameter_ranges import draws_of_ranges
from tilewater.practices.bed import days, draws
from tilewater.practices.bed._split import Array
from tilewater.practices.bed.board_steps import set_key
from tilewater.practices.bed.route import route_by_year, route_days
from tilewater.practices.bed.settings import DESIGN
from tilewater.practices.bed.split import bed_gradient_of
from tilewater.practices.bed.system_steps import lower_main, path_key

DRAWS = 1024
DRAWS_UNCOMPILED = 64
"""Draws where the kernels cannot be compiled, and each takes a hundred times as long."""
SEED = 1


def are_summed(trace: Trace) -> bool:
    """Whether the days have been routed and summed."""
    return "days.sums" in trace and trace.known("days.sums")


def add_days(trace: Trace) -> None:
    """Record the routed days, the sums of the draws, and their quantiles under `days.`."""
    if not has_days(trace):
        return
    add_dates(trace)
    settings = _add_settings(trace)
    _add_table(trace, settings)
    add_series(trace)
    _add_runs(trace)
    _add_years(trace)
    if has_compiler():
        _add_pairs(trace)
    add_sums(trace)


def _add_settings(trace: Trace) -> tuple[str, ...]:
    """The design setting and each season's own, with what it changes."""
    settings = (DESIGN, *trace.names("inputs.season"))
    for setting in settings:
        trace.compute(
            f"days.works-{setting}",
            days.SettingWorks,
            unit="",
            title=f"Paths and boards of the {setting} setting",
            path=path_key(setting),
            bypass_boards=set_key("inlet", setting),
        )
    return settings


def _add_table(trace: Trace, settings: tuple[str, ...]) -> None:
    trace.compute(
        "days.most_m3_s",
        largest_inflow,
        unit="m3/s",
        title="Largest inflow that the table of the bed is made for",
        flow="water.flow_m3_s",
        main_full="drain_flow.full_m3_s",
    )
    trace.compute(
        "days.table",
        days.bed_table,
        unit="",
        title="How inflows divide, by setting, chips and ditch",
        shape="bed.shape",
        bypass="system.bypass.pipe",
        conductivity_new="inputs.media.conductivity_new_m_s",
        conductivity_aged="inputs.media.conductivity_aged_m_s",
        ward_coefficient="inputs.media.ward_coefficient",
        highest_stage="inputs.structure.inlet.rim_m",
        most="days.most_m3_s",
        **lower_main(trace),
        **{argument_name(setting): f"days.works-{setting}" for setting in settings},
    )
    trace.compute(
        "days.gradient",
        bed_gradient_of,
        unit="-",
        title="Gradient of the bed at which chips are told apart",
        path=path_key(),
        bypass_boards=set_key("inlet"),
        shape="bed.shape",
    )


STATED = {
    "conductivity_new": "inputs.media.conductivity_new_m_s",
    "conductivity_aged": "inputs.media.conductivity_aged_m_s",
    "ward_coefficient": "inputs.media.ward_coefficient",
    "porosity": "inputs.media.porosity_effective",
    "rate_low": "inputs.media.rate_low_g_per_m3_day",
    "rate_mid": "inputs.media.rate_mid_g_per_m3_day",
    "rate_high": "inputs.media.rate_high_g_per_m3_day",
    "q10": "inputs.media.q10",
}
"""What the job states of chips and kinetics."""
YEARS = {
    "gradient": "days.gradient",
    "aged_years": "inputs.media.aged_years",
    "renewed_years": "inputs.media.design_year",
}
"""What makes a bed of one draw."""


def _add_runs(trace: Trace) -> None:
    """The days at the middle of every range, and the draws."""
    compute = trace.compute
    add_drain_flow_range(trace)
    compute(
        "days.ranges",
        draws.bed_ranges,
        unit="",
        title="Ranges of chips and kinetics, about what the job states",
        drain_flow=DRAIN_FLOW,
        **STATED,
    )
    ranges = add_updates(trace, "days.ranges")
    compute(
        "days.middle",
        draws.middle_bed,
        unit="",
        title="Chips and kinetics at the middle of every range",
        ranges=ranges,
        **YEARS,
    )
    compute(
        "days.run",
        route_days,
        unit="",
        title="Every day through the bed, at the middle of every range",
        series="days.series",
        bed="days.middle",
        table="days.table",
    )
    count = DRAWS if has_compiler() else DRAWS_UNCOMPILED
    trace.constant("days.draw_count", count, "Draws", source="derived")
    trace.constant("days.seed", SEED, "Seed of the draws", source="derived")
    compute(
        "days.drawn",
        draws_of_ranges,
        unit="",
        title="Values drawn from every range",
        ranges=ranges,
        count="days.draw_count",
        seed="days.seed",
    )
    compute(
        draws_key(trace, "days.draws"),
        draws.draw_beds,
        unit="",
        title="Chips and kinetics drawn from their ranges",
        drawn="days.drawn",
        **YEARS,
    )


def _add_years(trace: Trace) -> None:
    trace.compute(
        draws_key(trace, "days.sums"),
        route_by_year,
        unit="",
        title="Sums by year of every draw",
        series="days.series",
        year="days.year",
        beds=draws_key(trace, "days.draws"),
        table="days.table",
    )
    keep_agreeing(trace)


def _add_pairs(trace: Trace) -> None:
    """Some draws again with one parameter drawn anew at a time, for what decides."""
    add_pairs(trace)
    trace.compute(
        "days.pairs_draws",
        draws.draw_beds,
        unit="",
        title="Chips and kinetics with one parameter drawn anew",
        drawn="days.pairs",
        **YEARS,
    )
    trace.compute(
        "days.pairs_sums",
        route_by_year,
        unit="",
        title="Sums by year with one parameter drawn anew",
        series="days.series",
        year="days.year",
        beds="days.pairs_draws",
        table="days.table",
    )


def tell_days(trace: Trace) -> None:
    """Say in plain words what the days rest on."""
    if not are_summed(trace):
        return
    whole = int(trace.value("days.whole_years").sum())
    middles = (f"removal.{group}.p50" for group in ("bed_percent", "site_percent"))
    bed_percent, site_percent = (float(trace.value(key)) for key in middles)
    trace.findings.extend(
        removal_above_measured(bed_percent=bed_percent, site_percent=site_percent)
    )
    trace.findings.append(
        Finding(
            "days-rest-on",
            "note",
            "Removal",
            f"The range is of {len(trace.value('days.draws'))} draws of chips, kinetics, "
            f"nitrate and drain flow over {whole} years. {flow_words(trace)} "
            "Chips are renewed at the design year. "
            f"Nitrate is {pattern_of(trace)}, and each day is taken as steady.",
            source="derived",
        )
    )


def largest_inflow(flow: Array, main_full: float) -> float:
    """Largest inflow that a table of the bed has to hold.

    Parameters
    ----------
    flow : array
        Drain flow of each day. [m3/s]
    main_full : float
        What the main carries full. [m3/s]

    Returns
    -------
    float
        The larger of the largest day and the full main, and a tenth. [m3/s]

    Notes
    -----
    Q = 1.1 max(Q_day, Q_main)    (derived)

    References
    ----------
    derived, the larger of two
    """
    return 1.1 * max(float(flow.max()), main_full)

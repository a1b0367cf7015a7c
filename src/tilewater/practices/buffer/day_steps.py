# SPDX-License-Identifier: Apache-2.0
"""Steps of the days of a buffer: the record through it, and sums of draws by year.

Needs `days.series`, the `DaySeries` of the job, `days.year`, the year of each day, and
`days.drain_flow_range`, the range of the factor on its drain flow. Gives `days.run`, the days at
the middle of every range, and `days.sums`, which the functions of `practices.bed.year_sums` turn
into kilograms and percents.
"""

from collections.abc import Callable, Sequence

from tilewater.basis.compiled import has_compiler
from tilewater.basis.trace import Trace, argument_name
from tilewater.hydraulics._board_set import BoardSet
from tilewater.hydraulics.distribution_line import line_friction
from tilewater.nitrate.parameter_ranges import draws_of_ranges
from tilewater.practices.bed._split import Array
from tilewater.practices.bed.board_steps import set_key
from tilewater.practices.bed.settings import DESIGN
from tilewater.practices.buffer import draws, route
from tilewater.practices.buffer.choice_steps import add_choices
from tilewater.practices.buffer.givens import LINE, SOIL, or_default
from tilewater.practices.buffer.soil_steps import BY, used_kind

DRAWS, DRAWS_UNCOMPILED = 1024, 32
SEED = 1


def as_stated(trace: Trace, ranges: str) -> str:
    """Key of the ranges as the job states them."""
    return ranges


STATED_RANGES = ("porosity", "drainable_porosity", "rate_per_day", "q10", "uptake")
"""What the job states and the draws spread; the rest is the same in every draw."""


def add_buffer_days(trace: Trace, narrowed: Callable[[Trace, str], str] = as_stated) -> None:
    """Record boards by setting, the routed days and the sums of the draws.

    `narrowed` gives the key of the ranges to draw from, after what was measured of those stated.
    """
    _add_boards(trace)
    _add_losses(trace)
    stated = _stated(trace)
    trace.compute(
        "days.middle",
        draws.middle_buffer,
        unit="",
        title="Soil and kinetics at the middle of every range",
        **stated,
    )
    trace.compute(
        "days.run",
        route.route_buffer_days,
        unit="",
        title="Every day through the buffer, at the middle of every range",
        series="days.series",
        buffer="days.middle",
        boards="days.boards",
    )
    add_choices(trace)
    count = DRAWS if has_compiler() else DRAWS_UNCOMPILED
    trace.constant("days.draw_count", count, "Draws", source="derived")
    trace.constant("days.seed", SEED, "Seed of the draws", source="derived")
    kind = used_kind(trace)
    factor = f"{BY}.{kind}_factor"
    if factor not in trace:
        return
    _add_draws(trace, stated, factor, narrowed)


def _add_draws(
    trace: Trace,
    stated: dict[str, str],
    factor: str,
    narrowed: Callable[[Trace, str], str],
) -> None:
    """Record the draws from their ranges, and their sums by year."""
    trace.compute(
        "days.ranges",
        draws.buffer_ranges,
        unit="",
        title="Ranges of soil and kinetics, about what the job states",
        conductivity_factor=factor,
        drain_flow="days.drain_flow_range",
        **{name: stated[name] for name in STATED_RANGES},
    )
    ranges = narrowed(trace, "days.ranges")
    trace.compute(
        "days.drawn",
        draws_of_ranges,
        unit="",
        title="Values drawn from every range",
        ranges=ranges,
        count="days.draw_count",
        seed="days.seed",
    )
    route_drawn(trace, "drawn", "draws", "sums", "of every draw")


def route_drawn(trace: Trace, drawn: str, made: str, sums: str, words: str) -> None:
    """Record buffers of values drawn, and their sums by year, each under `days.`."""
    fixed = {name: key for name, key in _stated(trace).items() if name not in STATED_RANGES}
    trace.compute(
        f"days.{made}",
        draws.draw_buffers,
        unit="",
        title=f"Soil and kinetics {words}",
        drawn=f"days.{drawn}",
        **fixed,
    )
    trace.compute(
        f"days.{sums}",
        route.route_buffer_by_year,
        unit="",
        title=f"Sums by year {words}",
        series="days.series",
        year="days.year",
        buffers=f"days.{made}",
        boards="days.boards",
    )


def _add_boards(trace: Trace) -> None:
    keys = {}
    for setting in (DESIGN, *trace.names("inputs.season")):
        key, head = f"days.works-{setting}", set_key("head", setting)
        keys[argument_name(setting)] = key
        trace.compute(
            key,
            both_sets,
            unit="",
            title=f"Boards of the {setting} setting",
            bypass=set_key("inlet", setting),
            **({"head": head} if head in trace else {}),
        )
    trace.compute(
        "days.boards",
        boards_by_setting,
        unit="",
        title="Boards of every setting, the design setting first",
        **keys,
    )


def _add_losses(trace: Trace) -> None:
    trace.compute(
        "buffer.loss_linear_s_m2",
        loss_per_flow,
        unit="s/m2",
        title="Head that the line loses where water spreads, per flow",
        exit_resistance="buffer.exit_resistance_s_m",
        length="buffer.line_length_m",
    )
    trace.compute(
        "buffer.loss_square_s2_m5",
        friction_of_line,
        unit="s2/m5",
        title="Head that the line loses by friction on the mean, per flow squared",
        branches="buffer.branches_m",
        diameter=f"{LINE}.pipe_diameter_m",
        n=or_default(trace, f"{LINE}.pipe_n"),
    )


def _stated(trace: Trace) -> dict[str, str]:
    return {
        "length": "buffer.line_length_m",
        "width": "buffer.width_m",
        "barrier": f"{LINE}.barrier_m",
        "line_invert": f"{LINE}.line_invert_m",
        "conductivity": "buffer.conductivity_m_s",
        "porosity": or_default(trace, f"{SOIL}.porosity_effective"),
        "drainable_porosity": or_default(trace, f"{SOIL}.porosity_drainable"),
        "loss_linear": "buffer.loss_linear_s_m2",
        "loss_square": "buffer.loss_square_s2_m5",
        "tested_at": or_default(trace, f"{SOIL}.tested_at_c"),
        "rate_per_day": or_default(trace, f"{SOIL}.first_order_rate"),
        "q10": or_default(trace, f"{SOIL}.q10"),
        "oxygen": or_default(trace, f"{SOIL}.oxygen_mg_per_l"),
        "uptake": or_default(trace, f"{SOIL}.oxygen_uptake_mg_per_l"),
    }


def both_sets(bypass: BoardSet, head: BoardSet | None = None) -> tuple[BoardSet, BoardSet | None]:
    """Both sets of boards of a setting.

    Parameters
    ----------
    bypass : BoardSet
        Bypass boards. [-]
    head : BoardSet or None
        Head boards; None where there are none. [-]

    Returns
    -------
    tuple of (BoardSet, BoardSet or None)
    """
    return bypass, head


def boards_by_setting(**settings: tuple[BoardSet, BoardSet | None]) -> Array:
    """Boards of every setting as the kernel takes them.

    Parameters
    ----------
    **settings : tuple of (BoardSet, BoardSet or None)
        Bypass and head boards by setting, the design setting first. [-]

    Returns
    -------
    array of shape (settings, 20)
        The numbers of both sets. [-]

    References
    ----------
    derived, records in a table
    """
    return route.board_table(*settings.values())


def loss_per_flow(exit_resistance: float, length: float) -> float:
    """Head that a line loses where its water spreads, per flow into the line.

    Parameters
    ----------
    exit_resistance : float
        Per flow per length. [s/m]
    length : float
        Length that feeds. [m]

    Returns
    -------
    float
        Per flow. [s/m2]

    Notes
    -----
    a = r / L    (derived)

    References
    ----------
    derived, an even line
    """
    return exit_resistance / length


def friction_of_line(branches: Sequence[float], diameter: float, n: float) -> float:
    """Head that the friction of an evenly feeding line takes on the mean, per flow squared.

    Parameters
    ----------
    branches : sequence of float
        Feeding length of each branch. [m]
    diameter : float
        Inside diameter. [m]
    n : float
        Manning roughness. [-]

    Returns
    -------
    float
        Per flow squared. [s2/m5]

    Notes
    -----
    b of `line_friction`    (christiansen1942)

    References
    ----------
    christiansen1942, line with many outlets
    manning1891, friction
    """
    return line_friction(branches, diameter=diameter, n=n)

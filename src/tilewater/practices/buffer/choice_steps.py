# SPDX-License-Identifier: Apache-2.0
"""Steps of what removes most here: width, length and crest, each where it can be chosen.

Needs `days.series`, `days.middle` and `days.boards`; gives `buffer.curve.NAME`.
"""

from collections.abc import Callable

from tilewater.basis.findings import Finding
from tilewater.basis.told import feet
from tilewater.basis.trace import Trace
from tilewater.practices.buffer import line_lengths
from tilewater.practices.buffer.choices import RemovalCurve
from tilewater.practices.buffer.choices_by_days import crest_curve, length_curve, width_curve
from tilewater.practices.buffer.givens import LINE

Curve = Callable[..., RemovalCurve]
WIDEST = f"{LINE}.width_available_m"
HIGHEST = "highest_crest_m"
DAYS = {
    "series": "days.series",
    "year": "days.year",
    "is_whole": "days.whole_years",
    "buffer": "days.middle",
    "boards": "days.boards",
}


def add_choices(trace: Trace) -> None:
    """Record removal over widths, lengths and crests, where the job leaves them open."""
    if "days.whole_years" not in trace:
        return
    if WIDEST in trace:
        _add(trace, "width", width_curve, width="buffer.width_m", widest=WIDEST)
    _add_length(trace)
    if HIGHEST in trace:
        _add_crest(trace)
    _tell(trace)


def _add(trace: Trace, name: str, function: Curve, **inputs: str) -> None:
    trace.compute(
        f"buffer.curve.{name}",
        function,
        unit="",
        title=f"Removal over {name}s",
        **DAYS,
        **inputs,
    )


def _add_length(trace: Trace) -> None:
    trees = f"{LINE}.tree_length_m"
    trace.compute(
        "buffer.longest_line_m",
        line_lengths.longest_feeding_line,
        unit="m",
        title="Longest line that could let water out",
        branches=f"{LINE}.branches_m",
        available=f"{LINE}.length_available_m",
        solid_at_structure=f"{LINE}.solid_at_structure_m",
        **({"tree_length": trees} if trees in trace else {}),
    )
    _add(
        trace,
        "length",
        length_curve,
        length="buffer.line_length_m",
        longest_line="buffer.longest_line_m",
    )


def _add_crest(trace: Trace) -> None:
    trace.compute(
        "buffer.highest_crest_m",
        lower_of,
        unit="m",
        title="Highest crest that the field and the structure allow",
        field=HIGHEST,
        rim="inputs.structure.inlet.rim_m",
    )
    _add(
        trace,
        "crest",
        crest_curve,
        board_heights="inputs.boards.heights_m",
        seal_gap="inputs.boards.seal_gap_m",
        highest="buffer.highest_crest_m",
        length="buffer.line_length_m",
        conductivity="buffer.conductivity_m_s",
        wetted_perimeter="buffer.wetted_perimeter_m",
    )


def lower_of(field: float, rim: float) -> float:
    """The lower of two elevations.

    Parameters
    ----------
    field, rim : float
        Highest crest of the field, and rim of the structure. [m]

    Returns
    -------
    float
        Elevation. [m]

    Notes
    -----
    min of both    (derived)

    References
    ----------
    derived, an order
    """
    return min(field, rim)


def _tell(trace: Trace) -> None:
    if "buffer.curve.width" not in trace or not trace.known("buffer.curve.width", "buffer.width_m"):
        return
    curve, width = trace.value("buffer.curve.width"), float(trace.value("buffer.width_m"))
    trace.findings.append(
        Finding(
            "what-removes-most",
            "note",
            "Width",
            f"Over the days of this record a strip of {feet(curve.best, '.0f')} would remove "
            f"most, of those there is room for; from {feet(curve.flat_low, '.0f', bare=True)} to "
            f"{feet(curve.flat_high, '.0f')} it is within 5 percent of that. This one is "
            f"{feet(width, '.0f')}.",
            value=width,
            unit="m",
            source="derived",
        )
    )

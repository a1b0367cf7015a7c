# SPDX-License-Identifier: Apache-2.0
"""Steps that say how well the ratings of the boards are known, and where they leave their range.

The uncertainty of a rating becomes a range of the head for a flow: what a sharp crest in a box
is good for, or what the measurements of the job tell of its own boards.
"""

import re
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.findings import Finding
from tilewater.basis.tables import read_table
from tilewater.basis.told import feet
from tilewater.basis.trace import Trace
from tilewater.basis.unknown import Unknown
from tilewater.hydraulics.board_sets import (
    board_head_free,
    board_head_free_high,
    board_head_free_low,
)
from tilewater.hydraulics.calibrations import calibration_range, calibration_uncertainty
from tilewater.hydraulics.weirs import (
    weir_board_crest_range,
    weir_flow_rectangular_francis_range,
    weir_flow_v_notch_overtopped_range,
)
from tilewater.practices.bed.board_kinds import (
    CALIBRATED,
    SHARP,
    V_NOTCH,
    crest_kind,
    ratings_of,
)
from tilewater.practices.bed.board_steps import STRUCTURES, set_key
from tilewater.practices.rules import same

HEAD = re.compile(r"(\d+(?:\.\d+)?) m\b")
"""A head as the formulas tell it."""
Heads = NDArray[np.float64]


def add_rating_uncertainties(trace: Trace) -> None:
    """Record for each structure how well the flow over its boards is known."""
    for row in read_table("tilewater.hydraulics", "practice_rating_uncertainties").rows:
        trace.constant(
            f"rules.rating_uncertainty.{row.text('slug')}",
            row.number("share"),
            f"Uncertainty of a flow over boards with a crest that is {row.text('slug')}",
            unit="-",
            source="practice",
        )
    for structure in STRUCTURES:
        if set_key(structure) not in trace:
            continue
        trace.compute(
            f"structure.{structure}.rating_uncertainty",
            same,
            unit="-",
            title=f"Uncertainty of a flow over the {structure} boards",
            value=_uncertainty(trace, structure),
        )


def add_bypass_head(trace: Trace, group: str, flow: str, title: str) -> None:
    """Record the head of a flow over the bypass boards, and its range."""
    boards, head = set_key("inlet"), f"{group}.head_m"
    trace.compute(head, board_head_free, unit="m", title=title, flow=flow, boards=boards)
    uncertainty = f"{group}.rating_uncertainty"
    names = ratings_of(trace, "inlet")
    if names and f"rating.{names[-1]}.fit" in trace:
        trace.compute(
            uncertainty,
            calibration_uncertainty,
            unit="-",
            title=f"{title}: uncertainty of the calibration there",
            head=head,
            fit=f"rating.{names[-1]}.fit",
        )
    else:
        trace.compute(
            uncertainty,
            same,
            unit="-",
            title=f"{title}: uncertainty of the rating",
            value="structure.inlet.rating_uncertainty",
        )
    for end, function in (("low", board_head_free_low), ("high", board_head_free_high)):
        trace.compute(
            f"{group}.head_{end}_m",
            function,
            unit="m",
            title=f"{title}: {end} end of its range",
            flow=flow,
            boards=boards,
            uncertainty=uncertainty,
        )


def add_outlet_head(trace: Trace) -> None:
    """Record the head over the outlet boards on the criterion line, free, for their range."""
    trace.compute(
        "structure.outlet.head_m",
        board_head_free,
        unit="m",
        title="Head over the outlet boards on the criterion line, nothing behind them",
        flow="capacity.criterion.flow_m3_s",
        boards=set_key("outlet"),
    )
    _tell_of_range(trace, "outlet", ("structure.outlet.head_m",))


def tell_of_bypass_range(trace: Trace) -> None:
    """Findings where the storm heads over the bypass boards leave the range of their rating."""
    _tell_of_range(trace, "inlet", ("field_storm.head_m", "bypass.head_m"))


def _uncertainty(trace: Trace, structure: str) -> str:
    """Key of the uncertainty of the rating that is used; of something not known where none is."""
    names = ratings_of(trace, structure)
    if names:
        return f"rating.{names[-1]}.standard_error"
    kind = crest_kind(trace, structure)
    if isinstance(kind, Unknown):
        return f"inputs.structure.{structure}.crest_kind"
    if kind == CALIBRATED:
        return f"structure.{structure}.calibration"
    return f"rules.rating_uncertainty.{kind.replace(' ', '-')}"


def _tell_of_range(trace: Trace, structure: str, keys: tuple[str, ...]) -> None:
    """Add the findings of the formula or the calibration at all the heads together."""
    known = [float(trace.value(key)) for key in keys if trace.known(key)]
    if not known:
        return
    heads = np.array(known)
    names = ratings_of(trace, structure)
    if names and trace.known(f"rating.{names[-1]}.calibration"):
        found = _calibrated_range(trace, names[-1], heads)
    else:
        found = tuple(
            replace(finding, message=in_feet(finding.message))
            for finding in _formula_range(trace, structure, heads)
        )
    subject = f"{structure} boards"
    trace.findings.extend(replace(finding, subject=subject) for finding in found)


def in_feet(message: str) -> str:
    """A message with its heads in feet, as every other finding tells them."""
    return HEAD.sub(lambda head: feet(float(head[1])), message)


def _calibrated_range(trace: Trace, name: str, heads: Heads) -> tuple[Finding, ...]:
    """Findings of a calibration, in feet and with the name of the rating."""
    law = trace.value(f"rating.{name}.calibration")
    fitted = f"{feet(law.head_lowest, bare=True)} to {feet(law.head_highest)}"
    return tuple(
        replace(
            finding,
            message=f"The head is {feet(float(finding.value or 0.0))}, and rating.{name} "
            f"was fitted from {fitted}. Treat the flow as an estimate, or measure there.",
        )
        for finding in calibration_range(heads, law)
    )


def _formula_range(trace: Trace, structure: str, heads: Heads) -> tuple[Finding, ...]:
    given, kind = f"inputs.structure.{structure}", crest_kind(trace, structure)
    width, thickness = f"{given}.crest_width_m", f"{given}.board_thickness_m"
    if kind == SHARP and trace.known(width):
        low = weir_flow_rectangular_francis_range(heads, crest_width=trace.value(width))
        if not trace.known(thickness):
            return low
        return (*low, *weir_board_crest_range(heads, board_thickness=trace.value(thickness)))
    notch = (f"structure.{structure}.notch_angle", f"{given}.notch_depth_m", width)
    if kind == V_NOTCH and trace.known(*notch):
        angle, depth, across = (trace.value(key) for key in notch)
        return weir_flow_v_notch_overtopped_range(
            heads, notch_angle=angle, notch_depth=depth, crest_width=across
        )
    return ()

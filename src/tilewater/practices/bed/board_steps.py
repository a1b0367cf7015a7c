# SPDX-License-Identifier: Apache-2.0
"""Steps that turn the boards of each setting into a set with its rating.

Keys are `structure.inlet.set-design`, `structure.outlet.set-spring` and so on; the value is the
`BoardSet` that every flow and level over these boards is computed with. How well a rating is known
is in `rating_steps`.
"""

from collections.abc import Callable

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Given, Trace
from tilewater.basis.unknown import Unknown
from tilewater.hydraulics.board_sets import (
    BoardSet,
    board_set_broad,
    board_set_calibrated,
    board_set_sharp_francis,
    board_set_v_notch,
    joint_leak,
)
from tilewater.hydraulics.calibration_fits import calibrate_boards, calibrate_boards_zero
from tilewater.hydraulics.calibrations import (
    calibration_of_coefficients,
    calibration_of_fit,
    calibration_scatter,
)
from tilewater.practices.bed.board_kinds import (
    BROAD,
    CALIBRATED,
    SHARP,
    V_NOTCH,
    crest_kind,
    is_notched,
    needed,
    ratings_of,
    tell_of_ratings,
)
from tilewater.practices.bed.settings import DESIGN
from tilewater.practices.boards import radians_of
from tilewater.practices.rules import same

STRUCTURES = ("inlet", "outlet")
LAW = {
    "coefficient": "coefficient",
    "exponent": "exponent",
    "head_lowest": "fitted_from_m",
    "head_highest": "fitted_to_m",
    "head_unit": "head_unit",
    "flow_unit": "flow_unit",
}
"""What a law that was fitted elsewhere needs, and the field of the job that gives it."""


def set_key(structure: str, setting: str = DESIGN) -> str:
    """Key of the board set of a structure in a setting."""
    return f"structure.{structure}.set-{setting}"


def add_board_sets(trace: Trace, structures: tuple[str, ...] = STRUCTURES) -> None:
    """Record the board set of the structures, for the design setting and each season's own."""
    for name in trace.names("inputs.rating"):
        _add_calibration(trace, name)
    tell_of_ratings(trace)
    for structure in structures:
        _add_leak(trace, structure)
        _tell_of_notch(trace, structure)
        for setting in (DESIGN, *trace.names("inputs.season")):
            add_set(trace, structure, setting)


def _add_calibration(trace: Trace, name: str) -> None:
    """Record the power law of a rating and its scatter, from measurements or as published."""
    given, here, what = f"inputs.rating.{name}", f"rating.{name}", f"Rating {name}"
    error = f"{here}.standard_error"
    if f"{given}.heads_m" in trace and f"{given}.flows_m3_s" in trace:
        is_fitted = trace.value(f"{given}.zero") == "fitted"
        trace.compute(
            f"{here}.fit",
            calibrate_boards_zero if is_fitted else calibrate_boards,
            unit="",
            title=f"{what}: fit to the measured flows",
            heads=f"{given}.heads_m",
            flows=f"{given}.flows_m3_s",
        )
        trace.compute(
            f"{here}.calibration",
            calibration_of_fit,
            unit="",
            title=f"{what}: power law",
            fit=f"{here}.fit",
        )
        trace.compute(
            error,
            calibration_scatter,
            unit="-",
            title=f"{what}: scatter of the measured flows",
            fit=f"{here}.fit",
        )
        return
    if all(f"{given}.{field}" in trace for field in LAW.values()):
        trace.compute(
            f"{here}.calibration",
            calibration_of_coefficients,
            unit="",
            title=f"{what}: power law",
            **{parameter: f"{given}.{field}" for parameter, field in LAW.items()},
        )
    else:
        _give_unknown(
            trace,
            f"{here}.calibration",
            f"{what}: power law",
            f"rating.{name} has neither heads with flows nor a whole law",
            "give heads and flows, or coefficient, exponent, their units and the fitted heads",
        )
    title = f"{what}: scatter of its flows"
    if f"{given}.standard_error" in trace:
        trace.compute(error, same, unit="-", title=title, value=f"{given}.standard_error")
    else:
        _give_unknown(
            trace, error, title, f"rating.{name} does not say its scatter", "ask who fitted it"
        )


def _add_leak(trace: Trace, structure: str) -> None:
    given, key = f"inputs.structure.{structure}", f"structure.{structure}.joint_leak_m"
    title = f"Opening of the joints of the {structure} boards"
    if f"{given}.joint_leak_m3_s" not in trace:
        trace.constant(key, 0.0, f"{title}: no leak was measured", unit="m", source="practice")
        return
    depth = f"{given}.joint_leak_depth_m"
    trace.compute(
        key,
        joint_leak,
        unit="m",
        title=title,
        flow=f"{given}.joint_leak_m3_s",
        depth=depth if depth in trace else f"boards.{structure}-{DESIGN}.height_m",
    )
    if crest_kind(trace, structure) == CALIBRATED:
        _note(
            trace,
            "leak-in-rating",
            structure,
            "The flow through the joints is not added to the rating: the measured flows hold it.",
        )


def _tell_of_notch(trace: Trace, structure: str) -> None:
    depth = f"inputs.structure.{structure}.notch_depth_m"
    if depth in trace and not is_notched(trace, structure):
        _note(
            trace,
            "notch-not-used",
            structure,
            "A depth of a notch is given, and the crest is not notched by the job. Write "
            f'structure.{structure}.crest_kind = "v notch", or take the depth out.',
        )


def add_set(trace: Trace, structure: str, setting: str) -> None:
    """Record the board set of the stack of a structure in a setting."""
    key, boards = set_key(structure, setting), f"boards.{structure}-{setting}"
    title = f"Rating of the {structure} boards, {setting} setting"
    kind = crest_kind(trace, structure)
    if trace.known(f"{boards}.stack_m") and not trace.value(f"{boards}.stack_m"):
        kind = SHARP  # no board stands, so the sill is the crest
    if isinstance(kind, Unknown):
        why = f"what crest the {structure} boards have is not known"
        cause = f"inputs.structure.{structure}.crest_kind"
        _give_unknown(trace, key, title, why, kind.measure, cause)
        return
    function, inputs = _crest(trace, structure, kind)
    trace.compute(
        key,
        function,
        unit="",
        title=title,
        crest=f"{boards}.crest_m",
        sill=f"inputs.structure.{structure}.sill_m",
        **inputs,
    )


def _crest(
    trace: Trace, structure: str, kind: str
) -> tuple[Callable[..., BoardSet], dict[str, str]]:
    """What builds the set of a kind of crest, and keys of what it needs beside crest and sill."""
    if kind == CALIBRATED:
        return board_set_calibrated, {"calibration": _calibration(trace, structure)}
    inputs = {
        "crest_width": f"inputs.structure.{structure}.crest_width_m",
        "leak": f"structure.{structure}.joint_leak_m",
    }
    if kind == BROAD:
        thickness = needed(trace, structure, "board_thickness_m")
        return board_set_broad, inputs | {"board_thickness": thickness}
    if kind == V_NOTCH:
        notch = {
            "notch_depth": needed(trace, structure, "notch_depth_m"),
            "notch_angle": _notch_angle(trace, structure),
        }
        return board_set_v_notch, inputs | notch
    return board_set_sharp_francis, inputs


def _calibration(trace: Trace, structure: str) -> str:
    """Key of the power law that is used; not known where the job has none."""
    names = ratings_of(trace, structure)
    if names:
        return f"rating.{names[-1]}.calibration"
    key = f"structure.{structure}.calibration"
    _give_unknown(
        trace,
        key,
        f"Calibration of the {structure} boards",
        f"the {structure} boards are calibrated, and no rating of them is given",
        "give it as [rating.NAME]",
    )
    return key


def _notch_angle(trace: Trace, structure: str) -> str:
    key = f"structure.{structure}.notch_angle"
    trace.compute(
        key,
        radians_of,
        unit="rad",
        title=f"Full angle of the notch, {structure}",
        angle_deg=needed(trace, structure, "notch_angle_deg"),
    )
    return key


def _give_unknown(
    trace: Trace, key: str, title: str, why: str, measure: str, cause: str = ""
) -> None:
    unknown = Unknown(why, measure, (cause,) if cause else ())
    trace.give(Given(key, unknown, "", title))


def _note(trace: Trace, code: str, structure: str, message: str) -> None:
    subject = f"{structure} structure"
    trace.findings.append(Finding(code, "note", subject, message, source="practice"))

# SPDX-License-Identifier: Apache-2.0
"""What crest the boards of a structure have, as the job says: its kind, its notch, its rating."""

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Given, Trace
from tilewater.basis.unknown import Unknown

SETS = {"inlet": "bypass", "outlet": "outlet"}
"""The set of boards of each structure that passes the flow in question."""
SHARP, BROAD, V_NOTCH, CALIBRATED = "sharp", "broad", "v notch", "calibrated"
NEEDED = {
    "board_thickness_m": ("m", "Thickness of a board", "measure the top board"),
    "notch_depth_m": ("m", "Depth of the notch", "tape it from the point to the board's top"),
    "notch_angle_deg": ("deg", "Full angle of the notch", "hold a template to it"),
}


def ratings_of(trace: Trace, structure: str) -> tuple[str, ...]:
    """Names of the job's ratings of the boards of a structure, the latest last."""
    found = [
        name
        for name in trace.names("inputs.rating")
        if trace.value(f"inputs.rating.{name}.structure") == structure
        and trace.value(f"inputs.rating.{name}.set") == SETS[structure]
    ]
    return tuple(sorted(found, key=lambda name: _date(trace, name)))


def crest_kind(trace: Trace, structure: str) -> str | Unknown:
    """Kind of crest that is computed with; a rating goes before what the job says of the crest."""
    if ratings_of(trace, structure):
        return CALIBRATED
    key = f"inputs.structure.{structure}.crest_kind"
    kind: str | Unknown = trace.value(key) if key in trace else SHARP
    return kind


def is_notched(trace: Trace, structure: str) -> bool:
    """Whether water goes through a notch first, so that the crest is its point."""
    kind = crest_kind(trace, structure)
    has_depth = f"inputs.structure.{structure}.notch_depth_m" in trace
    return kind == V_NOTCH or (kind == CALIBRATED and has_depth)


def needed(trace: Trace, structure: str, field: str) -> str:
    """Key of a field that a kind of crest cannot do without; an open item where it is absent."""
    key = f"inputs.structure.{structure}.{field}"
    if key not in trace:
        unit, title, measure = NEEDED[field]
        trace.give(Given(key, Unknown("not given", measure), unit, f"{title}, {structure}"))
    return key


def tell_of_ratings(trace: Trace) -> None:
    """Findings on ratings that are not used."""
    for name in trace.names("inputs.rating"):
        structure = trace.value(f"inputs.rating.{name}.structure")
        boards = trace.value(f"inputs.rating.{name}.set")
        if isinstance(structure, Unknown) or isinstance(boards, Unknown):
            _not_used(trace, name, "it does not say of which structure and set it is")
        elif SETS[structure] != boards:
            _not_used(trace, name, f"no flow is computed over {boards} boards of the {structure}")
    for structure in SETS:
        *earlier, last = ratings_of(trace, structure) or ("",)
        for name in earlier:
            _not_used(trace, name, f"rating.{last} of the same set is the later one")


def _date(trace: Trace, name: str) -> str:
    date = trace.value(f"inputs.rating.{name}.date")
    return "" if isinstance(date, Unknown) else str(date)


def _not_used(trace: Trace, name: str, why: str) -> None:
    trace.findings.append(
        Finding(
            "rating-not-used",
            "caution",
            f"rating.{name}",
            f"rating.{name} is not used: {why}. Take it out, or correct it.",
            source="practice",
        )
    )

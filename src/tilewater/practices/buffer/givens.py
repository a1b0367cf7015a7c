# SPDX-License-Identifier: Apache-2.0
"""How the steps of a buffer take the answers of the job: what is missing is not known.

A few values that are seldom measured have a default of the program, recorded with its source.
"""

from tilewater.basis.trace import Given, Trace
from tilewater.basis.unknown import Unknown
from tilewater.hydraulics.line_exit import wetted_perimeter_of_pipe

SOIL, LINE = "inputs.buffer_soil", "inputs.buffer"

BARE_RADIUS, SOCK_RADIUS = 0.0051, 0.059
"""Effective radius of bare 4-in tubing, remembered, and of pipe in a sock, read. [m]"""

DEFAULTS: dict[str, tuple[float, str, str, str]] = {
    f"{SOIL}.porosity_effective": (0.35, "-", "Effective porosity of the soil", "practice"),
    f"{SOIL}.porosity_drainable": (0.10, "-", "Drainable porosity of the soil", "practice"),
    f"{SOIL}.tested_at_c": (10.0, "degC", "Ground water in the tests", "practice"),
    f"{SOIL}.first_order_rate": (0.10, "1/day", "First-order removal at 15 degC", "practice"),
    f"{SOIL}.zero_order_rate_g_per_m3_day": (
        0.04,
        "g/m3/day",
        "Zero-order removal at 15 degC",
        "kellogg2005",
    ),
    f"{SOIL}.q10": (1.97, "-", "Factor of removal for 10 degrees", "practice"),
    f"{SOIL}.oxygen_mg_per_l": (8.0, "mg/L", "Oxygen in the drain water", "practice"),
    f"{SOIL}.oxygen_uptake_mg_per_l": (2.0, "mg/L", "Oxygen taken up in a day", "practice"),
    f"{SOIL}.cohesion_low_pa": (3e3, "Pa", "Cohesion of the bank, low", "practice"),
    f"{SOIL}.cohesion_high_pa": (8e3, "Pa", "Cohesion of the bank, high", "practice"),
    f"{SOIL}.friction_low_deg": (22.0, "deg", "Angle of friction, low", "practice"),
    f"{SOIL}.friction_high_deg": (32.0, "deg", "Angle of friction, high", "practice"),
    f"{SOIL}.unit_weight_kg_per_m3": (1940.0, "kg/m3", "Wet weight of the bank", "practice"),
    f"{LINE}.pipe_n": (0.015, "-", "Roughness of the line", "ep260"),
}
"""Values of the program where the job gives none: value, unit, title, source."""


def needed(trace: Trace, key: str, title: str, unit: str, measure: str) -> str:
    """Key of an answer; an open item where the job does not give it."""
    if key not in trace:
        trace.give(Given(key, Unknown("not given", measure), unit, title))
    return key


def or_default(trace: Trace, key: str) -> str:
    """Key of an answer, or of the default of the program in its place."""
    if key in trace:
        return key
    value, unit, title, source = DEFAULTS[key]
    own = key.replace("inputs.", "buffer.defaults.", 1)
    if own not in trace:
        trace.constant(own, value, f"{title}, default", unit=unit, source=source)
    return own


def effective_radius_of(envelope: str, stated: float = 0.0) -> float:
    """Effective radius of the line, as stated or by what lies round it.

    Parameters
    ----------
    envelope : str
        "soil", "gravel" or "fabric sock". [-]
    stated : float
        As the job says; 0 where it does not. [m]

    Returns
    -------
    float
        Effective radius. [m]

    Notes
    -----
    re = 5.1 mm of bare 4-in tubing, 59 mm in a sock on average    (skaggs1978)

    References
    ----------
    skaggs1978, bare tubing, from memory
    ghane2022, pipe in a sock, abstract
    """
    if stated > 0.0:
        return stated
    return SOCK_RADIUS if envelope == "fabric sock" else BARE_RADIUS


def wetted_perimeter_of_line(
    envelope: str, effective_radius: float, trench_width: float, diameter: float
) -> float:
    """Perimeter by which a line lets its water into the soil.

    Parameters
    ----------
    envelope : str
        "soil", "gravel" or "fabric sock". [-]
    effective_radius : float
        Of the pipe. [m]
    trench_width : float
        Width of the trench, which counts where it is filled with gravel. [m]
    diameter : float
        Inside diameter of the pipe; gravel stands as high. [m]

    Returns
    -------
    float
        Wetted perimeter. [m]

    Notes
    -----
    u = 2 pi re, or b + 2 D of a trench with gravel    (ernst1962)

    References
    ----------
    ernst1962, radial resistance
    skaggs1978, effective radius
    """
    if envelope == "gravel":
        return trench_width + 2.0 * diameter
    return wetted_perimeter_of_pipe(effective_radius)

# SPDX-License-Identifier: Apache-2.0
"""How safely a bank stands with water behind it: a range, from three simple models.

None of them knows roots, cracks, layers or undercutting. What they give is a range that says
whether somebody who knows soils has to look; it is no proof that a bank stands. Strengths are
effective ones.
"""

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.domain import require_not_negative, require_positive, require_share
from tilewater.basis.errors import NoSolution
from tilewater.basis.findings import Finding
from tilewater.basis.unit_table import STANDARD_GRAVITY

WATER_WEIGHT = 1000.0 * float(STANDARD_GRAVITY)
COMFORTABLE, UNSTABLE = 1.3, 1.0
SLICES = 30
ROUNDS = 40
STEEP = math.radians(89.0)


@dataclass(frozen=True)
class BankSoil:
    """Strength and weight of a bank.

    Attributes
    ----------
    cohesion : float
        Effective cohesion. [Pa]
    friction_angle : float
        Effective angle of friction. [rad]
    unit_weight : float
        Weight per volume, wet. [N/m3]
    """

    cohesion: float
    friction_angle: float
    unit_weight: float

    def __post_init__(self) -> None:
        require_not_negative("cohesion", self.cohesion, "Pa", "Use 0 for sand")
        require_not_negative("friction_angle", self.friction_angle, "rad", "Give it in radians")
        require_positive("unit_weight", self.unit_weight, "N/m3", "Use 19000 N/m3 if in doubt")


def slope_factor_infinite(
    soil: BankSoil, *, depth: float, slope_angle: float, saturated_share: float
) -> float:
    """Factor of safety of a long slope against sliding along its face.

    Parameters
    ----------
    soil : BankSoil
        Strength and weight. [-]
    depth : float
        Depth of the sliding layer, measured upright. [m]
    slope_angle : float
        Angle of the face. [rad]
    saturated_share : float
        Share of that depth under water that seeps along the face. [-]

    Returns
    -------
    float
        Factor of safety. [-]

    Raises
    ------
    OutOfDomain
        If depth or angle is not above zero, the face overhangs, or the share is no share.

    Notes
    -----
    F = (c + (g z - m g_w z) cos^2 b tan f) / (g z sin b cos b)    (terzaghi1943)

    References
    ----------
    terzaghi1943, sliding along a plane, from memory
    """
    require_positive("depth", depth, "m", "Give the depth of the layer that would slide")
    _require_face(slope_angle)
    require_share("saturated_share", saturated_share, "Use 1 for a bank that seeps to its top")
    weight = soil.unit_weight * depth
    effective = (weight - saturated_share * WATER_WEIGHT * depth) * math.cos(slope_angle) ** 2
    resisting = soil.cohesion + effective * math.tan(soil.friction_angle)
    return resisting / (weight * math.sin(slope_angle) * math.cos(slope_angle))


def bank_height_culmann(soil: BankSoil, *, slope_angle: float) -> float:
    """Height at which a dry bank slides along a plane through its toe.

    Parameters
    ----------
    soil : BankSoil
        Strength and weight. [-]
    slope_angle : float
        Angle of the face. [rad]

    Returns
    -------
    float
        Critical height; infinite where the face is no steeper than the angle of friction. [m]

    Raises
    ------
    OutOfDomain
        If the angle is not above zero or the face overhangs.

    Notes
    -----
    H = (4 c / g) sin b cos f / (1 - cos(b - f))    (culmann1866)

    A wedge; it overstates the height of banks flatter than about 60 degrees.

    References
    ----------
    culmann1866, from memory
    """
    _require_face(slope_angle)
    if slope_angle <= soil.friction_angle:
        return math.inf
    top = 4.0 * soil.cohesion * math.sin(slope_angle) * math.cos(soil.friction_angle)
    return top / (soil.unit_weight * (1.0 - math.cos(slope_angle - soil.friction_angle)))


def bank_factor_bishop(
    soil: BankSoil,
    *,
    height: float,
    slope_angle: float,
    water_at_face: float = 0.0,
    water_gradient: float = 0.0,
) -> float:
    """Least factor of safety of a bank against sliding on a circle through its toe.

    Parameters
    ----------
    soil : BankSoil
        Strength and weight. [-]
    height : float
        Top of the bank above its toe. [m]
    slope_angle : float
        Angle of the face. [rad]
    water_at_face : float
        Height above the toe at which the water table meets the face. [m]
    water_gradient : float
        Rise of the water table into the bank, per length. [m/m]

    Returns
    -------
    float
        Factor of safety of the worst circle that was tried. [-]

    Raises
    ------
    OutOfDomain
        If a value is not where it can be.
    NoSolution
        If no circle was found that slides.

    Notes
    -----
    F = sum((c b + (W - u b) tan f) / m) / sum(W sin a)    (bishop1955)

    with m = cos a + sin a tan f / F.

    Circles through the toe; the weight of the stream on the face is left out, as after a sudden
    fall of it. Pore pressure is that of water standing under the water table.

    References
    ----------
    bishop1955, simplified method, from memory
    """
    require_positive("height", height, "m", "Top of the bank above its toe")
    _require_face(slope_angle)
    require_not_negative("water_at_face", water_at_face, "m", "Count from the toe")
    require_not_negative("water_gradient", water_gradient, "m/m", "It rises into the bank")
    circles = _circles(height, height / math.tan(slope_angle))
    factors = _bishop(soil, circles, water_at_face, water_gradient, slope_angle)
    worst = float(np.min(factors, initial=math.inf))
    if not math.isfinite(worst):
        raise NoSolution(
            "No circle through the toe slides. The bank is flatter than its soil can fail on. "
            "Check height and slope."
        )
    return worst


def bank_range_findings(lowest_factor: float, highest_factor: float) -> tuple[Finding, ...]:
    """What a range of factors of safety says of a bank.

    Parameters
    ----------
    lowest_factor : float
        Lowest factor of all models and strengths. [-]
    highest_factor : float
        Highest. [-]

    Returns
    -------
    tuple of Finding
        A caution in every case short of a comfortable one, and always that it is a range.
    """
    words = f"Factors of safety from {lowest_factor:.2f} to {highest_factor:.2f} by simple models"
    if lowest_factor >= COMFORTABLE:
        severity, says = "note", "all are above 1.3, and they are no proof"
    elif highest_factor < UNSTABLE:
        severity, says = "fails", "all are below 1: do not raise water behind this bank"
    else:
        severity, says = "caution", "the range reaches below 1.3: ask for a geotechnical judgement"
    return (
        Finding(
            "bank-range",
            severity,  # type: ignore[arg-type]
            "Bank",
            f"{words}; {says}. Roots, cracks, layers and undercutting are not in them.",
            value=lowest_factor,
            operator=">=",
            limit=COMFORTABLE,
            unit="-",
            source="practice",
        ),
    )


def _require_face(slope_angle: float) -> None:
    require_positive("slope_angle", slope_angle, "rad", "Give the angle of the face in radians")
    require_not_negative(
        "pi/2 - slope_angle", math.pi / 2 - slope_angle, "rad", "An overhanging face falls anyhow"
    )


@dataclass(frozen=True, eq=False)
class _Circles:
    """Circles through the toe: middle, ground, base and tilt of their slices, a circle a row."""

    x: NDArray[np.float64]
    ground: NDArray[np.float64]
    base: NDArray[np.float64]
    tilt: NDArray[np.float64]
    width: NDArray[np.float64]


@lru_cache(maxsize=8)
def _circles(height: float, run: float) -> _Circles:
    """Every circle that is tried; its ends lie on the face or on the ground behind it."""
    found = [
        slices
        for chord_end in np.linspace(0.02, 3.0, 31)
        for bulge in np.linspace(0.04, 0.48, 12)
        if (slices := _slices(run + chord_end * height, height, run, float(bulge))) is not None
    ]
    if not found:
        return _Circles(*(np.empty((0, SLICES)),) * 4, np.empty((0, 1)))
    x, ground, base, tilt, width = zip(*found, strict=True)
    return _Circles(
        np.array(x), np.array(ground), np.array(base), np.array(tilt), np.array(width)[:, None]
    )


Slices = tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray, float]


def _slices(far: float, height: float, run: float, bulge: float) -> Slices | None:
    """Middle, ground, base and inclination of each slice of a circle, and their width.

    The circle runs from the toe to the ground at `far`; its sagitta is `bulge` chords.
    """
    chord = math.hypot(far, height)
    radius = chord * (bulge**2 + 0.25) / (2.0 * bulge)
    apart = radius - bulge * chord
    centre_x = far / 2.0 - apart * height / chord
    centre_y = height / 2.0 + apart * far / chord
    if centre_y <= height:
        return None  # the circle would overhang before it reaches the ground
    width = far / SLICES
    x = (np.arange(SLICES) + 0.5) * width
    inside = radius**2 - (x - centre_x) ** 2
    if np.any(inside <= 0.0):
        return None
    base = centre_y - np.sqrt(inside)
    ground = np.minimum(height, height * x / run) if run > 0 else np.full(SLICES, height)
    if np.any(base >= ground + 1e-9) or np.any(base < -0.5 * height):
        return None
    tilt = np.arcsin((x - centre_x) / radius)
    return x, ground, base, tilt, width


def _bishop(
    soil: BankSoil,
    circles: _Circles,
    water_at_face: float,
    water_gradient: float,
    slope_angle: float,
) -> NDArray[np.float64]:
    """Factor of safety of each circle; infinite where it does not slide."""
    weight = soil.unit_weight * (circles.ground - circles.base) * circles.width
    driving = np.sum(weight * np.sin(circles.tilt), axis=1)
    met = water_at_face / math.tan(slope_angle)
    table = np.where(
        circles.x < met, circles.ground, water_at_face + water_gradient * (circles.x - met)
    )
    pressure = WATER_WEIGHT * np.clip(np.minimum(table, circles.ground) - circles.base, 0.0, None)
    friction = math.tan(soil.friction_angle)
    pressed = np.clip(weight - pressure * circles.width, 0.0, None)
    resisting = soil.cohesion * circles.width + pressed * friction
    factors = np.full(driving.size, math.inf)
    left = np.flatnonzero(driving > 0.0)
    factors[left] = 1.0
    for _ in range(ROUNDS):
        factor, tilt = factors[left], circles.tilt[left]
        lean = np.cos(tilt) + np.sin(tilt) * friction / factor[:, None]
        new = np.sum(resisting[left] / lean, axis=1) / driving[left]
        is_steep, is_found = np.any(lean < 0.2, axis=1), np.abs(new - factor) < 1e-6
        new[~is_found] = np.maximum(new[~is_found], 1e-3)
        new[is_steep] = math.inf
        factors[left] = new
        left = left[~(is_found | is_steep)]
        if not left.size:
            break
    return factors

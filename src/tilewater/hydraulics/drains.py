# SPDX-License-Identifier: Apache-2.0
"""Flow of ground water to parallel drains: Hooghoudt under a water table, Kirkham under a pond.

Heights count from the centre of the drain, `depth_to_barrier` too; `drain_depth` and
`barrier_depth` count from the ground. Fluxes are per area of field. The outlet may be raised: then
water stands in the drains and the flux is that of an ellipse between the two levels; where the
outlet stands higher than the water table the flux comes back negative. How a field stores and
releases water over the days is not the business of this module.
"""

import math

import numpy as np

from tilewater.basis.domain import Number, refuse, require_not_negative, require_positive
from tilewater.basis.errors import NoSolution
from tilewater.basis.findings import Finding

MOODY_THIN = 0.3
THIN_LAYER = 0.5
ODD = np.arange(1.0, 41.0, 2.0)
NEGLIGIBLE = 40.0
"""Argument beyond which one plus a hyperbolic cosine's inverse is one."""


def equivalent_depth_moody(depth_to_barrier: Number, spacing: Number, *, radius: Number) -> Number:
    """Hooghoudt's equivalent depth by Moody's formulas.

    Lies 0 to 5 percent above the exact series. A drain on the barrier has none.

    Parameters
    ----------
    depth_to_barrier : float or array
        From the centre of the drain down to the barrier. [m]
    spacing : float or array
        Distance between drains. [m]
    radius : float or array
        Effective radius of the drain. [m]

    Returns
    -------
    float or array
        Equivalent depth. [m]

    Raises
    ------
    OutOfDomain
        If the depth is negative, the radius not above zero or the spacing less than four radii.

    Notes
    -----
    d = D / (1 + (D/L) ((8/pi) ln(D/r) - a)), a = 3.55 - 1.6 D/L + 2 (D/L)^2    (moody1966)
    d = pi L / (8 (ln(L/r) - 1.15)) where D/L > 0.3    (moody1966)

    `equivalent_depth_range` reports a barrier too near to the drain.

    References
    ----------
    moody1966, equations for the equivalent depth
    """
    _require_drains(depth_to_barrier, spacing, radius)
    ratio = np.minimum(np.divide(depth_to_barrier, spacing), MOODY_THIN)
    alpha = 3.55 - 1.6 * ratio + 2.0 * ratio**2
    # A drain on the barrier has no radial term; any depth keeps the logarithm finite there.
    counted = np.where(np.equal(depth_to_barrier, 0.0), radius, depth_to_barrier)
    radial = (8.0 / math.pi) * np.log(counted / radius) - alpha
    thin = depth_to_barrier / (1.0 + ratio * radial)
    thick = math.pi * spacing / (8.0 * (np.log(np.divide(spacing, radius)) - 1.15))
    return np.where(np.greater(depth_to_barrier, MOODY_THIN * spacing), thick, thin)[()]


def equivalent_depth_series(depth_to_barrier: Number, spacing: Number, *, radius: Number) -> Number:
    """Hooghoudt's equivalent depth by the exact series.

    Parameters
    ----------
    depth_to_barrier : float or array
        From the centre of the drain down to the barrier. [m]
    spacing : float or array
        Distance between drains. [m]
    radius : float or array
        Effective radius of the drain. [m]

    Returns
    -------
    float or array
        Equivalent depth. [m]

    Raises
    ------
    OutOfDomain
        If the depth is negative, the radius not above zero or the spacing less than four radii.

    Notes
    -----
    d = (pi L / 8) / (ln(L / (pi r)) + F(x)), x = 2 pi D / L    (vandermolen1991)
    F = sum of 4 exp(-2 n x) / (n (1 - exp(-2 n x))), n = 1, 3, 5 ...    (vandermolen1991)
    F = pi^2 / (4 x) + ln(x / (2 pi)) where x <= 0.5    (vandermolen1991)

    References
    ----------
    vandermolen1991, series and form for thin layers
    """
    _require_drains(depth_to_barrier, spacing, radius)
    x = np.asarray(2.0 * math.pi * np.divide(depth_to_barrier, spacing))
    decay = np.exp(-2.0 * np.maximum(x, THIN_LAYER)[..., np.newaxis] * ODD)
    thick = np.sum(4.0 * decay / (ODD * (1.0 - decay)), axis=-1)
    small = np.where(x == 0.0, 1.0, x)
    thin = math.pi**2 / (4.0 * small) + np.log(small / (2.0 * math.pi))
    flow_resistance = np.log(np.divide(spacing, math.pi * radius))
    flow_resistance = flow_resistance + np.where(x <= THIN_LAYER, thin, thick)
    depth = np.where(x == 0.0, 0.0, np.multiply(spacing, math.pi / 8.0) / flow_resistance)
    return depth[()]


def equivalent_depth_range(
    depth_to_barrier: Number, spacing: Number, *, radius: Number
) -> tuple[Finding, ...]:
    """Findings where the barrier lies too near to the drain for an equivalent depth.

    Parameters
    ----------
    depth_to_barrier : float or array
        From the centre of the drain down to the barrier. [m]
    spacing : float or array
        Distance between drains. [m]
    radius : float or array
        Effective radius of the drain. [m]

    Returns
    -------
    tuple of Finding
        Empty when all is within.
    """
    depth = equivalent_depth_moody(depth_to_barrier, spacing, radius=radius)
    if not np.any(np.greater(depth, depth_to_barrier)):
        return ()
    nearest = float(np.min(depth_to_barrier))
    message = (
        f"The barrier lies {nearest:.3g} m under the drain, where the equivalent depth comes out "
        f"larger than the depth itself. It should be more than about four radii. Use the depth to "
        f"the barrier, or 0 for a drain that lies on it."
    )
    return (
        Finding(
            "equivalent-depth-barrier-near",
            "caution",
            "depth from drain to barrier",
            message,
            nearest,
            ">=",
            4.0 * float(np.max(radius)),
            "m",
            "moody1966",
        ),
    )


def drain_flux_hooghoudt(
    water_height: Number,
    *,
    outlet_height: Number = 0.0,
    spacing: Number,
    equivalent_depth: Number,
    conductivity_below: Number,
    conductivity_above: Number,
) -> Number:
    """Flux to parallel drains from a water table of some height midway between them.

    Parameters
    ----------
    water_height : float or array
        Water table midway between the drains, above the drain. [m]
    outlet_height : float or array
        Water held in the drains by a raised outlet, above the drain. [m]
    spacing : float or array
        Distance between drains. [m]
    equivalent_depth : float or array
        Equivalent depth below the drain; 0 for a drain on the barrier. [m]
    conductivity_below : float or array
        Saturated conductivity of the soil below the drain. [m/s]
    conductivity_above : float or array
        Saturated conductivity of the soil above the drain. [m/s]

    Returns
    -------
    float or array
        Flux per area of field, negative where the outlet stands above the water table. [m/s]

    Raises
    ------
    OutOfDomain
        If a height, depth or conductivity is negative or the spacing not above zero.

    Notes
    -----
    q = (8 Kb d (H - E) + 4 Ka (H^2 - E^2)) / L^2    (hooghoudt1940)

    The raised outlet enters as an ellipse between H and E, not as (H - E)^2; that is derived.

    References
    ----------
    hooghoudt1940, two layers parted at the drain
    """
    _require_heights(water_height, outlet_height, equivalent_depth)
    require_positive("spacing", spacing, "m", "Give the distance between drains")
    require_not_negative("conductivity_below", conductivity_below, "m/s", "Give it in m/s")
    require_not_negative("conductivity_above", conductivity_above, "m/s", "Give it in m/s")
    below = 8.0 * conductivity_below * equivalent_depth * (water_height - outlet_height)
    above = 4.0 * conductivity_above * (water_height**2 - outlet_height**2)
    return (below + above) / spacing**2


def water_height_hooghoudt(
    flux: Number,
    *,
    outlet_height: Number = 0.0,
    spacing: Number,
    equivalent_depth: Number,
    conductivity_below: Number,
    conductivity_above: Number,
) -> Number:
    """Height of the water table midway between drains that carry a flux.

    Parameters
    ----------
    flux : float or array
        Flux per area of field. [m/s]
    outlet_height : float or array
        Water held in the drains by a raised outlet, above the drain. [m]
    spacing : float or array
        Distance between drains. [m]
    equivalent_depth : float or array
        Equivalent depth below the drain; 0 for a drain on the barrier. [m]
    conductivity_below : float or array
        Saturated conductivity of the soil below the drain. [m/s]
    conductivity_above : float or array
        Saturated conductivity of the soil above the drain. [m/s]

    Returns
    -------
    float or array
        Water table midway between the drains, above the drain. [m]

    Raises
    ------
    OutOfDomain
        If a height, depth or conductivity is negative, the spacing not above zero, or no soil
        conducts.
    NoSolution
        If more water is to flow back into the field than the raised outlet can drive.

    Notes
    -----
    H = 2 C / (B + sqrt(B^2 + 4 A C))    (hooghoudt1940)

    with A = 4 Ka, B = 8 Kb d and C = q L^2 + A E^2 + B E, the positive root of the flux, written
    so that it also holds where the soil above the drain conducts nothing.

    References
    ----------
    hooghoudt1940, two layers parted at the drain
    """
    _require_heights(0.0, outlet_height, equivalent_depth)
    require_positive("spacing", spacing, "m", "Give the distance between drains")
    require_not_negative("conductivity_below", conductivity_below, "m/s", "Give it in m/s")
    require_not_negative("conductivity_above", conductivity_above, "m/s", "Give it in m/s")
    a = 4.0 * conductivity_above
    b = 8.0 * conductivity_below * equivalent_depth
    require_positive("4 Ka + 8 Kb d", a + b, "m/s", "Give the soil a conductivity")
    c = flux * spacing**2 + a * outlet_height**2 + b * outlet_height
    if not np.all(np.greater_equal(c, 0.0)):
        lowest = float(np.min(flux))
        raise NoSolution(
            f"flux is {lowest:g} m/s. The outlet at this height cannot drive so much water back "
            f"into the field. Raise the outlet or lower the flux."
        )
    # With Kb d = 0 and C = 0 both are zero, and so is the height.
    bottom = b + np.sqrt(b**2 + 4.0 * a * c)
    return np.divide(2.0 * c, np.where(bottom > 0.0, bottom, 1.0))[()]


def drain_flux_kirkham_ponded(
    ponding: Number,
    *,
    outlet_height: Number = 0.0,
    drain_depth: Number,
    barrier_depth: Number,
    spacing: Number,
    radius: Number,
    conductivity: Number,
) -> Number:
    """Flux to parallel drains while water stands on the field.

    Parameters
    ----------
    ponding : float or array
        Water on the ground. [m]
    outlet_height : float or array
        Water held in the drains by a raised outlet, above the drain. [m]
    drain_depth : float or array
        From the ground to the centre of the drain. [m]
    barrier_depth : float or array
        From the ground to the barrier. [m]
    spacing : float or array
        Distance between drains. [m]
    radius : float or array
        Effective radius of the drain. [m]
    conductivity : float or array
        Saturated conductivity of the soil. [m/s]

    Returns
    -------
    float or array
        Flux per area of field, negative where the outlet stands above the pond. [m/s]

    Raises
    ------
    OutOfDomain
        If ponding or outlet height is negative, another value not above zero, or the drain does
        not lie between the ground and the barrier.

    Notes
    -----
    q = 4 pi K (t + b - max(r, E)) / (g L)    (kirkham1957)
    g = 2 ln(tan(pi (2 b - r) / (4 h)) / tan(pi r / (4 h))) + 2 sum ln(R)    (kirkham1957)

    The m-th term of the sum has R = (C + c)/(C - c) (C - e)/(C + e) with C = cosh(pi m L / (2 h)),
    c = cos(pi r / (2 h)), e = cos(pi (2 b - r) / (2 h)). One soil from the ground to the barrier.

    References
    ----------
    kirkham1957, ponded water over an even soil
    """
    require_not_negative("ponding", ponding, "m", "Use the water table where nothing stands")
    require_not_negative("outlet_height", outlet_height, "m", "Use 0 for a free outlet")
    require_positive("spacing", spacing, "m", "Give the distance between drains")
    require_positive("radius", radius, "m", "Give the effective radius of the drain")
    require_positive("conductivity", conductivity, "m/s", "Give it in m/s")
    require_positive(
        "drain_depth - radius", np.subtract(drain_depth, radius)[()], "m", "Bury the drain"
    )
    require_not_negative(
        "barrier_depth - drain_depth",
        np.subtract(barrier_depth, drain_depth)[()],
        "m",
        "Count both from the ground",
    )
    head = ponding + drain_depth - np.maximum(radius, outlet_height)
    resistance = _kirkham_resistance(drain_depth, barrier_depth, spacing, radius)
    return 4.0 * math.pi * conductivity * head / (resistance * spacing)


def _kirkham_resistance(
    drain_depth: Number, barrier_depth: Number, spacing: Number, radius: Number
) -> Number:
    quarter = math.pi / (4.0 * barrier_depth)
    top = np.tan(quarter * (2.0 * drain_depth - radius))
    resistance = 2.0 * np.log(top / np.tan(quarter * radius))
    near = np.cos(2.0 * quarter * radius)
    far = np.cos(2.0 * quarter * (2.0 * drain_depth - radius))
    step = 2.0 * quarter * spacing
    terms = math.ceil(NEGLIGIBLE / float(np.min(step)))
    for m in range(1, terms + 1):
        # A cosh of several hundred overflows, and its term has long vanished.
        cosh = np.cosh(np.minimum(m * step, 2.0 * NEGLIGIBLE))
        ratio = (cosh + near) / (cosh - near) * (cosh - far) / (cosh + far)
        resistance = resistance + 2.0 * np.log(ratio)
    return resistance


def _require_drains(depth_to_barrier: Number, spacing: Number, radius: Number) -> None:
    require_not_negative("depth_to_barrier", depth_to_barrier, "m", "Count from the drain down")
    require_positive("radius", radius, "m", "Give the effective radius of the drain")
    if not np.all(np.greater(spacing, np.multiply(radius, 4.0))):
        raise refuse(
            "spacing",
            spacing,
            "m",
            "Drains lie farther apart than four radii",
            "Check the units of both",
        )


def _require_heights(water: Number, outlet: Number, depth: Number) -> None:
    require_not_negative("water_height", water, "m", "No water reaches a drain from below it")
    require_not_negative("outlet_height", outlet, "m", "Use 0 for an outlet below the drain")
    require_not_negative("equivalent_depth", depth, "m", "Use 0 for a drain on the barrier")

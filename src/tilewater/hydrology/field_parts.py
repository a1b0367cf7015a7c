# SPDX-License-Identifier: Apache-2.0
"""The parts of a drained field: its soil, its drains, its snow and frost.

Every value has a default with a label, in the table `practice_field_defaults`. `field_parts_range`
reports what lies outside the range of that table; meaningless values are refused at once.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cache, partial

from tilewater.basis.domain import (
    require_finite,
    require_not_negative,
    require_positive,
    require_share,
)
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.findings import Finding
from tilewater.basis.tables import Row, read_table
from tilewater.basis.unit_table import UNITS
from tilewater.basis.units import to_si

PACKAGE = "tilewater.hydrology"
DEFAULTS = "practice_field_defaults"


@cache
def field_default(slug: str) -> float:
    """Value that a field takes where the job says nothing.

    Parameters
    ----------
    slug : str
        Row of the table `practice_field_defaults`. [-]

    Returns
    -------
    float
        Value, in the SI unit of the row's own. [-]

    Raises
    ------
    UnknownName
        If there is no such row.

    Notes
    -----
    value of the row    (practice)

    References
    ----------
    practice, recommended defaults, each with its own label
    """
    row = read_table(PACKAGE, DEFAULTS).row(slug)
    return _in_si(row.number("value"), row.text("unit"))


def _in_si(value: float, unit: str) -> float:
    return to_si(value, unit) if unit in _KNOWN else value


_KNOWN = frozenset(unit.name for unit in UNITS)


def _default(slug: str) -> Callable[[], float]:
    return partial(field_default, slug)


@dataclass(frozen=True)
class FieldSoil:
    """Soil between the surface and the barrier.

    Attributes
    ----------
    conductivity_above, conductivity_below : float
        Saturated conductivity above and below the drains. [m/s]
    drainable_porosity : float
        Water that a fall of the table sets free, over the volume of soil. [-]
    shape_factor : float
        Water above the drains over that of a slab as high as the steady table of the same flux;
        sets how fast the flux falls. [-]
    arch_factor : float
        Mean height of the table above the water in the drains, over that midway. [-]
    barrier_below_drains : float
        From the drains down to the barrier. [m]
    deep_seepage : float
        Flux to the deep ground while the table is level with the drains; it follows the height of
        the table above the barrier. [m/s]
    water_capacity : float
        Water between field capacity and wilting, over the volume of soil. [-]
    upward_flux_at_one_metre : float
        Largest steady flux that reaches roots one metre above the table. [m/s]
    loss_at_one_metre : float
        Water that a suction of one metre takes from full soil, over the volume of soil; with the
        upward flux it delays what passes the roots, and 0 in either is for no delay. [-]
    infiltration : float
        Most that the ground takes in a day, as a mean over it. [m/s]
    surface_storage : float
        Water that hollows hold before any runs off. [m]
    """

    conductivity_above: float = field(default_factory=_default("conductivity"))
    conductivity_below: float = field(default_factory=_default("conductivity"))
    drainable_porosity: float = field(default_factory=_default("drainable-porosity"))
    shape_factor: float = field(default_factory=_default("shape-factor"))
    arch_factor: float = field(default_factory=_default("arch-factor"))
    barrier_below_drains: float = field(default_factory=_default("barrier-below-drains"))
    deep_seepage: float = field(default_factory=_default("deep-seepage"))
    water_capacity: float = field(default_factory=_default("water-capacity"))
    upward_flux_at_one_metre: float = field(default_factory=_default("upward-flux-at-one-metre"))
    loss_at_one_metre: float = field(default_factory=_default("loss-at-one-metre"))
    infiltration: float = field(default_factory=_default("infiltration"))
    surface_storage: float = field(default_factory=_default("surface-storage"))

    def __post_init__(self) -> None:
        _require_all(
            self,
            require_positive,
            ("conductivity_above", "m/s"),
            ("conductivity_below", "m/s"),
            ("drainable_porosity", ""),
            ("shape_factor", ""),
            ("arch_factor", ""),
            ("barrier_below_drains", "m"),
            ("water_capacity", ""),
        )
        _require_all(
            self,
            require_not_negative,
            ("deep_seepage", "m/s"),
            ("upward_flux_at_one_metre", "m/s"),
            ("loss_at_one_metre", ""),
            ("infiltration", "m/s"),
            ("surface_storage", "m"),
        )
        for name in (
            "drainable_porosity",
            "shape_factor",
            "arch_factor",
            "water_capacity",
            "loss_at_one_metre",
        ):
            require_share(name, getattr(self, name), "Give 5 percent as 0.05")


@dataclass(frozen=True)
class FieldDrains:
    """Drains under a field and what they may carry, per area of field.

    Attributes
    ----------
    depth : float
        From the ground to the centre of the drains. [m]
    spacing : float
        Distance between drains. [m]
    radius : float
        Effective radius. [m]
    laterals_capacity : float
        Most that the laterals carry, infinite where unknown. [m/s]
    inlet_capacity : float
        Most that surface inlets let into the main; 0 without inlets. [m/s]
    main_capacity : float
        Most that the main carries. [m/s]
    """

    depth: float = field(default_factory=_default("drain-depth"))
    spacing: float = field(default_factory=_default("drain-spacing"))
    radius: float = field(default_factory=_default("drain-radius"))
    laterals_capacity: float = math.inf
    inlet_capacity: float = 0.0
    main_capacity: float = field(default_factory=_default("drain-coefficient"))

    def __post_init__(self) -> None:
        _require_all(
            self, require_positive, ("depth", "m"), ("radius", "m"), ("laterals_capacity", "m/s")
        )
        _require_all(self, require_not_negative, ("inlet_capacity", "m/s"))
        require_positive("main_capacity", self.main_capacity, "m/s", "Give what the main carries")
        if not self.spacing > 4.0 * self.radius:
            raise OutOfDomain(
                f"spacing is {self.spacing:g} m. Drains lie farther apart than four radii. "
                f"Check the units of both."
            )
        if not self.depth > self.radius:
            raise OutOfDomain(
                f"depth is {self.depth:g} m. The drain lies under the ground. Check its radius."
            )


@dataclass(frozen=True)
class FieldCold:
    """Snow and frost.

    Attributes
    ----------
    snow_undercatch : float
        Snow that fell over what the gauge caught. [-]
    snow_below, rain_above : float
        Mean temperatures between which both fall. [degC]
    melt_base : float
        Mean temperature from which snow melts. [degC]
    melt_mm_per_degc_day : float
        Snow water that a degree-day melts. [mm/degC/day]
    frost_kept : float
        Share of the frost index that a day keeps. [-]
    frost_cover_per_cm : float
        How a centimetre of snow shields the ground. [1/cm]
    frost_limit : float
        Frost index from which the ground takes little water. [degC-day]
    snow_density : float
        Of lying snow over that of water. [-]
    frozen_share : float
        Share of the water that frozen ground takes. [-]
    """

    snow_undercatch: float = field(default_factory=_default("snow-undercatch"))
    snow_below: float = field(default_factory=_default("snow-below"))
    rain_above: float = field(default_factory=_default("rain-above"))
    melt_base: float = field(default_factory=_default("melt-base"))
    melt_mm_per_degc_day: float = field(default_factory=_default("melt-factor"))
    frost_kept: float = field(default_factory=_default("frost-kept"))
    frost_cover_per_cm: float = field(default_factory=_default("frost-cover"))
    frost_limit: float = field(default_factory=_default("frost-limit"))
    snow_density: float = field(default_factory=_default("snow-density"))
    frozen_share: float = field(default_factory=_default("frozen-share"))

    def __post_init__(self) -> None:
        _require_all(
            self,
            require_not_negative,
            ("melt_mm_per_degc_day", "mm/degC/day"),
            ("frost_cover_per_cm", "1/cm"),
            ("frost_limit", "degC-day"),
        )
        _require_all(self, require_positive, ("snow_undercatch", ""), ("snow_density", ""))
        require_finite("melt_base", self.melt_base, "degC", "Give about 0")
        require_share("frost_kept", self.frost_kept, "Give about 0.97")
        require_share("frozen_share", self.frozen_share, "Give 15 percent as 0.15")
        if not self.rain_above > self.snow_below:
            raise OutOfDomain(
                f"rain_above is {self.rain_above:g} degC and snow_below {self.snow_below:g}. Rain "
                f"needs the higher temperature. Give 2 and 0 for the usual split."
            )


@dataclass(frozen=True)
class SideSeepage:
    """Flow through the ground to a ditch beside the field.

    Attributes
    ----------
    ditch_height : float
        Water in the ditch above the barrier. [m]
    distance : float
        From the ditch to where the water table is that of the field. [m]
    field_width : float
        From that ditch across the field. [m]
    """

    ditch_height: float
    distance: float
    field_width: float

    def __post_init__(self) -> None:
        _require_all(self, require_not_negative, ("ditch_height", "m"))
        _require_all(self, require_positive, ("distance", "m"), ("field_width", "m"))


SLUGS = {
    FieldSoil: {
        "conductivity_above": "conductivity",
        "conductivity_below": "conductivity",
        "drainable_porosity": "drainable-porosity",
        "shape_factor": "shape-factor",
        "arch_factor": "arch-factor",
        "barrier_below_drains": "barrier-below-drains",
        "deep_seepage": "deep-seepage",
        "water_capacity": "water-capacity",
        "upward_flux_at_one_metre": "upward-flux-at-one-metre",
        "loss_at_one_metre": "loss-at-one-metre",
        "infiltration": "infiltration",
        "surface_storage": "surface-storage",
    },
    FieldDrains: {
        "depth": "drain-depth",
        "spacing": "drain-spacing",
        "radius": "drain-radius",
        "main_capacity": "drain-coefficient",
    },
    FieldCold: {
        "snow_undercatch": "snow-undercatch",
        "snow_below": "snow-below",
        "rain_above": "rain-above",
        "melt_base": "melt-base",
        "melt_mm_per_degc_day": "melt-factor",
        "frost_kept": "frost-kept",
        "frost_cover_per_cm": "frost-cover",
        "frost_limit": "frost-limit",
        "snow_density": "snow-density",
        "frozen_share": "frozen-share",
    },
}
"""Which row of the defaults holds the range of which value."""


def field_parts_range(soil: FieldSoil, drains: FieldDrains, cold: FieldCold) -> tuple[Finding, ...]:
    """Findings where a value of a field lies outside its usual range.

    Parameters
    ----------
    soil : FieldSoil
        The soil. [-]
    drains : FieldDrains
        The drains. [-]
    cold : FieldCold
        Snow and frost. [-]

    Returns
    -------
    tuple of Finding
        Empty when all is within. [-]
    """
    return tuple(
        finding
        for part in (soil, drains, cold)
        for name, slug in SLUGS[type(part)].items()
        for finding in _outside(name, getattr(part, name), slug)
    )


@cache
def _range(slug: str) -> tuple[float, float]:
    """Usual range of a row, in SI, with a little grace for the conversion."""
    row = read_table(PACKAGE, DEFAULTS).row(slug)
    low, high = (_in_si(row.number(end), row.text("unit")) for end in ("low", "high"))
    grace = 1e-9 * abs(high)
    return low - grace, high + grace


def _outside(name: str, value: float, slug: str) -> tuple[Finding, ...]:
    low, high = _range(slug)
    if low <= value <= high:
        return ()
    row: Row = read_table(PACKAGE, DEFAULTS).row(slug)
    unit = row.text("unit")
    ends = f"{row.number('low'):g} to {row.number('high'):g} {unit}".strip().removesuffix(" -")
    said = value / _in_si(1.0, unit) if unit != "degC" else value
    words = name.replace("_", " ")
    message = (
        f"{words[:1].upper()}{words[1:]} is {said:.3g} {unit}, outside the usual {ends} "
        f"({row.text('basis')}). Check it, or keep it if it was measured."
    ).replace(" -,", ",")
    operator, limit = (">=", low) if value < low else ("<=", high)
    return (
        Finding(
            f"field-{slug}-unusual",
            "caution",
            words,
            message,
            value,
            operator,
            limit,
            "",
            "practice",
        ),
    )


def _require_all(
    part: object,
    require: Callable[[str, float, str, str], None],
    *names: tuple[str, str],
) -> None:
    for name, unit in names:
        advice = f"Give it in {unit}" if unit else "Give it as a ratio"
        require(name, getattr(part, name), unit, advice)

# SPDX-License-Identifier: Apache-2.0
"""What is agreed about drain pipe: roughness by material and size, velocities by soil, areas.

Roughness and limits are tables with their sources, most of them remembered; each record says so.
It does not choose a pipe and knows no maker's product.
"""

from dataclasses import dataclass
from typing import TypeVar

from tilewater.basis.domain import Number, require_not_negative, require_positive
from tilewater.basis.errors import UnknownName
from tilewater.basis.findings import Finding
from tilewater.basis.tables import Row, Table, read_table
from tilewater.basis.units import did_you_mean, to_si
from tilewater.hydraulics.limits import outside

N = TypeVar("N", float, Number)

PACKAGE = "tilewater.hydraulics"
ROUGHNESS_TABLES = ("roughness_chow", "roughness_drain_tubing", "roughness_austin")
VELOCITY_LIMITS = "velocity_limits_nrcs606"
LEAST_VELOCITY_FT_S = 0.5
LEAST_VELOCITY_WITH_FINES_FT_S = 1.4
SAME_SIZE = 1.0 + 1e-9  # 8 in typed in millimetres is still 8 in


@dataclass(frozen=True)
class PipeRoughness:
    """Manning roughness of a pipe material in a class of sizes.

    Attributes
    ----------
    material : str
        Name in the table.
    label : str
        The same in words.
    n : float
        Manning roughness to design with. [-]
    low, high : float or None
        Range that the source gives, if any. [-]
    source : str
        Key of `basis/sources.toml`.
    place : str
        Table in that source.
    read : str
        How the number came here.
    """

    material: str
    label: str
    n: float
    low: float | None
    high: float | None
    source: str
    place: str
    read: str


def pipe_materials() -> tuple[str, ...]:
    """Names of the pipe materials whose roughness is known, sorted."""
    return tuple(sorted({row.text("material") for _, row in _roughness_rows()}))


def pipe_roughness_entry(material: str, diameter: float) -> PipeRoughness:
    """Roughness of a pipe with its range and source.

    Parameters
    ----------
    material : str
        One of `pipe_materials()`.
    diameter : float
        Nominal inside diameter. [m]

    Returns
    -------
    PipeRoughness
        Roughness of the smallest class of sizes that holds the diameter.

    Raises
    ------
    UnknownName
        If no table has the material.
    OutOfDomain
        If the diameter is not above zero.

    References
    ----------
    chow1959, table 5-6
    efh14, roughness of drains, from memory
    austindcm, table 5-2, from memory
    """
    require_positive("diameter", diameter, "m", "Check the inside diameter")
    of_material = [
        (table, row) for table, row in _roughness_rows() if row.text("material") == material
    ]
    for table, row in of_material:
        if diameter <= _largest_of_class(row) * SAME_SIZE:
            return PipeRoughness(
                material,
                row.text("label"),
                row.number("n"),
                row.number("low") if row.is_given("low") else None,
                row.number("high") if row.is_given("high") else None,
                table.source,
                table.place,
                table.read,
            )
    known = pipe_materials()
    raise UnknownName(
        f"No pipe material called '{material}'. Known: {', '.join(known)}."
        f"{did_you_mean(material, known)}"
    )


def pipe_roughness_manning(material: str, diameter: float) -> float:
    """Manning roughness of a pipe material.

    Parameters
    ----------
    material : str
        One of `pipe_materials()`.
    diameter : float
        Nominal inside diameter. [m]

    Returns
    -------
    float
        Manning roughness. [-]

    Raises
    ------
    UnknownName
        If no table has the material.
    OutOfDomain
        If the diameter is not above zero.

    Notes
    -----
    Corrugated plastic grows rougher with size: 0.015 to 8 in, 0.017 to 12 in, 0.020 above, from
    memory. Clay tile 0.013, read. See `pipe_roughness_entry` for range and source of each.

    References
    ----------
    chow1959, table 5-6
    efh14, roughness of drains, from memory
    austindcm, table 5-2, from memory
    """
    return pipe_roughness_entry(material, diameter).n


def pipe_velocity_soils() -> tuple[str, ...]:
    """Names of the soils for which a greatest velocity is known."""
    return read_table(PACKAGE, VELOCITY_LIMITS).texts("slug")


def pipe_velocity_limit(soil: str) -> float:
    """Greatest velocity in a drain without protection.

    Parameters
    ----------
    soil : str
        One of `pipe_velocity_soils()`.

    Returns
    -------
    float
        Velocity. [m/s]

    Raises
    ------
    UnknownName
        If the table has no such soil.

    Notes
    -----
    3.5 ft/s in sand to 9.0 ft/s in coarse gravel; above, solid or sealed pipe, wrap or relief
    wells. From memory: the edition of the state governs.

    References
    ----------
    nrcs606, maximum velocity, from memory
    """
    row = read_table(PACKAGE, VELOCITY_LIMITS).row(soil)
    return to_si(row.number("velocity_ft_s"), "ft/s")


def pipe_velocity_least(*, fines: bool) -> float:
    """Least velocity in a full drain that keeps it clean.

    Parameters
    ----------
    fines : bool
        Whether fine sand or silt can enter the drain.

    Returns
    -------
    float
        Velocity. [m/s]

    Notes
    -----
    0.5 ft/s without fines, 1.4 ft/s with fine sand or silt; below, a filter, an envelope or a
    silt trap    (panuska-drainage)

    References
    ----------
    panuska-drainage, slide on velocities
    nrcs606, minimum velocity, from memory
    """
    return to_si(LEAST_VELOCITY_WITH_FINES_FT_S if fines else LEAST_VELOCITY_FT_S, "ft/s")


def pipe_velocity_range(
    velocity: Number, *, fines: bool, soil: str | None = None
) -> tuple[Finding, ...]:
    """Findings where a drain runs too slowly to stay clean or too fast for its soil.

    Parameters
    ----------
    velocity : float or array
        Mean velocity in the full pipe. [m/s]
    fines : bool
        Whether fine sand or silt can enter the drain.
    soil : str, optional
        One of `pipe_velocity_soils()`; without it there is no upper limit.

    Returns
    -------
    tuple of Finding

    Raises
    ------
    UnknownName
        If the table has no such soil.

    References
    ----------
    panuska-drainage, slide on velocities
    nrcs606, maximum velocity, from memory
    """
    low = outside(
        "velocity in the full pipe",
        velocity,
        "m/s",
        code="pipe-velocity",
        source="panuska-drainage",
        low=pipe_velocity_least(fines=fines),
        advice="Take more grade or a smaller pipe, or plan a filter or a silt trap",
    )
    if soil is None:
        return low
    high = outside(
        "velocity in the full pipe",
        velocity,
        "m/s",
        code="pipe-velocity",
        source="nrcs606",
        high=pipe_velocity_limit(soil),
        advice="Take solid or sealed pipe, or check the limit, which is remembered",
    )
    return (*low, *high)


def drainage_flow(area: N, *, drainage_coefficient: N) -> N:
    """Flow of an area at a drainage coefficient.

    Parameters
    ----------
    area : float or array
        Drained area. [m2]
    drainage_coefficient : float or array
        Depth of water removed per time. [m/s]

    Returns
    -------
    float or array
        Flow. [m3/s]

    Raises
    ------
    OutOfDomain
        If area or coefficient is negative.

    Notes
    -----
    Q = A DC    (efh14)

    References
    ----------
    efh14, design flow of mains, from memory
    """
    require_not_negative("area", area, "m2", "Check the drained area")
    require_not_negative("drainage coefficient", drainage_coefficient, "m/s", "Check its unit")
    return area * drainage_coefficient


def drained_area(flow: N, *, drainage_coefficient: N) -> N:
    """Area whose drainage coefficient a flow amounts to.

    Parameters
    ----------
    flow : float or array
        Flow, as the capacity of a main. [m3/s]
    drainage_coefficient : float or array
        Depth of water removed per time. [m/s]

    Returns
    -------
    float or array
        Area. [m2]

    Raises
    ------
    OutOfDomain
        If the flow is negative or the coefficient not above zero.

    Notes
    -----
    A = Q / DC    (efh14)

    References
    ----------
    efh14, design flow of mains, from memory
    """
    require_not_negative("flow", flow, "m3/s", "Check its direction")
    require_positive("drainage coefficient", drainage_coefficient, "m/s", "Check its unit")
    return flow / drainage_coefficient


def _roughness_rows() -> list[tuple[Table, Row]]:
    """All rows of roughness; classes of one material follow each other from small to large."""
    tables = [read_table(PACKAGE, name) for name in ROUGHNESS_TABLES]
    return [(table, row) for table in tables for row in table.rows]


def _largest_of_class(row: Row) -> float:
    if not row.is_given("diameter_to_in"):
        return float("inf")
    return to_si(row.number("diameter_to_in"), "in")

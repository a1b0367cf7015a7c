# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: the cross section half way along the bed, its widths, levels and the main."""

from tilewater.basis.findings import Finding
from tilewater.basis.told import feet
from tilewater.basis.trace import Trace
from tilewater.chain.plan_parts import CORNERS
from tilewater.hydraulics.media import bed_surface_depth
from tilewater.practices.bed.capacity import BedShape, Media
from tilewater.practices.rules import difference

HERE = "cross"
LINES = ("criterion", "spring", "new")
FOOT = 0.3048
COVER_CLOSE = 0.1 * FOOT
"""Soil is laid no more exactly than this. [m]"""


def add_cross(trace: Trace) -> None:
    """Record widths at the levels of the section, water half way, and the main beside the bed."""
    cells = trace.names("inputs.cell")
    for name, bed in [(f"cell-{c}", f"bed.cells.{c}") for c in cells] or [("bed", "bed")]:
        for part, margin, words in (
            ("chips_top", "plan.chips_margin_m", "Width of the media at its top"),
            ("cut_top", "quantities.cut_margin_m", "Width of the cut at the ground"),
        ):
            trace.compute(
                f"{HERE}.{name}.{part}_width_m",
                width_between_slopes,
                unit="m",
                title=f"{words}, {name.replace('-', ' ')}",
                width=f"{bed}.width_bottom_m",
                margin=margin,
            )
    trace.compute(
        f"{HERE}.cover_m",
        difference,
        unit="m",
        title="Ground over the top of the media",
        upper="inputs.site.ground_at_bed_m",
        lower="bed.media_top_m",
    )
    tell_of_cover(trace)
    first = f"bed.cells.{cells[0]}.shape" if cells else "bed.shape"
    for line in LINES:
        _add_water(trace, line, first)
    _add_main(trace, f"cell-{cells[0]}" if cells else "bed")


def tell_of_cover(trace: Trace) -> None:
    """Tell where the stated cover does not reach from the media to the ground."""
    drawn, stated = f"{HERE}.cover_m", "inputs.bed.cover_depth_m"
    if not trace.known(drawn, stated):
        return
    over, typed = float(trace.value(drawn)), float(trace.value(stated))
    if abs(over - typed) <= COVER_CLOSE:
        return
    trace.findings.append(
        Finding(
            "cover-in-section",
            "caution",
            "bed",
            f"The ground lies {feet(over)} over the media, and the cover is stated as "
            f"{feet(typed)}. Correct one of them.",
            value=over,
            limit=typed,
            unit="m",
            source="derived",
        )
    )


def _add_water(trace: Trace, line: str, shape: str) -> None:
    here = f"capacity.{line}"
    ends = {
        "upstream": f"{here}.levels_m.inlet_end",
        "downstream": f"{here}.levels_m.outlet_end",
    }
    if not all(key in trace for key in (*ends.values(), f"{here}.media", shape)):
        return
    trace.compute(
        f"{HERE}.water.{line}_m",
        level_half_way,
        unit="m",
        title=f"Water half way along the bed, {line} line",
        floor="bed.floor_mean_m",
        shape=shape,
        chips=f"{here}.media",
        **ends,
    )


def _add_main(trace: Trace, bed: str) -> None:
    floor = f"plan.points.{bed}-floor"
    ends = {"low": f"{floor}-{CORNERS[0]}.station_m", "high": f"{floor}-{CORNERS[3]}.station_m"}
    if not all(key in trace for key in ends.values()):
        return
    trace.compute(
        f"{HERE}.station_m", half_way, unit="m", title="Station of the cross section", **ends
    )
    main = "inputs.main"
    trace.compute(
        f"{HERE}.main_invert_m",
        level_between,
        unit="m",
        title="Invert of the main at the cross section",
        station=f"{HERE}.station_m",
        station_low=f"{main}.station_outlet_m",
        station_high=f"{main}.station_diversion_m",
        level_low=f"{main}.invert_outlet_m",
        level_high=f"{main}.invert_diversion_m",
    )


def width_between_slopes(width: float, margin: float) -> float:
    """Width at a level between two side slopes.

    Parameters
    ----------
    width : float
        At the floor. [m]
    margin : float
        Spread of the slope up to that level, on each side. [m]

    Returns
    -------
    float
        Width at the level. [m]

    Notes
    -----
    w = b + 2 m    (derived)

    References
    ----------
    derived, a sum
    """
    return width + 2 * margin


def half_way(low: float, high: float) -> float:
    """The middle between two stations.

    Parameters
    ----------
    low, high : float
        The stations. [m]

    Returns
    -------
    float
        Half way. [m]

    Notes
    -----
    s = (s1 + s2) / 2    (derived)

    References
    ----------
    derived, a mean
    """
    return (low + high) / 2


def level_between(
    station: float,
    station_low: float,
    station_high: float,
    level_low: float,
    level_high: float,
) -> float:
    """Level on a straight grade between two stations.

    Parameters
    ----------
    station : float
        Where it is asked for. [m]
    station_low, station_high : float
        The two known stations. [m]
    level_low, level_high : float
        Their levels. [m]

    Returns
    -------
    float
        Level. [m]

    Notes
    -----
    z = z1 + (z2 - z1)(s - s1)/(s2 - s1)    (derived)

    References
    ----------
    derived, straight grade
    """
    share = (station - station_low) / (station_high - station_low)
    return level_low + share * (level_high - level_low)


def level_half_way(
    upstream: float, downstream: float, floor: float, shape: BedShape, chips: Media
) -> float:
    """Water level half way along the media, on the curved surface.

    Parameters
    ----------
    upstream, downstream : float
        Levels at the two ends of the media. [m]
    floor : float
        Mean floor. [m]
    shape : BedShape
        Of the media. [-]
    chips : Media
        Of the line. [-]

    Returns
    -------
    float
        Level. [m]

    Raises
    ------
    OutOfDomain
        If no flow has such a surface.

    Notes
    -----
    z = z_floor + h(L/2) on the surface of the Forchheimer flow    (ward1964)

    References
    ----------
    ward1964, equation of the flow
    """
    depth = bed_surface_depth(
        shape.length / 2,
        upstream - floor,
        downstream - floor,
        length=shape.length,
        width=shape.width,
        side_slope=float(shape.side_slope),
        conductivity=chips.conductivity,
        inertia=chips.inertia,
        media_depth=shape.media_depth,
    )
    return floor + float(depth)

# SPDX-License-Identifier: Apache-2.0
"""The invented site of Corbel Farm, Fennick County: every distance and elevation, once.

Frame: `x` is the station along the main in feet, 0 at its end in the ditch and growing upstream;
`y` is the offset in feet, positive to the right of a person looking upstream; elevations are feet
above the vertical datum. Stated here is what was measured or decided; whatever follows from it is
computed. The drawing and the point file of the example are made from this module; the job file
and the page repeat its values in words, and one test holds all of them together.
"""

import math

from tools.sites.geometry import Mark, Pipe, Rectangle, Spot, between, box_around, station

__all__ = ["Mark", "Pipe", "Rectangle", "Spot", "station"]

# Ditch: bed, banks and water.
DITCH_BOTTOM = 1178.90
DITCH_BOTTOM_WIDTH = 5.0
DITCH_SIDE_SLOPE = 1.5
WATER_ORDINARY = 1179.60
WATER_TWO_YEAR = 1182.10
BANK_TOP = 1185.75
BANK_TOP_X = 8.0
RIGHT_OF_WAY = 25.0

# Main, 10-in concrete; the last piece in the bank is an old 12-in metal stub.
MAIN_INVERT_OUTLET = 1180.95
MAIN_INVERT_DIVERSION = 1181.20
MAIN_SLOPE_STATED = 0.0018
MAIN_DIAMETER_IN = 10.0
STUB_DIAMETER_IN = 12.0
STUB_LENGTH = 16.0
MAIN_WALL_IN = 1.25
MAIN_UPPER_END = 2070.0
PROPERTY_LINE = 2150.0
SOLID_PIPE_LEAST = 20.0

# Tiled block: 31 laterals, each across the whole block, on both sides of the main.
BLOCK = (240.0, 2100.0)
BLOCK_WIDTH = 1452.0
LATERAL_SPACING = 60.0
LATERAL_DEPTH = 4.0
FIRST_LATERAL = 270.0

# Structures: a box is 2.0 ft along the main and 1.3 ft across.
BOX_LENGTH = 2.0
BOX_WIDTH = 1.3
DIVERSION = (140.0, 0.0)
OUTLET = (22.5, 36.0)
SILL_INLET = 1181.20
SILL_OUTLET = 1180.70
RIM = 1187.00
STACK_INLET_IN = 36.0
STACK_OUTLET_IN = 24.0

# Bed: beside the main, long side along it.
BED_LENGTH_BOTTOM = 96.5
BED_WIDTH_BOTTOM = 30.0
BED_SIDE_SLOPE = 1.0
MEDIA_DEPTH = 3.5
BED_FLOOR = 1180.70
BED_GROUND = 1186.00
BED_X = 44.3
BED_Y = 21.0
HEADER_FROM_TOE = 0.5
HEADER_LENGTH = 29.0

# Pipes of the bed.
FEED_DIAMETER_IN = 8.0
FEED_INVERT_BED = 1181.00
HEADER_DIAMETER_IN = 6.0
RETURN_LENGTH = 22.0
RETURN_SLOPE = 0.004
RETURN_INVERT_END = 1180.61
BYPASS = (0.0, 162.0)
RIGID_OUTLET_LENGTH = 20.0

# Grass between the right of way and the field. A first idea of the site had 62 x 190 ft; the bed
# beside the main with 20 ft of solid feed pipe needs 82 ft across.
STRIP_LENGTH = 190.0
STRIP_Y = (-10.0, 72.0)
ACCESS = 15.0
CLEAR_OF_MAIN = 10.0

GROUND_PROFILE = (
    (BANK_TOP_X, BANK_TOP),
    (39.0, BED_GROUND),
    (165.0, BED_GROUND),
    (228.0, 1187.35),
    (290.0, 1187.00),
    (385.0, 1187.75),
    (480.0, 1187.40),
    (600.0, 1188.10),
    (930.0, 1188.80),
    (1530.0, 1190.30),
    (2070.0, 1191.60),
    (2200.0, 1191.90),
)


SPOTS = (
    Spot("low-1", "low spot", 290.0, 1187.00),
    Spot("low-2", "low spot", 480.0, 1187.40),
    Spot("junction-9", "junction", 930.0, 1188.80),
    Spot("junction-15", "junction", 1530.0, 1190.30),
)


BENCHMARKS = (
    Mark("BM 1", 218.0, 14.0, 1187.62, "rod and cap at the fence corner"),
    Mark("BM 2", 11.0, 64.0, 1186.41, "spike in the corner post"),
)
BORINGS = (
    Mark("B-1", 62.0, 36.0, 1186.02, "lower third of the bed"),
    Mark("B-2", 123.0, 42.0, 1186.04, "upper third of the bed"),
)

# Grid of the county, invented. Feet are international feet.
FOOT = "international foot"
GRID_NORTH = 3_813_100.00
GRID_EAST = 4_843_520.00
AZIMUTH = math.radians(68.50)


def bank_x(elevation: float) -> float:
    """Station at which the near bank of the ditch has an elevation."""
    return BANK_TOP_X - DITCH_SIDE_SLOPE * (BANK_TOP - elevation)


def right_of_way_x() -> float:
    """Station of the line to which the district's right reaches."""
    return BANK_TOP_X + RIGHT_OF_WAY


def main_invert(x: float) -> float:
    """Invert of the main at a station, by the slope between its two exposed inverts."""
    measured = (MAIN_INVERT_DIVERSION - MAIN_INVERT_OUTLET) / DIVERSION[0]
    slope = measured if x <= DIVERSION[0] else MAIN_SLOPE_STATED
    return MAIN_INVERT_DIVERSION + slope * (x - DIVERSION[0])


def ground(x: float) -> float:
    """Ground along the main, the ditch included."""
    toe = bank_x(DITCH_BOTTOM)
    far_toe = toe - DITCH_BOTTOM_WIDTH
    if x < far_toe:
        return min(BANK_TOP, DITCH_BOTTOM + (far_toe - x) / DITCH_SIDE_SLOPE)
    if x < BANK_TOP_X:
        return max(DITCH_BOTTOM, BANK_TOP - (BANK_TOP_X - x) / DITCH_SIDE_SLOPE)
    return between(GROUND_PROFILE, x)


def bed_at(height: float, name: str = "bed") -> Rectangle:
    """Outline of the bed's cut at a height above its floor."""
    out = BED_SIDE_SLOPE * height
    floor = Rectangle(name, BED_X, BED_Y, BED_X + BED_LENGTH_BOTTOM, BED_Y + BED_WIDTH_BOTTOM)
    return floor.grown(out)


def cut_depth() -> float:
    """Depth of the bed's cut."""
    return BED_GROUND - BED_FLOOR


def top_of_cut() -> Rectangle:
    """Outline of the bed's cut at the ground."""
    return bed_at(cut_depth(), "bed, top of cut")


def box(name: str, centre: tuple[float, float]) -> Rectangle:
    """Outline of a structure."""
    return box_around(name, centre, BOX_LENGTH, BOX_WIDTH)


def strip() -> Rectangle:
    """Grass between the right of way and the field."""
    return Rectangle(
        "grass", right_of_way_x(), STRIP_Y[0], right_of_way_x() + STRIP_LENGTH, STRIP_Y[1]
    )


def usable_ground() -> Rectangle:
    """Ground that the top of the cut may take: clear of the main, with access on two sides."""
    grass = strip()
    return Rectangle("usable ground", grass.x0, CLEAR_OF_MAIN, grass.x1 - ACCESS, grass.y1 - ACCESS)


def pipes() -> tuple[Pipe, ...]:
    """Every pipe that is laid, in the order of the water."""
    inlet, outlet = box("", DIVERSION), box("", OUTLET)
    bed = bed_at(0.0)
    x_feed, x_out = bed.x1 - HEADER_FROM_TOE, bed.x0 + HEADER_FROM_TOE
    y_header = (bed.y0 + bed.y1 - HEADER_LENGTH) / 2
    y_out = OUTLET[1]
    end = outlet.x0 - RETURN_LENGTH
    return (
        Pipe("above the diversion", (BYPASS[1], 0.0), (inlet.x1, 0.0), main_invert(BYPASS[1]),
             MAIN_INVERT_DIVERSION, MAIN_DIAMETER_IN),
        Pipe("bypass", (inlet.x0, 0.0), (BYPASS[0], 0.0), MAIN_INVERT_DIVERSION,
             MAIN_INVERT_OUTLET, MAIN_DIAMETER_IN),
        Pipe("feed", (x_feed, inlet.y1), (x_feed, bed.y0), SILL_INLET, FEED_INVERT_BED,
             FEED_DIAMETER_IN),
        Pipe("inlet header", (x_feed, y_header), (x_feed, y_header + HEADER_LENGTH),
             FEED_INVERT_BED, FEED_INVERT_BED, HEADER_DIAMETER_IN, "perforated"),
        Pipe("outlet header", (x_out, y_header), (x_out, y_header + HEADER_LENGTH), BED_FLOOR,
             BED_FLOOR, HEADER_DIAMETER_IN, "perforated"),
        Pipe("bed to outlet", (bed.x0, y_out), (outlet.x1, y_out), BED_FLOOR, SILL_OUTLET,
             FEED_DIAMETER_IN),
        Pipe("return", (outlet.x0, y_out), (end, y_out), SILL_OUTLET, RETURN_INVERT_END,
             FEED_DIAMETER_IN),
    )  # fmt: skip


def pipe(name: str) -> Pipe:
    """One of the pipes that are laid."""
    return next(each for each in pipes() if each.name == name)


def in_right_of_way() -> tuple[str, ...]:
    """What lies in the right of way and needs the district's consent, with how much of it."""
    line = right_of_way_x()
    inside = []
    for each in pipes():
        low, high = sorted((each.start[0], each.end[0]))
        if low < line:
            share = min(high, line) - low
            inside.append(f"{each.name} pipe, {share:.1f} of {each.length:.1f} ft")
    for name, centre in (("diversion structure", DIVERSION), ("outlet structure", OUTLET)):
        if box(name, centre).x0 < line:
            inside.append(name)
    return tuple(inside)


def crest(structure: str) -> float:
    """Top of the boards of the design stack: `inlet` or `outlet`."""
    if structure == "inlet":
        return SILL_INLET + STACK_INLET_IN / 12
    return SILL_OUTLET + STACK_OUTLET_IN / 12


def pool_reach() -> float:
    """Distance above the diversion to which level water at the inlet crest stands in the main."""
    return (crest("inlet") - SILL_INLET) / MAIN_SLOPE_STATED


def lateral_stations() -> tuple[float, ...]:
    """Stations at which laterals join the main."""
    count = round((BLOCK[1] - BLOCK[0]) / LATERAL_SPACING)
    return tuple(FIRST_LATERAL + LATERAL_SPACING * i for i in range(count))


def grid(x: float, y: float) -> tuple[float, float]:
    """North and east of a point, in feet of the grid."""
    return (
        GRID_NORTH + x * math.cos(AZIMUTH) - y * math.sin(AZIMUTH),
        GRID_EAST + x * math.sin(AZIMUTH) + y * math.cos(AZIMUTH),
    )

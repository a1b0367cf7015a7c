# SPDX-License-Identifier: Apache-2.0
"""The rover's point file of Corbel Farm: the site as a crew would have shot it.

Scatter is that of a rover on a good day, drawn from a fixed seed. What goes wrong in the field is
put in on purpose: two shots without a fixed position under the willow at the ditch, and one
point number used twice after the pole was set up anew.
"""

from collections.abc import Iterator

from tools.sites.corbel_farm import site
from tools.sites.rover import Target, readings

HEADER = "height_ft,east_ft,pt,north_ft,position,note"
SEED = 1962
ANEW = "benchmark 1 end of day"

Shot = tuple[float, float, float, str]


def point_file() -> str:
    """Return the text of the point file."""
    lines = [HEADER]
    for r in readings(map(_target, shots()), site.grid, SEED):
        word = "float" if r.floated else "fixed"
        lines.append(f"{r.height:.3f},{r.east:.3f},{r.point},{r.north:.3f},{word},{r.note}")
    return "\n".join(lines) + "\n"


def _target(shot: Shot) -> Target:
    x, y, height, note = shot
    # the pole was set up anew for the second benchmark check and began at an old number
    number = 131 if note == ANEW else None
    return Target(x, y, height, note, floated=note.endswith("under willow"), number=number)


def shots() -> Iterator[Shot]:
    """Yield every shot in the order of the day: station, offset, true height, note."""
    first, second = site.BENCHMARKS
    yield first.x, first.y, first.elevation, "benchmark 1 start of day"
    yield second.x, second.y, second.elevation, "benchmark 2"
    yield from _ditch()
    yield 0.0, 0.0, site.MAIN_INVERT_OUTLET, "invert in 12 in metal stub"
    x, y = site.DIVERSION
    yield x, y, site.MAIN_INVERT_DIVERSION, "invert of 10 in concrete main in pit"
    top = site.main_invert(x) + (site.MAIN_DIAMETER_IN + site.MAIN_WALL_IN) / 12
    yield x, y, top, "top of pipe in pit"
    for x in (35.0, 60.0, 85.0, 110.0, 135.0, 160.0):
        for y in (-5.0, 16.0, 36.0, 56.0, 70.0):
            yield x, y, site.ground(x), "ground"
    for mark in site.BORINGS:
        yield mark.x, mark.y, mark.elevation, f"bore hole {mark.name}"
    for x in (190.0, 228.0, 260.0, 330.0, 385.0, 430.0, 540.0, 600.0, 750.0, 1200.0, 1800.0):
        yield x, 0.0, site.ground(x), "ground over main"
    for spot in site.SPOTS:
        yield spot.x, 0.0, spot.ground, f"ground {spot.kind} {site.station(spot.x)}"
    yield site.PROPERTY_LINE, 0.0, site.ground(site.PROPERTY_LINE), "property line iron pin"
    yield first.x, first.y, first.elevation, ANEW


def _ditch() -> Iterator[Shot]:
    toe = site.bank_x(site.DITCH_BOTTOM)
    middle = toe - site.DITCH_BOTTOM_WIDTH / 2
    for y in (-20.0, 18.0, 52.0):
        yield site.BANK_TOP_X, y, site.BANK_TOP, "bank top"
        yield toe, y, site.DITCH_BOTTOM, "toe of bank"
        yield middle, y, site.DITCH_BOTTOM, "ditch bottom"
    for y in (18.0, 52.0):
        yield middle - 3.0, y, site.WATER_ORDINARY, "water edge under willow"
    yield site.bank_x(site.WATER_ORDINARY), 0.0, site.WATER_ORDINARY, "water edge"

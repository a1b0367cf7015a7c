# SPDX-License-Identifier: Apache-2.0
"""The invented terrain of the built farm: heights in metres on a grid in feet, as such files come.

python -m tools.sites.corbel_terrain
"""

import math

import numpy as np

from tools.package import ROOT

FOOT = 0.3048
NORTH, EAST = 3_813_100.0, 4_843_520.0
"""End of the main in the ditch, as `job.toml` gives it. [ft]"""
AZIMUTH = math.radians(68.5)
CELL, COLUMNS, ROWS = 10.0, 76, 66
MISSING = -9999.0
STATIONS = (-60, -26, -11, -7.5, -0.5, 10, 40, 140, 290, 480, 930)
GROUND = (1185.6, 1185.6, 1178.9, 1178.9, 1178.9, 1185.75, 1186.0, 1186.0, 1187.0, 1187.4, 1188.8)
"""Ground along the main: far bank, ditch, near bank, strip, low spots, field. [ft]"""


def terrain_text() -> str:
    """The grid as a file holds it."""
    east = EAST - 120.0 + CELL * np.arange(COLUMNS)
    north = NORTH - 260.0 + CELL * np.arange(ROWS)
    across, up = np.meshgrid(east - EAST, north - NORTH)
    station = up * math.cos(AZIMUTH) + across * math.sin(AZIMUTH)
    offset = across * math.cos(AZIMUTH) - up * math.sin(AZIMUTH)
    ground = np.interp(station, STATIONS, GROUND)
    ground += 0.25 * np.sin(offset / 90.0) * np.clip((station - 100.0) / 300.0, 0.0, 1.0)
    ground += (
        0.12
        * np.cos(station / 60.0 + offset / 140.0)
        * np.clip((station - 160.0) / 200.0, 0.0, 1.0)
    )
    heights = np.round(ground * FOOT, 2)
    heights[:3, -6:] = MISSING  # a corner that nobody flew over
    head = (
        f"ncols {COLUMNS}\nnrows {ROWS}\nxllcenter {east[0]:.2f}\nyllcenter {north[0]:.2f}\n"
        f"cellsize {CELL:g}\nNODATA_value {MISSING:g}\n"
    )
    return head + "".join(" ".join(_cell(z) for z in row) + "\n" for row in heights[::-1])


def _cell(height: float) -> str:
    return f"{MISSING:g}" if height == MISSING else f"{height:.2f}"


if __name__ == "__main__":
    path = ROOT / "examples" / "corbel-built" / "terrain.asc"
    path.write_text(terrain_text(), encoding="ascii")

# SPDX-License-Identifier: Apache-2.0
"""In what each item of the estimate is measured, and so in which bid units it may be priced.

The quantities of a practice are volumes, areas, lengths, hours and pieces. A price in a unit of
another dimension would be multiplied with a number that it does not belong to.
"""

from fnmatch import fnmatchcase

from tilewater.basis.units import did_you_mean, to_si

MEASURED = {
    "CY": "CY",
    "CF": "ft3",
    "SY": "yd2",
    "SF": "ft2",
    "AC": "acre",
    "LF": "ft",
    "FT": "ft",
    "LB": "lb",
    "TON": "ton",
    "M3": "m3",
    "M2": "m2",
    "HA": "ha",
    "M": "m",
    "KG": "kg",
}
"""Unit in the table of units behind a bid unit."""
COUNTED = ("LS", "EA", "HR", "DAY")
"""Bid units of what is counted."""
VOLUME = ("CY", "CF", "M3")
AREA = ("SY", "SF", "AC", "M2", "HA")
LENGTH = ("LF", "FT", "M")
HOURS = ("HR",)
PIECES = ("EA",)
LUMP = ("LS", "EA")
"""Of what there is one: the lump sum and the piece are the same."""

ALLOWED = {
    "topsoil": VOLUME,
    "excavation": VOLUME,
    "woodchips": VOLUME,
    "backfill": VOLUME,
    "spoil": VOLUME,
    "anchor-concrete": VOLUME,
    "lining-plastic": AREA,
    "lining-geotextile": AREA,
    "lining": AREA,
    "cover-fabric": AREA,
    "seeding": ("AC", "SY", "SF", "M2", "HA"),
    "potholing": HOURS,
    "mobilization": LUMP,
    "temporary-tile-flow": LUMP,
    "dewatering": LUMP,
    "erosion-control": LUMP,
    "inlet-structure": ("EA", "LS"),
    "outlet-structure": ("EA", "LS"),
    "feed-gate": ("EA", "LS"),
    "outlet-rock": LUMP,
    "anti-seep-collar": PIECES,
    "rigid-outlet": PIECES,
    "corner-post": PIECES,
    "lid-lock": PIECES,
    "trench": VOLUME,
    "perforated-line": LENGTH,
    "solid-line": LENGTH,
    "envelope": VOLUME,
    "gravel": VOLUME,
    "line-marker": PIECES,
}
"""Bid units of an item, the usual one first."""

PATTERNS = {
    "solid-pipe-*": LENGTH,
    "perforated-pipe-*": LENGTH,
    "pipe-*": LENGTH,
    "lining-*": AREA,
    "anchor-*": VOLUME,
}
"""Items of which there are several, by size or material."""

SAMPLES = (*ALLOWED, "solid-pipe-10-in", "perforated-pipe-6-in")


def allowed_units(item: str) -> tuple[str, ...]:
    """Bid units in which an item may be priced; none for an item that no quantity asks for."""
    if item in ALLOWED:
        return ALLOWED[item]
    return next((units for like, units in PATTERNS.items() if fnmatchcase(item, like)), ())


def near_item(item: str) -> str:
    """` Did you mean ...?` for the nearest item of the estimate, or nothing."""
    return did_you_mean(item, SAMPLES)


def unit_size(unit: str) -> float:
    """What one bid unit is in coherent SI; 1 for what is counted.

    Parameters
    ----------
    unit : str
        Bid unit, such as CY.

    Returns
    -------
    float
        Its size. [-]

    References
    ----------
    derived, the table of units
    """
    return to_si(1.0, MEASURED[unit]) if unit in MEASURED else 1.0

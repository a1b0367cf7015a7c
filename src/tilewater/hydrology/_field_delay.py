# SPDX-License-Identifier: Apache-2.0
"""A day of water on its way from the roots down to the water table: the bare arithmetic.

Plain numbers, no checks, positional arguments: part of the kernel `_field`. A day is the unit of
time. Between roots and table, L apart, S is the water over that of a soil at rest. Where the soil
conducts a / (s^3 + b) at a suction s and loses water by C s, steady flow gives S by its flux q. For
little of it S = T q, which is also the mean delay of a small pulse whatever its shape:

    T = C (L^5 / (20 a) + L^2 / (2 K))                                 K = a / b, of full soil
    q = (S / T) (1 + 12 S / (C L^2)),  all that is above C L^2 / 5 at once    within 25 percent
    S(t) = S e / (1 + 12 S (1 - e) / (C L^2)),  e = exp(-t / T)        exact for that q
"""

import math
from typing import NamedTuple

from tilewater.hydrology._field_drain import Drains
from tilewater.hydrology._field_ground import Soil

DELAYED = 4096

STEEPER = 12.0
"""How the flux rises above that of little water; fits steady flow up to MOST_SHARE."""
MOST_SHARE = 0.2
"""Share of C L^2 above which water passes at once."""
LEAST_TRANSIT = 1e-6
"""Less than this on its way has arrived, so that it does not fade away for ever. [m]"""

LEAST_TIME = 0.03
"""A shorter delay leaves nothing to the next day: exp(-1 / 0.03) is 3e-15. [days]"""


class Passed(NamedTuple):
    """Water on its way after a day, and what arrived at the table."""

    rise: float
    time: float
    arrived: float
    transit: float
    ground: float
    flags: int


def let_down(
    transit: float,
    ground: float,
    root_depth: float,
    is_full: bool,
    soil: Soil,
    drains: Drains,
) -> Passed:
    """What of the water on its way arrives at the table in a day."""
    rise = drains.depth - root_depth - ground * drains.porosity_inverse
    if soil.loss <= 0.0 or rise <= 0.0 or is_full or transit <= LEAST_TRANSIT:
        return Passed(rise, 0.0, transit, 0.0, ground + transit, 0)
    square = rise * rise
    time = square * (soil.delay_square + soil.delay_fifth * square * rise)
    if time < LEAST_TIME:
        return Passed(rise, time, transit, 0.0, ground + transit, 0)
    whole = soil.loss * square
    slow = min(transit, MOST_SHARE * whole)
    kept = math.exp(-1.0 / time)
    left = slow * kept * whole / (whole + STEEPER * slow * (1.0 - kept))
    if left <= LEAST_TRANSIT:
        return Passed(rise, time, transit, 0.0, ground + transit, 0)
    arrived = transit - left
    return Passed(rise, time, arrived, left, ground + arrived, DELAYED)

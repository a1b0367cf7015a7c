# SPDX-License-Identifier: Apache-2.0
"""Readings that no rating turns into a flow: water above the crest below, sensors at their end.

Both are facts of the record, found without a rating. What is done about them is the business of
`stage_flow`.
"""

import numpy as np

from tilewater.monitoring.series import Floats, Series, Truths

FLAT = 0.0005
"""Readings nearer to each other than this are the same: half a millimetre. [m or m3/s share]"""
FLAT_RUN = 4
"""Readings in a row at the highest value, from which a top is flat. [-]"""


def is_submerged(level: Floats, tailwater: Floats, crest: float) -> Truths:
    """Where the water below a set of boards stands above their crest.

    Parameters
    ----------
    level : array
        Elevation of the water above the boards. [m]
    tailwater : array
        Elevation of the water below the boards; minus infinity where it is far below. [m]
    crest : float
        Elevation of the crest. [m]

    Returns
    -------
    array
        True where both stand above it. [-]

    Notes
    -----
    submerged: h2 > crest and h1 > crest    (derived)

    References
    ----------
    derived, what a free fall asks for
    """
    return np.asarray((tailwater > crest) & (level > crest))


def flat_tops(series: Series) -> Truths:
    """Where a record stands flat at its highest value: the sensor, or the pipe, was at its end.

    Parameters
    ----------
    series : Series
        Level or flow. [-]

    Returns
    -------
    array
        True in every run of four readings or more at the highest value read. [-]

    Notes
    -----
    flat: |x - max x| <= 0.0005 max(1, |max x|) in 4 readings in a row    (practice)

    A record that never rises is not flat at its top but still, and gives none. A top that was cut
    within a storm but is not the highest of the record is not seen.

    References
    ----------
    practice, four readings in a row
    """
    value = series.value
    none = np.zeros(value.size, np.bool_)
    known = value[~np.isnan(value)]
    if known.size < FLAT_RUN or known.max() - known.min() <= 2.0 * FLAT:
        return none
    highest = known.max()
    close = FLAT * min(1.0, abs(float(highest))) if abs(highest) < 1.0 else FLAT
    at_top = np.asarray(~np.isnan(value) & (value >= highest - close))
    edges = np.flatnonzero(np.diff(np.concatenate(([0], at_top.view(np.int8), [0]))))
    for first, last in zip(edges[::2], edges[1::2], strict=True):
        if last - first >= FLAT_RUN:
            none[first:last] = True
    return none

# SPDX-License-Identifier: Apache-2.0
"""Flow while a logger was at the end of what it reads, by the tail of the flows that it did read.

A reading there says "at least". How much more came nobody measured; it is taken from the site's own
high flows and carries a wide error, in place of being left out.
"""

import numpy as np

from tilewater.monitoring.series import Floats, Truths

HIGH = 0.9
"""Share of the flows that were read below which none counts as high."""
FEWEST_HIGH = 20
"""Readings of high flow that make a tail."""
RELATIVE_ERROR = 0.7
"""Standard error of what is taken beyond, as a share of it (practice)."""


def mean_flow_beyond(flow: Floats, at_least: Truths) -> float:
    """Mean flow beyond a reading at the end of its logger.

    Parameters
    ----------
    flow : array
        As read; NaN where it is not known. [m3/s]
    at_least : array
        Where the logger was at its end. [-]

    Returns
    -------
    float
        What came beyond such a reading in the mean; 0 where there is none, and where too few high
        flows were read to say. [m3/s]

    Notes
    -----
    e = (sum over high flows read (Q - u) + sum over those at the end (Q - u)) / n read
    (epstein1953)

    u is the flow that a tenth of the flowing time exceeds. What lies above a high flow is taken
    as exponential, which has no memory: beyond the end of the logger it is the same as beyond u.

    References
    ----------
    epstein1953, mean of an exponential of which some are cut off, from memory
    """
    ended = at_least & ~np.isnan(flow)
    if not ended.any():
        return 0.0
    read = flow[~ended & ~np.isnan(flow) & (flow > 0.0)]
    high = read[read > np.quantile(read, HIGH)] if read.size else read
    if high.size < FEWEST_HIGH:
        return 0.0
    over = float(np.quantile(read, HIGH))
    lasted = np.sum(high - over) + np.sum(np.maximum(flow[ended] - over, 0.0))
    return float(lasted / high.size)

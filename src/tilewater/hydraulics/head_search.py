# SPDX-License-Identifier: Apache-2.0
"""The head at which a rating gives a flow, where the rating cannot be turned round.

For ratings that rise with the head. It knows no weir; the rating comes from the caller.
"""

import math
from collections.abc import Callable

from tilewater.basis.domain import require_finite, require_not_negative
from tilewater.basis.errors import NoSolution
from tilewater.basis.roots import bracketed_root

FIRST_TRY = 0.5  # m, above most heads over boards
HEAD_TOLERANCE = 1e-12  # m


def head_for_flow(
    rating: Callable[[float], float],
    flow: float,
    *,
    lowest: float = 0.0,
    highest: float = math.inf,
) -> float:
    """Head at which a rising rating gives a flow.

    Parameters
    ----------
    rating : callable
        Flow in m3/s by head in m, rising from `lowest` to `highest`.
    flow : float
        Flow. [m3/s]
    lowest : float
        A head with no more than this flow. [m]
    highest : float
        Head up to which the rating rises. [m]

    Returns
    -------
    float
        Head. [m]

    Raises
    ------
    OutOfDomain
        If the flow is negative.
    NoSolution
        If the rating does not reach the flow.

    References
    ----------
    derived, search between two heads
    """
    require_not_negative("flow", flow, "m3/s", "Check its direction")
    require_finite("flow", flow, "m3/s", "Check the flow")
    if flow == 0.0:
        return lowest

    def surplus(head: float) -> float:
        return rating(head) - flow

    high = min(max(FIRST_TRY, 2.0 * lowest), highest)
    while surplus(high) < 0.0:
        if high == highest:
            raise NoSolution(
                f"flow is {flow:.4g} m3/s. The rating rises to {rating(high):.4g} m3/s "
                f"at a head of {high:.3g} m. Take a wider crest, or split the flow."
            )
        high = min(2.0 * high, highest)
    return bracketed_root(surplus, lowest, high, (), HEAD_TOLERANCE)

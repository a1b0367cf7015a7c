# SPDX-License-Identifier: Apache-2.0
"""Head over a rectangular crest for a flow: the formulas of `rectangular_weirs` turned round."""

from functools import partial

from tilewater.basis.domain import require_finite, require_not_negative, require_positive
from tilewater.hydraulics.head_search import head_for_flow
from tilewater.hydraulics.rectangular_weirs import (
    FRANCIS,
    weir_flow_rectangular_francis,
    weir_flow_rectangular_kindsvater_carter,
)
from tilewater.hydraulics.submerged_weirs import (
    RECTANGULAR_EXPONENT,
    weir_submergence_factor_villemonte,
)


def weir_head_rectangular_francis(
    flow: float, *, crest_width: float, contractions: int = 0
) -> float:
    """Head over a rectangular crest for a flow, Francis.

    Parameters
    ----------
    flow : float
        Flow. [m3/s]
    crest_width : float
        Length of the crest across the flow. [m]
    contractions : int
        Ends where the crest stops short of the wall: 0 between slots, 1 or 2. [-]

    Returns
    -------
    float
        Water level above the crest. [m]

    Raises
    ------
    OutOfDomain
        If the flow is negative, the width not above zero or the contractions not 0, 1 or 2.
    NoSolution
        If a contracted crest cannot carry the flow by this formula.

    Notes
    -----
    h = (Q / (3.33 L))^(2/3) in feet and seconds, without contractions    (francis1883)

    With n contractions the lower of two heads is searched; the formula has its largest flow at
    h = 6 L/n, far above its range.

    References
    ----------
    francis1883, from memory
    """
    require_not_negative("flow", flow, "m3/s", "Check its direction")
    require_finite("flow", flow, "m3/s", "Check the flow")
    require_positive("crest width", crest_width, "m", "Measure the crest across the flow")
    if contractions == 0:
        return float((flow / (FRANCIS * crest_width)) ** (2.0 / 3.0))
    rating = partial(
        weir_flow_rectangular_francis, crest_width=crest_width, contractions=contractions
    )
    return head_for_flow(rating, flow, highest=_highest(crest_width, contractions))


def weir_head_rectangular_kindsvater_carter(
    flow: float, crest_height: float, *, crest_width: float, channel_width: float
) -> float:
    """Head over a thin-plate rectangular weir for a flow, Kindsvater and Carter.

    Parameters
    ----------
    flow : float
        Flow. [m3/s]
    crest_height : float
        Crest above the floor of the approach; infinite over deep water. [m]
    crest_width : float
        Length of the crest across the flow. [m]
    channel_width : float
        Width of the approach; infinite in a pond. [m]

    Returns
    -------
    float
        Water level above the crest. [m]

    Raises
    ------
    OutOfDomain
        If the flow is negative, a height or width not above zero, or the crest wider than the
        channel.

    Notes
    -----
    The equation of `weir_flow_rectangular_kindsvater_carter`, searched. A flow below the trickle in
    which it ends, about 0.06 L/s per metre of crest, has a head of zero.

    References
    ----------
    kindsvater1957, from memory
    """
    rating = partial(
        weir_flow_rectangular_kindsvater_carter,
        crest_height=crest_height,
        crest_width=crest_width,
        channel_width=channel_width,
    )
    return head_for_flow(rating, flow)


def weir_head_rectangular_francis_villemonte(
    flow: float, head_downstream: float, *, crest_width: float, contractions: int = 0
) -> float:
    """Head over a rectangular crest for a flow with tailwater above the crest.

    Parameters
    ----------
    flow : float
        Flow. [m3/s]
    head_downstream : float
        Downstream water level above the crest, negative below it. [m]
    crest_width : float
        Length of the crest across the flow. [m]
    contractions : int
        Ends where the crest stops short of the wall: 0 between slots, 1 or 2. [-]

    Returns
    -------
    float
        Upstream water level above the crest; at zero flow the tailwater, or the crest. [m]

    Raises
    ------
    OutOfDomain
        If the flow is negative, the width not above zero or the contractions not 0, 1 or 2.
    NoSolution
        If a contracted crest cannot carry the flow by this formula.

    Notes
    -----
    Q = Q_free(h1) (1 - (h2/h1)^1.5)^0.385, searched for h1    (villemonte1947)

    References
    ----------
    villemonte1947, form as seen in the documentation of a hydraulic library
    francis1883, from memory
    """
    if head_downstream <= 0.0:
        return weir_head_rectangular_francis(
            flow, crest_width=crest_width, contractions=contractions
        )
    require_positive("crest width", crest_width, "m", "Measure the crest across the flow")
    highest = _highest(crest_width, contractions)

    def rating(head: float) -> float:
        left = weir_submergence_factor_villemonte(
            head, head_downstream, exponent=RECTANGULAR_EXPONENT
        )
        return left * weir_flow_rectangular_francis(
            head, crest_width=crest_width, contractions=contractions
        )

    return head_for_flow(rating, flow, lowest=head_downstream, highest=highest)


def _highest(crest_width: float, contractions: int) -> float:
    """Head at which d/dh of (L - 0.1 n h) h^1.5 is zero."""
    return 6.0 * crest_width / contractions if contractions else float("inf")

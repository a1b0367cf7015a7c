# SPDX-License-Identifier: Apache-2.0
"""Steps of the ground behind the line: how wet the edge of the field gets from the raised water.

The spots along the main are held to their limits as with a bed; this is the strip of field beside
the line, where no lateral need be. Behind the line the water stands level with it.
"""

from tilewater.basis.domain import refuse
from tilewater.basis.requirement import SCALES, Requirement
from tilewater.basis.trace import Trace
from tilewater.hydraulics._board_set import BoardSet
from tilewater.practices.bed.board_steps import set_key
from tilewater.practices.bed.settings import DESIGN
from tilewater.practices.buffer.board_steps import field_level
from tilewater.practices.buffer.givens import LINE, needed
from tilewater.practices.rules import difference, same
from tilewater.practices.wetness import standing_clear_soil


def add_field_side(trace: Trace) -> None:
    """Record the clear soil at the edge of the field, and the storm level before both sets."""
    ground = needed(
        trace, f"{LINE}.ground_at_field_edge_m", "Ground at the edge of the field", "m", "shoot it"
    )
    crest = f"buffer.field_crest.{DESIGN}_m"
    trace.compute(
        "buffer.field_edge.standing_m",
        standing_clear_soil,
        unit="m",
        title="Clear soil at the edge of the field over the water held at the line",
        ground=ground,
        crest="boards.inlet-design.crest_m",
        drain=f"{LINE}.line_invert_m",
    )
    limit = needed(trace, "inputs.limits.standing_m", "Clear soil to keep", "m", "decide it")
    trace.require(
        Requirement(
            key="buffer.field_edge",
            title="Clear soil at the edge of the field over the water held at the line",
            value="buffer.field_edge.standing_m",
            operator=">=",
            limit=limit,
            unit="m",
            scale=SCALES["clear soil"],
            where="field edge",
        )
    )
    _add_storm(trace, crest)


def _add_storm(trace: Trace, crest: str) -> None:
    head = set_key("head")
    trace.compute(
        "buffer.storm.level_m",
        field_level,
        unit="m",
        title="Water where the main comes in, main just full, line shut off",
        flow="drain_flow.full_m3_s",
        tailwater=needed(trace, "inputs.main.invert_outlet_m", "Outlet of the main", "m", "shoot"),
        bypass=set_key("inlet"),
        **({"head": head} if head in trace else {}),
    )
    trace.compute(
        "buffer.storm.head_m",
        difference,
        unit="m",
        title="That water over the crest that holds the field",
        upper="buffer.storm.level_m",
        lower=crest,
    )


def add_head_over_both(trace: Trace, group: str, flow: str, title: str, tailwater: str) -> None:
    """Record the head of a flow over the crest that holds the field, both sets in the way."""
    uncertainty = f"{group}.rating_uncertainty"
    trace.compute(
        uncertainty,
        same,
        unit="-",
        title=f"{title}: uncertainty of the rating",
        value="structure.inlet.rating_uncertainty",
    )
    doubt = {"uncertainty": uncertainty}
    for name, function, words, more in (
        ("head_m", head_over_both, "", {}),
        ("head_low_m", head_over_both_low, ": low end of its range", doubt),
        ("head_high_m", head_over_both_high, ": high end of its range", doubt),
    ):
        trace.compute(
            f"{group}.{name}",
            function,
            unit="m",
            title=f"{title}{words}",
            flow=flow,
            tailwater=tailwater,
            crest=f"buffer.field_crest.{DESIGN}_m",
            bypass=set_key("inlet"),
            head=set_key("head"),
            **more,
        )


def head_over_both(
    flow: float, tailwater: float, crest: float, bypass: BoardSet, head: BoardSet
) -> float:
    """Head over the crest that holds the field when a flow passes both sets of boards.

    Parameters
    ----------
    flow : float
        Flow of the main. [m3/s]
    tailwater : float
        Water below the bypass boards. [m]
    crest : float
        The higher of the two crests. [m]
    bypass, head : BoardSet
        Bypass boards, and head boards before them. [-]

    Returns
    -------
    float
        Height of the water over the crest. [m]

    Notes
    -----
    h = level before both sets - crest    (derived)

    References
    ----------
    francis1883, boards
    derived, two sets in a row
    """
    return field_level(flow, tailwater, bypass, head) - crest


def head_over_both_low(
    flow: float,
    tailwater: float,
    crest: float,
    bypass: BoardSet,
    head: BoardSet,
    uncertainty: float,
) -> float:
    """Head over both sets of boards, if they pass more than they are rated.

    Parameters
    ----------
    flow : float
        Flow of the main. [m3/s]
    tailwater : float
        Water below the bypass boards. [m]
    crest : float
        The higher of the two crests. [m]
    bypass, head : BoardSet
        Bypass boards, and head boards before them. [-]
    uncertainty : float
        Of the rated flow, as a share. [-]

    Returns
    -------
    float
        Height of the water over the crest. [m]

    Notes
    -----
    h of the flow Q / (1 + u)    (derived)

    References
    ----------
    derived, head of a rating that is too low by its uncertainty
    """
    return head_over_both(flow / (1.0 + uncertainty), tailwater, crest, bypass, head)


def head_over_both_high(
    flow: float,
    tailwater: float,
    crest: float,
    bypass: BoardSet,
    head: BoardSet,
    uncertainty: float,
) -> float:
    """Head over both sets of boards, if they pass less than they are rated.

    Parameters
    ----------
    flow : float
        Flow of the main. [m3/s]
    tailwater : float
        Water below the bypass boards. [m]
    crest : float
        The higher of the two crests. [m]
    bypass, head : BoardSet
        Bypass boards, and head boards before them. [-]
    uncertainty : float
        Of the rated flow, as a share below one. [-]

    Returns
    -------
    float
        Height of the water over the crest. [m]

    Raises
    ------
    OutOfDomain
        If the uncertainty is no share below one.

    Notes
    -----
    h of the flow Q / (1 - u)    (derived)

    References
    ----------
    derived, head of a rating that is too high by its uncertainty
    """
    if not 0.0 <= uncertainty < 1.0:
        raise refuse("uncertainty", uncertainty, "", "It is a share below one", "Rate the boards")
    return head_over_both(flow / (1.0 - uncertainty), tailwater, crest, bypass, head)

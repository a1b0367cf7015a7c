# SPDX-License-Identifier: Apache-2.0
"""Water that a full bed lets out when it empties, as one or as several cells.

Which share a cell lets out is the matter of `emptying`.
"""

from tilewater.basis.errors import OutOfDomain


def water_let_out(volume: float, share: float) -> float:
    """Water that comes out of a full bed.

    Parameters
    ----------
    volume : float
        Water that it could let go down to its floor. [m3]
    share : float
        Share of it that comes out. [-]

    Returns
    -------
    float
        Volume. [m3]

    Notes
    -----
    V = s V_w    (derived)

    References
    ----------
    derived, a share of a volume
    """
    return volume * share


def share_of_all(drainable: float, **let_out: float) -> float:
    """Share of the water of several cells that comes out, from what each lets out.

    Parameters
    ----------
    drainable : float
        Water that all of them could let go. [m3]
    **let_out : float
        Water that comes out of each. [m3]

    Returns
    -------
    float
        Share; a small cell counts less than a large one. [-]

    Raises
    ------
    OutOfDomain
        If they hold no water: a share of nothing has no meaning.

    Notes
    -----
    s = (V1 + V2 + ...) / V_w    (derived)

    References
    ----------
    derived, a mean weighted by volume
    """
    if drainable <= 0:
        raise OutOfDomain(
            f"drainable is {drainable:.4g} m3. A full bed has water above its floor. "
            "Check crest and floor."
        )
    return sum(let_out.values()) / drainable

# SPDX-License-Identifier: Apache-2.0
"""What comes out of a bed whose feed is shut and whose outlet boards are out, and how fast.

It empties no lower than the highest invert or sill that its water must pass, and no lower than the
ditch. What lies below stays wet chips. The ground water under a lined bed says in which season it
may stand empty at all.
"""

from collections.abc import Sequence

from tilewater.basis.domain import require_positive
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.solids import pit_volume
from tilewater.hydraulics.pipes import pipe_flow_full_manning

SETS = {"gate": 1.0, "boards": 1.0, "none": 0.0}
"""Gates or sets of boards on the feed, by the word of the job."""


def higher_of(first: float, second: float) -> float:
    """Higher of two elevations.

    Parameters
    ----------
    first, second : float
        Elevations. [m]

    Returns
    -------
    float
        The higher. [m]

    Notes
    -----
    z = max(z1, z2)    (derived)

    References
    ----------
    derived, the higher of two
    """
    return max(first, second)


def highest_way_out(outlet_invert: float, sill: float, return_invert: float) -> float:
    """Highest point that the water of a bed must pass on its way out, boards out.

    Parameters
    ----------
    outlet_invert : float
        Invert of the bed's outlet pipe at the outlet structure. [m]
    sill : float
        Sill of the outlet structure, which stays when the boards are out. [m]
    return_invert : float
        Invert where the return ends. [m]

    Returns
    -------
    float
        Elevation. [m]

    Notes
    -----
    z = max(outlet invert, sill, end of the return)    (derived)

    References
    ----------
    derived, water does not leave below the highest point of its way
    """
    return max(outlet_invert, sill, return_invert)


def feed_shut_offs(feed_gate: str) -> float:
    """How many gates or sets of boards can shut off the feed of the bed.

    Parameters
    ----------
    feed_gate : str
        "gate", "boards" or "none". [-]

    Returns
    -------
    float
        1 for a gate or a second set of boards, 0 for none. [-]

    Raises
    ------
    OutOfDomain
        For another word.

    Notes
    -----
    sets = 1 for a gate or boards, 0 for none    (practice)

    References
    ----------
    practice, a bed that cannot be shut off cannot be emptied while the drains run
    """
    if feed_gate not in SETS:
        raise OutOfDomain(
            f"feed_gate is {feed_gate}. The feed is shut by a gate, by boards or by none. "
            "Write one of these."
        )
    return SETS[feed_gate]


def standing_depth(crest_depth: float, media_depth: float) -> float:
    """Depth of media under water in a full bed.

    Parameters
    ----------
    crest_depth : float
        Crest of the inlet boards above the floor. [m]
    media_depth : float
        Depth of the media. [m]

    Returns
    -------
    float
        The lesser of the two. [m]

    Notes
    -----
    d = min(crest, media)    (derived)

    References
    ----------
    derived, water above the media wets no more of them
    """
    return min(crest_depth, media_depth)


def drainable_water(
    depth: float, porosity: float, bottom_length: float, bottom_width: float, side_slope: float
) -> float:
    """Water that a level full bed could let go, down to its floor.

    Parameters
    ----------
    depth : float
        Depth of media under water. [m]
    porosity : float
        Drainable porosity. [-]
    bottom_length, bottom_width : float
        Size of the floor. [m]
    side_slope : float
        Horizontal to vertical, ends included. [-]

    Returns
    -------
    float
        Volume of water. [m3]

    Raises
    ------
    OutOfDomain
        If a size is negative.

    Notes
    -----
    V_w = f V(d),  V the pit up to the depth d    (derived)

    References
    ----------
    derived, drainable porosity times the wet media
    """
    volume = pit_volume(bottom_length, bottom_width, side_slope=side_slope, depth=depth)
    return porosity * float(volume)


def standing_pool(level: float, floor: float, media_depth: float) -> float:
    """Depth of media that stay under water when the bed has emptied to a level.

    Parameters
    ----------
    level : float
        Elevation that the bed empties to. [m]
    floor : float
        Mean floor of the bed. [m]
    media_depth : float
        Depth of the media. [m]

    Returns
    -------
    float
        Depth; 0 where it empties to its floor, all the media where the level stands over them. [m]

    Notes
    -----
    p = min(max(0, level - floor), media)    (derived)

    References
    ----------
    derived, water stands as high as the highest thing that holds it
    """
    return min(max(0.0, level - floor), media_depth)


def depth_above_pool(depth: float, pool: float) -> float:
    """Depth of the water that can leave a full bed.

    Parameters
    ----------
    depth : float
        Depth of media under water in the full bed. [m]
    pool : float
        Depth that stays. [m]

    Returns
    -------
    float
        Depth; 0 where the pool stands as high as the full bed. [m]

    Notes
    -----
    D = max(0, d - p)    (derived)

    References
    ----------
    derived, a difference
    """
    return max(0.0, depth - pool)


def share_let_out(
    pool: float, depth: float, bottom_length: float, bottom_width: float, side_slope: float
) -> float:
    """Share of the drainable water of a full bed that comes out before it stands at a pool.

    Parameters
    ----------
    pool : float
        Depth of water that stays. [m]
    depth : float
        Depth of media under water in the full bed. [m]
    bottom_length, bottom_width : float
        Size of the floor. [m]
    side_slope : float
        Horizontal to vertical, ends included. [-]

    Returns
    -------
    float
        Share; 0 where the pool stands as high as the full bed. [-]

    Raises
    ------
    OutOfDomain
        If the full bed holds no water: a share of nothing has no meaning.

    Notes
    -----
    share = 1 - V(p) / V(d),  V the pit up to a depth    (derived)

    References
    ----------
    derived, volumes of the pit below and above the pool
    """
    if depth <= 0:
        raise OutOfDomain(
            f"depth is {depth:.4g} m. A full bed has water above its floor. Check crest and floor."
        )
    full, left = (
        float(pit_volume(bottom_length, bottom_width, side_slope=side_slope, depth=d))
        for d in (depth, min(pool, depth))
    )
    return 1.0 - left / full


def mean_outflow(share: float, volume: float, time: float) -> float:
    """Mean flow while a share of a volume of water leaves.

    Parameters
    ----------
    share : float
        Share that leaves. [-]
    volume : float
        Water of which it is a share. [m3]
    time : float
        Time that it takes. [s]

    Returns
    -------
    float
        Flow. [m3/s]

    Notes
    -----
    Q = s V / t    (derived)

    References
    ----------
    derived, volume over time
    """
    return share * volume / time


def time_to_pull(stack: Sequence[float], pace: float) -> float:
    """Time from the first board pulled to the last, one at a time.

    Parameters
    ----------
    stack : sequence of float
        Boards of the stack. [m]
    pace : float
        Time from one board to the next. [s]

    Returns
    -------
    float
        Time. [s]

    Notes
    -----
    t = (n - 1) t_1,  0 without boards    (practice)

    References
    ----------
    practice, no more than one board in 12 hours in spring, for the bank of the ditch
    """
    return pace * max(0, len(stack) - 1)


def return_flow_full(upper: float, lower: float, length: float, diameter: float, n: float) -> float:
    """Flow that the return carries full on its own fall.

    Parameters
    ----------
    upper, lower : float
        Inverts of its two ends. [m]
    length : float
        Length of the pipe. [m]
    diameter : float
        Inside diameter. [m]
    n : float
        Manning roughness. [-]

    Returns
    -------
    float
        Flow; 0 where the pipe does not fall. [m3/s]

    Raises
    ------
    OutOfDomain
        If length, diameter or roughness is not above zero.

    Notes
    -----
    Q = (1/n) A R^(2/3) S^(1/2),  S = (z1 - z2) / L    (manning1891)

    References
    ----------
    manning1891, the pipe just full
    """
    require_positive("length", length, "m", "Give the length of the return")
    if upper <= lower:
        return 0.0
    return float(pipe_flow_full_manning(diameter, (upper - lower) / length, n=n))

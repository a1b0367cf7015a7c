# SPDX-License-Identifier: Apache-2.0
"""How sure a ditch level is that comes from a surveyed section and a regional flow.

Three things move it: the range of the roughness, the error of the flow, and how far high water
marks lie from what is computed. They are not added: the largest of them is the band, since each
is a judgement of the same doubt. The level itself is `hydraulics.channels`.
"""

from tilewater.basis.domain import require_not_negative
from tilewater.hydraulics.channel_sections import ChannelSection
from tilewater.hydraulics.channels import channel_normal_level_manning


def stage_section_low(
    flow: float,
    section: ChannelSection,
    slope: float,
    n: float,
    *,
    n_low: float | None = None,
    flow_error: float = 0.0,
    misfit: float = 0.0,
) -> float:
    """Lower end of the band of a ditch level that is computed from a section.

    Parameters
    ----------
    flow : float
        Flow of the ditch. [m3/s]
    section : ChannelSection
        The ditch. [m]
    slope : float
        Slope of the bed along the reach. [-]
    n : float
        Manning roughness. [-]
    n_low : float or None
        Lower end of its range; None where none is given. [-]
    flow_error : float
        Standard error of the flow as a share, as a regional regression states it. [-]
    misfit : float
        Largest distance of a high water mark from its computed level. [m]

    Returns
    -------
    float
        Level; not under the bottom, since water cannot stand there. [m]

    Raises
    ------
    OutOfDomain
        If an error or a misfit is negative.

    Notes
    -----
    low = max(bottom, min(level(Q, n_low), level(Q/(1 + e), n), level(Q, n) - misfit))    (derived)

    Regional regressions are fitted to logarithms of flow, so the error divides and multiplies.

    References
    ----------
    derived, the largest of three doubts
    manning1891
    """
    _require_doubts(flow_error, misfit)
    level = channel_normal_level_manning(flow, section, slope, n=n)
    ends = [
        level - misfit,
        channel_normal_level_manning(flow / (1.0 + flow_error), section, slope, n=n),
    ]
    if n_low is not None:
        ends.append(channel_normal_level_manning(flow, section, slope, n=n_low))
    return max(section.bottom, min(ends))


def stage_section_high(
    flow: float,
    section: ChannelSection,
    slope: float,
    n: float,
    *,
    n_high: float | None = None,
    flow_error: float = 0.0,
    misfit: float = 0.0,
) -> float:
    """Upper end of the band of a ditch level that is computed from a section.

    Parameters
    ----------
    flow : float
        Flow of the ditch. [m3/s]
    section : ChannelSection
        The ditch. [m]
    slope : float
        Slope of the bed along the reach. [-]
    n : float
        Manning roughness. [-]
    n_high : float or None
        Upper end of its range; None where none is given. [-]
    flow_error : float
        Standard error of the flow as a share, as a regional regression states it. [-]
    misfit : float
        Largest distance of a high water mark from its computed level. [m]

    Returns
    -------
    float
        Level. [m]

    Raises
    ------
    OutOfDomain
        If an error or a misfit is negative.
    NoSolution
        If the larger flow, or the flow at the rougher end, leaves the section.

    Notes
    -----
    high = max(level(Q, n_high), level(Q (1 + e), n), level(Q, n) + misfit)    (derived)

    References
    ----------
    derived, the largest of three doubts
    manning1891
    """
    return max(_upper_ends(flow, section, slope, n, n_high, flow_error, misfit).values())


def stage_section_doubt(
    flow: float,
    section: ChannelSection,
    slope: float,
    n: float,
    *,
    n_high: float | None = None,
    flow_error: float = 0.0,
    misfit: float = 0.0,
) -> str:
    """What makes the upper end of the band of a computed ditch level.

    Parameters
    ----------
    flow : float
        Flow of the ditch. [m3/s]
    section : ChannelSection
        The ditch. [m]
    slope : float
        Slope of the bed along the reach. [-]
    n : float
        Manning roughness. [-]
    n_high : float or None
        Upper end of its range; None where none is given. [-]
    flow_error : float
        Standard error of the flow as a share. [-]
    misfit : float
        Largest distance of a high water mark from its computed level. [m]

    Returns
    -------
    str
        "range of n", "error of the flow" or "misfit of the marks".

    Notes
    -----
    the largest of level(Q, n_high), level(Q (1 + e), n) and level(Q, n) + misfit    (derived)

    References
    ----------
    derived, the largest of three doubts
    """
    ends = _upper_ends(flow, section, slope, n, n_high, flow_error, misfit)
    return max(ends, key=lambda name: ends[name])


def largest_misfit(**misfits: float) -> float:
    """Largest distance of high water marks from their computed levels, up or down.

    Parameters
    ----------
    **misfits : float
        Mark minus computed level. [m]

    Returns
    -------
    float
        The largest, without its sign. [m]

    Notes
    -----
    max(|e_i|)    (derived)

    References
    ----------
    derived, the worst of the marks
    """
    return max(abs(misfit) for misfit in misfits.values())


def _upper_ends(
    flow: float,
    section: ChannelSection,
    slope: float,
    n: float,
    n_high: float | None,
    flow_error: float,
    misfit: float,
) -> dict[str, float]:
    """Level at the upper end of each doubt, by its name."""
    _require_doubts(flow_error, misfit)
    level = channel_normal_level_manning(flow, section, slope, n=n)
    ends = {
        "error of the flow": channel_normal_level_manning(
            flow * (1.0 + flow_error), section, slope, n=n
        ),
        "misfit of the marks": level + misfit,
    }
    if n_high is not None:
        ends["range of n"] = channel_normal_level_manning(flow, section, slope, n=n_high)
    return ends


def _require_doubts(flow_error: float, misfit: float) -> None:
    require_not_negative("flow error", flow_error, "", "Write it as a share or in percent")
    require_not_negative("misfit", misfit, "m", "Give its size without the sign")

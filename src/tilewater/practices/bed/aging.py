# SPDX-License-Identifier: Apache-2.0
"""Steps that belong to the years: emptying, lining and the clock of permeability."""

from tilewater.basis.trace import Trace
from tilewater.hydraulics.media import drain_down_time_boussinesq
from tilewater.practices.bed import capacity, life
from tilewater.practices.bed.settings import DESIGN
from tilewater.practices.bed.system_steps import path_key


def add_emptying(trace: Trace) -> None:
    """Record what never drains and the hours to drain the rest, warm and cold."""
    compute = trace.compute
    lowest = "inputs.bed.outlet_invert_m"
    compute(
        "bed.leaves_at_m",
        higher_of,
        unit="m",
        title="Highest invert below the bed that its water must pass",
        first=lowest,
        second="inputs.bed.return_invert_m",
    )
    compute(
        "bed.dead_pool_m",
        capacity.dead_pool,
        unit="m",
        title="Water that can never drain out of the bed",
        leaves_at="bed.leaves_at_m",
        floor="bed.floor_m",
    )
    compute(
        "bed.lined_share",
        lined_share,
        unit="-",
        title="Sides of the media that are lined",
        lining="inputs.bed.lining",
    )
    for season, line in (("warm", "criterion"), ("cold", "spring")):
        for share in (0.5, 0.9, 0.95):
            percent = round(100 * share)
            drained = trace.constant(
                f"drain_down.share_{percent}", share, f"{percent} percent drained", source="derived"
            )
            compute(
                f"drain_down.{season}_{percent}_s",
                drain_down_time_boussinesq,
                unit="s",
                title=f"Time until {percent} percent has drained, {season} water",
                share_drained=drained,
                depth="bed.depth_inlet_crest_m",
                length="bed.length_m",
                conductivity=f"capacity.{line}.conductivity_m_s",
                drainable_porosity="inputs.media.porosity_drainable",
            )


def add_life(trace: Trace) -> None:
    """Record the two clocks: permeability and carbon."""
    compute = trace.compute
    compute(
        "life.task",
        life.LifeTask,
        unit="",
        title="Bed and media as they age",
        shape="bed.shape",
        path=path_key(),
        level=f"boards.inlet-{DESIGN}.crest_m",
        tailwater="system.free_m",
        conductivity_new="inputs.media.conductivity_new_m_s",
        conductivity_aged="inputs.media.conductivity_aged_m_s",
        aged_years="inputs.media.aged_years",
        ward_coefficient="inputs.media.ward_coefficient",
    )
    compute(
        "life.permeability_years",
        life.permeability_years,
        unit="years",
        title="Years until the bed no longer takes its share of the peak",
        task="life.task",
        peak="drain_flow.peak_for_share_m3_s",
        share="sizing.share_limit",
    )


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


def lined_share(lining: str) -> float:
    """Share of bottom, sides and top that is lined.

    Parameters
    ----------
    lining : str
        "geotextile" or "plastic". [-]

    Returns
    -------
    float
        1 for a bed lined all round, with geotextile over the media in both cases. [-]

    Notes
    -----
    share = 1 for geotextile or plastic, else 0    (nrcs605summary)

    References
    ----------
    nrcs605summary, lining on bottom, sides and top
    """
    return 1.0 if lining in ("geotextile", "plastic") else 0.0

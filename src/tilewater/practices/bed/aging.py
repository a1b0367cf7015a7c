# SPDX-License-Identifier: Apache-2.0
"""Steps that belong to the years: the lining and the clock of permeability."""

from tilewater.basis.trace import Trace
from tilewater.practices.bed import life
from tilewater.practices.bed.settings import DESIGN
from tilewater.practices.bed.system_steps import path_key


def add_lining(trace: Trace) -> None:
    """Record the share of the media's sides that is lined."""
    trace.compute(
        "bed.lined_share",
        lined_share,
        unit="-",
        title="Sides of the media that are lined",
        lining="inputs.bed.lining",
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

# SPDX-License-Identifier: Apache-2.0
"""The bed of a renewal at work: conductivities that are asked for, seen and drawn."""

import math
from collections.abc import Mapping

import numpy as np

from tilewater.basis.errors import NoSolution
from tilewater.basis.roots import bracketed_root
from tilewater.hydraulics.media import conductivity_at_temperature, forchheimer_inertia_ward
from tilewater.monitoring.renewal import Decline, Floats, decline_of_draws
from tilewater.nitrate.parameter_ranges import ParameterRange, default_ranges
from tilewater.practices.bed.capacity import Media
from tilewater.practices.bed.life import LifeTask
from tilewater.practices.bed.system import BedPath, diversion_level_for_bed, levels_along_bed

LEAST, MOST = 1e-5, 2.0
"""Conductivities between which one is looked for. [m/s]"""
CLOSE = 1e-7
"""Of the logarithm of a conductivity."""


def conductivity_needed(task: LifeTask, peak: float, share: float) -> float:
    """Conductivity below which a bed no longer takes its share of the peak.

    Parameters
    ----------
    task : LifeTask
        Bed and media. [-]
    peak : float
        Peak that the share is counted against. [m3/s]
    share : float
        Share that the bed must take. [-]

    Returns
    -------
    float
        At 20 degC. [m/s]

    Raises
    ------
    NoSolution
        If no media of this size take it.

    Notes
    -----
    z(K, f Q_peak) = z_crest, the whole way from diversion to ditch    (derived)

    References
    ----------
    derived, the criterion line solved for the conductivity
    """

    def surplus(log_k: float) -> float:
        media = media_like(math.exp(log_k), task.ward_coefficient)
        asked = diversion_level_for_bed(share * peak, task.tailwater, task.path, task.shape, media)
        return task.level - asked

    if surplus(math.log(MOST)) <= 0.0:
        raise NoSolution(
            f"No media let {share:.0%} of the peak through this bed: pipes and boards take all "
            "the head. See the capacity of the design."
        )
    if surplus(math.log(LEAST)) >= 0.0:
        return LEAST
    return math.exp(bracketed_root(surplus, math.log(LEAST), math.log(MOST), (), CLOSE))


def media_like(conductivity: float, ward_coefficient: float) -> Media:
    """Media of a conductivity, in water of 20 degC.

    Parameters
    ----------
    conductivity : float
        At 20 degC. [m/s]
    ward_coefficient : float
        Of the inertia. [-]

    Returns
    -------
    Media

    References
    ----------
    ward1964, inertia from the conductivity
    """
    inertia = forchheimer_inertia_ward(conductivity, ward_coefficient=ward_coefficient)
    return Media(conductivity, float(inertia))


def conductivity_observed(
    flow: float, head_loss: float, temperature: float, task: LifeTask, path: BedPath
) -> float:
    """Conductivity that a head loss and a flow show.

    Parameters
    ----------
    flow : float
        Through the bed. [m3/s]
    head_loss : float
        Inlet structure above outlet structure, as read. [m]
    temperature : float
        Of the water. [degC]
    task : LifeTask
        Bed and media. [-]
    path : BedPath
        Pipes, headers and the boards that stood. [-]

    Returns
    -------
    float
        Of the whole bed, brought to 20 degC. [m/s]

    Raises
    ------
    NoSolution
        If pipes and headers alone take more head, or hardly any is left for the media.

    Notes
    -----
    z_diversion(K, Q) - z_outlet_box(Q) = head loss; K at 20 degC by the viscosity    (derived)

    References
    ----------
    derived, levels along the bed solved for the conductivity
    """

    def surplus(log_k: float) -> float:
        at_20 = media_like(math.exp(log_k), task.ward_coefficient)
        cold = float(conductivity_at_temperature(at_20.conductivity, temperature))
        levels = levels_along_bed(
            flow, task.tailwater, path, task.shape, Media(cold, at_20.inertia)
        )
        return levels.diversion - levels.outlet_box - head_loss

    if surplus(math.log(MOST)) >= 0.0 or surplus(math.log(LEAST)) <= 0.0:
        raise NoSolution(
            f"A head loss of {head_loss:.3g} m at {1e3 * flow:.3g} L/s fits no media: pipes and "
            "headers alone take more, or nothing could pass. Read staffs and flow again."
        )
    return math.exp(bracketed_root(surplus, math.log(LEAST), math.log(MOST), (), CLOSE))


def renewal_ranges(conductivity_new: float, conductivity_aged: float) -> dict[str, ParameterRange]:
    """Ranges of the conductivity and of what is left of it, about what the job states.

    Parameters
    ----------
    conductivity_new, conductivity_aged : float
        At 20 degC. [m/s]

    Returns
    -------
    dict of str to ParameterRange
        By name.

    References
    ----------
    practice, ranges of `nitrate.parameter_ranges`
    """
    ranges = default_ranges()
    left = conductivity_aged / conductivity_new
    return {
        "conductivity-new": ranges["conductivity-new"].about_value(conductivity_new),
        "conductivity-left": ranges["conductivity-left"].about_value(left),
    }


def decline_drawn(drawn: Mapping[str, Floats], aged_years: float) -> Decline:
    """How the conductivity of every draw declines.

    Parameters
    ----------
    drawn : mapping of str to array
        Values by name. [-]
    aged_years : float
        Age to which what is left belongs. [years]

    Returns
    -------
    Decline

    References
    ----------
    derived, an even decline between two conductivities
    """
    new = drawn["conductivity-new"]
    return decline_of_draws(new, new * drawn["conductivity-left"], aged_years)


def conductivity_by_draws(decline: Decline, age: float) -> float:
    """Middle conductivity of the draws at an age.

    Parameters
    ----------
    decline : Decline
        The draws. [-]
    age : float
        Of the chips. [years]

    Returns
    -------
    float
        At 20 degC. [m/s]

    Notes
    -----
    median of K0 exp(-r t)    (derived)

    References
    ----------
    derived, order statistics
    """
    return float(np.median(decline.at(age)))

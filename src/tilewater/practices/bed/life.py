# SPDX-License-Identifier: Apache-2.0
"""How long a bed serves: two clocks, permeability and carbon.

The first clock is an exponential line through two conductivities, so it is as sure as those two.
"""

from collections.abc import Callable
from dataclasses import dataclass

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.roots import bracketed_root
from tilewater.hydraulics.media import conductivity_at_age, forchheimer_inertia_ward
from tilewater.practices.bed._touched import AGE_TOLERANCE
from tilewater.practices.bed.capacity import BedShape, Media
from tilewater.practices.bed.system import BedPath, diversion_level_for_bed

LONGEST = 60.0
"""The clock is not read beyond this. [years]"""

CARBON_OF_WOOD = 0.49
"""Share of carbon in dry wood, from memory (common 0.47 to 0.50). [-]"""

CARBON_PER_NITROGEN = 1.07
"""Carbon used per nitrogen removed, 5 CH2O + 4 NO3. [-]"""

USABLE_SHARE = 0.5
"""Share of the carbon that denitrifiers get before the wood is spent, judgement. [-]"""


@dataclass(frozen=True)
class LifeTask:
    """A bed and the two conductivities its ageing is read from."""

    shape: BedShape
    path: BedPath
    level: float
    tailwater: float
    conductivity_new: float
    conductivity_aged: float
    aged_years: float
    ward_coefficient: float


def permeability_years(task: LifeTask, peak: float, share: float) -> float:
    """Age at which the bed no longer takes its share of the peak.

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
        Age; 0 where new media fall short, 60 where the line is not read further. [years]

    Notes
    -----
    Q(K(t)) = f Q_peak, K(t) = K0 exp(-r t)    (derived)

    References
    ----------
    derived, exponential decline between two stated conductivities, 20 degC
    """

    def asked(media: Media) -> float:
        return diversion_level_for_bed(share * peak, task.tailwater, task.path, task.shape, media)

    return age_where(task, asked)


def age_where(task: LifeTask, asked: Callable[[Media], float]) -> float:
    """Age at which the level that media ask for at the diversion is all there is.

    Parameters
    ----------
    task : LifeTask
        Bed and media. [-]
    asked : callable
        Level that a flow asks for at the diversion through some media, in m. [-]

    Returns
    -------
    float
        Age; 0 where new media ask for more, 60 where the line is not read further. [years]

    Notes
    -----
    z(K(t)) = z_diversion    (derived)

    References
    ----------
    derived, exponential decline between two stated conductivities, 20 degC
    """

    def surplus(age: float) -> float:
        return task.level - asked(media_at_age(task, age))

    if surplus(0.0) <= 0:
        return 0.0
    if surplus(LONGEST) >= 0:
        return LONGEST
    return bracketed_root(surplus, 0.0, LONGEST, (), AGE_TOLERANCE)


def media_at_age(task: LifeTask, age: float) -> Media:
    """Media of a bed at an age, water of 20 degC.

    Parameters
    ----------
    task : LifeTask
        Bed and media. [-]
    age : float
        Age. [years]

    Returns
    -------
    Media

    Notes
    -----
    K(t) = K0 exp(-r t)    (derived)

    References
    ----------
    derived, exponential decline between two stated conductivities, 20 degC
    """
    conductivity = float(
        conductivity_at_age(
            task.conductivity_new,
            age,
            conductivity_aged=task.conductivity_aged,
            aged_years=task.aged_years,
        )
    )
    inertia = float(forchheimer_inertia_ward(conductivity, ward_coefficient=task.ward_coefficient))
    return Media(conductivity, inertia)


def carbon_years(media_volume: float, dry_density: float, removed_per_year: float) -> float:
    """Years until denitrification has used the carbon that it can get.

    Parameters
    ----------
    media_volume : float
        Volume of the media. [m3]
    dry_density : float
        Dry density in place. [kg/m3]
    removed_per_year : float
        Nitrate nitrogen removed. [kg]

    Returns
    -------
    float
        Years; oxygen and leaching are not counted, so the true clock is faster. [years]

    Raises
    ------
    OutOfDomain
        If nothing is removed.

    Notes
    -----
    t = 0.5 x 0.49 x w V / (1.07 M)    (derived)

    References
    ----------
    derived, stoichiometry 5 CH2O to 4 NO3; shares are judgement
    """
    if removed_per_year <= 0:
        raise OutOfDomain(
            f"removed_per_year is {removed_per_year:.4g} kg. It must be above 0. "
            "See what the bed removes first."
        )
    carbon = USABLE_SHARE * CARBON_OF_WOOD * dry_density * media_volume
    return carbon / (CARBON_PER_NITROGEN * removed_per_year)

# SPDX-License-Identifier: Apache-2.0
"""Range of measured loads: what is shared counted once, what is separate counted by itself.

The error of a rating multiplies the load into the bed and the load out of it alike, so that it
counts once in what was removed; what the laboratory reads too high everywhere falls out of every
percent. Errors of the two ways of the water are apart. Draws carry all of it, so that no ratio is
taken to be normal.
"""

from dataclasses import dataclass

import numpy as np

from tilewater.basis.domain import require_not_negative
from tilewater.basis.tables import read_table
from tilewater.monitoring.series import Floats

PACKAGE = "tilewater.monitoring"
TABLE = "practice_measurement_errors"
DRAWS = 4000
SEED = 605
TINY = 1e-30


@dataclass(frozen=True)
class MeasurementErrors:
    """Standard errors of what was measured.

    Attributes
    ----------
    flow_treated, flow_bypass, flow_total : float
        Of a rated flow, as a share, common to the whole record. [-]
    zero_m : float
        Of the zero of a level logger, common to the whole record. [m]
    laboratory : float
        Of a single sample, as a share. [-]
    laboratory_common : float
        Common to all samples of all places, as a share. [-]
    storage : float
        Of all samples of one place, by what happened to the bottles, as a share. [-]
    sampling : float
        Of a load by too few samples, where there are too few to tell, as a share. [-]
    """

    flow_treated: float
    flow_bypass: float
    flow_total: float
    zero_m: float
    laboratory: float
    laboratory_common: float
    storage: float
    sampling: float


def usual_errors() -> MeasurementErrors:
    """Usual standard errors of a measured record, in the judgement of the table they come from.

    Returns
    -------
    MeasurementErrors
        Each with its label in `data/practice_measurement_errors.csv`. [-]

    References
    ----------
    harmel2006, sizes of the errors, from memory
    practice, where it says nothing
    """
    rows = {r.text("slug"): r.number("error") for r in read_table(PACKAGE, TABLE).rows}
    return MeasurementErrors(**rows)


@dataclass(frozen=True)
class Drawn:
    """Loads and volumes as they may have been, one of each for each draw.

    Attributes
    ----------
    treated_m3, bypass_m3 : array
        Volumes. [m3]
    bed_in_kg, bypass_kg, removed_kg : array
        Loads. [kg]
    """

    treated_m3: Floats
    bypass_m3: Floats
    bed_in_kg: Floats
    bypass_kg: Floats
    removed_kg: Floats

    @property
    def bed_out_kg(self) -> Floats:
        """Load out of the practice. [kg]"""
        return self.bed_in_kg - self.removed_kg

    @property
    def total_in_kg(self) -> Floats:
        """Load that came to the site. [kg]"""
        return self.bed_in_kg + self.bypass_kg

    @property
    def site_percent(self) -> Floats:
        """Share of the whole load removed. [%]"""
        return 100.0 * self.removed_kg / np.maximum(self.total_in_kg, TINY)

    @property
    def bed_percent(self) -> Floats:
        """Share removed of the load into the practice. [%]"""
        return 100.0 * self.removed_kg / np.maximum(self.bed_in_kg, TINY)

    @property
    def treated_share(self) -> Floats:
        """Share of the water that went through. [-]"""
        return self.treated_m3 / np.maximum(self.treated_m3 + self.bypass_m3, TINY)


@dataclass(frozen=True)
class Shares:
    """Relative errors that are common to a way of the water, as shares of its volume.

    Attributes
    ----------
    rating, zero, gaps : float
        Of the rating, of the zero of the logger, of the bridged gaps. [-]
    """

    rating: float
    zero: float
    gaps: float


def drawn_loads(
    *,
    volumes_m3: tuple[float, float],
    inlet_draws: Floats,
    removed_draws: Floats,
    treated: Shares,
    bypass: Shares,
    errors: MeasurementErrors,
    only: str = "",
) -> Drawn:
    """Loads with every error in them, or with one of them alone.

    Parameters
    ----------
    volumes_m3 : tuple of float
        Treated and bypassed. [m3]
    inlet_draws : array
        Loads into the bed and past it by what the samples leave open, two columns. [kg]
    removed_draws : array
        What was removed, by what the samples leave open. [kg]
    treated, bypass : Shares
        Errors of the two flows. [-]
    errors : MeasurementErrors
        Of the laboratory. [-]
    only : str
        "flow", "zero", "gaps", "laboratory" or "sampling" for that error alone; "" for all.

    Returns
    -------
    Drawn
        As many as the draws given. [kg]

    Notes
    -----
    L = f_lab f_Q (1 + z + g) X;  R = f_lab f_Q (1 + z + g) (X_in - X_out)    (harmel2006)

    f_Q is one factor for the whole of a flow, so it counts once in R. What happens to the bottles
    of one place moves R by the load of that place.

    References
    ----------
    harmel2006, errors combined root-sum-square, from memory
    derived, common factors counted once
    """
    for name, value in (("rating", treated.rating), ("laboratory", errors.laboratory_common)):
        require_not_negative(name, value, "", "State the error as a share")
    count = removed_draws.size
    random = np.random.default_rng(SEED)
    normal = random.standard_normal((9, count))
    has = {name: float(only in ("", name)) for name in ("flow", "zero", "gaps", "laboratory")}
    if only not in ("", "sampling"):
        inlet_draws = np.broadcast_to(np.mean(inlet_draws, axis=0), inlet_draws.shape)
        removed_draws = np.broadcast_to(np.mean(removed_draws), removed_draws.shape)
    factors = [
        np.exp(has["flow"] * way.rating * normal[at] - 0.5 * (has["flow"] * way.rating) ** 2)
        * (1.0 + has["zero"] * way.zero * normal[at + 1])
        * (1.0 + has["gaps"] * way.gaps * normal[at + 2])
        for at, way in ((0, treated), (3, bypass))
    ]
    f_treated, f_bypass = (np.maximum(factor, 0.0) for factor in factors)
    lab = 1.0 + has["laboratory"] * errors.laboratory_common * normal[6]
    kept_in = 1.0 + has["laboratory"] * errors.storage * normal[7]
    kept_out = 1.0 + has["laboratory"] * errors.storage * normal[8]
    raw_in = inlet_draws[:, 0]
    raw_out = raw_in - removed_draws
    return Drawn(
        volumes_m3[0] * f_treated,
        volumes_m3[1] * f_bypass,
        lab * f_treated * kept_in * raw_in,
        lab * f_bypass * kept_in * inlet_draws[:, 1],
        lab * f_treated * (kept_in * raw_in - kept_out * raw_out),
    )


def removed_standard_error(
    load_in_kg: float,
    load_out_kg: float,
    *,
    flow_error: float,
    concentration_in: float,
    concentration_out: float,
) -> float:
    """Standard error of a removed load in closed form, flow counted once.

    Parameters
    ----------
    load_in_kg : float
        Into the practice. [kg]
    load_out_kg : float
        Out of it. [kg]
    flow_error : float
        Standard error of the flow that both share, as a share. [-]
    concentration_in : float
        Of the inlet concentration, as a share. [-]
    concentration_out : float
        Of the outlet concentration, as a share. [-]

    Returns
    -------
    float
        Standard error. [kg]

    Notes
    -----
    u^2 = (u_Q (L_in - L_out))^2 + (u_in L_in)^2 + (u_out L_out)^2    (harmel2006)

    References
    ----------
    harmel2006, root-sum-square of errors, from memory
    derived, a common factor multiplies the difference
    """
    return float(
        np.sqrt(
            (flow_error * (load_in_kg - load_out_kg)) ** 2
            + (concentration_in * load_in_kg) ** 2
            + (concentration_out * load_out_kg) ** 2
        )
    )

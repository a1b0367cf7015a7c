# SPDX-License-Identifier: Apache-2.0
"""Removal rates as beds show them, and what they say of other ages and other nitrate.

A published rate was measured at some age of the chips and at some nitrate. Here it is carried to
another age, and to the largest rate of a law that fades as nitrate runs out.
"""

import numpy as np

from tilewater.basis.domain import Number, require_not_negative, require_positive, require_share


def rate_at_age(
    rate: Number,
    years: Number,
    *,
    flush: Number,
    flush_years: Number,
    decline_per_year: Number,
) -> Number:
    """Removal rate of chips of an age, from that of aged chips before they decline.

    Parameters
    ----------
    rate : float or array
        Past the flush, in any unit. [-]
    years : float or array
        Age of the chips. [years]
    flush : float or array
        What new chips have over that, as a share. [-]
    flush_years : float or array
        Time in which the flush falls to 37 percent. [years]
    decline_per_year : float or array
        Share of the rate lost in a year. [1/year]

    Returns
    -------
    float or array
        Rate at that age, in the unit of `rate`. [-]

    Raises
    ------
    OutOfDomain
        If a value is negative, the time of the flush not above zero or the decline no share.

    Notes
    -----
    r(t) = r (1 + f exp(-t / tau)) (1 - d)^t    (derived)

    With f 1.2, tau half a year and d 0.015 chips of seven years have 0.41 of the rate of new ones;
    one laboratory found 0.40 to 0.59, and 0.75 of that of two-year chips, where this gives 0.91
    (robertson2010, summary).

    References
    ----------
    derived, judgement of this project
    robertson2010, summary
    """
    require_not_negative("rate", rate, "", "Removal counts up")
    require_not_negative("years", years, "years", "Count from new chips")
    require_not_negative("flush", flush, "", "Use 0 for chips past their flush")
    require_positive("flush_years", flush_years, "years", "Use 0.5 if in doubt")
    require_share("decline_per_year", decline_per_year, "Use 0.015 if in doubt")
    fresh = 1.0 + np.multiply(flush, np.exp(-np.divide(years, flush_years)))
    return (rate * fresh * np.power(np.subtract(1.0, decline_per_year), years))[()]


def rate_where_nitrate_abounds(
    rate: Number, *, nitrate_mg_per_l: Number, half_saturation_mg_per_l: Number
) -> Number:
    """Largest rate of the law with a half saturation, from a rate seen at some nitrate.

    Without it a larger half saturation would lower every rate, also that which was measured.

    Parameters
    ----------
    rate : float or array
        As seen, in any unit. [-]
    nitrate_mg_per_l : float or array
        Nitrate at which it was seen, as N. [mg/L]
    half_saturation_mg_per_l : float or array
        Nitrate at which the rate is half of the largest; 0 for zero order. [mg/L]

    Returns
    -------
    float or array
        Largest rate, in the unit of `rate`. [-]

    Raises
    ------
    OutOfDomain
        If a value is negative or the nitrate not above zero.

    Notes
    -----
    r_max = r (Km + C) / C    (michaelis1913)

    References
    ----------
    michaelis1913, rate law
    """
    require_not_negative("rate", rate, "", "Removal counts up")
    require_positive("nitrate_mg_per_l", nitrate_mg_per_l, "mg/L", "Use 10 if in doubt")
    require_not_negative("half_saturation_mg_per_l", half_saturation_mg_per_l, "mg/L", "Use 2.5")
    return (rate * np.add(half_saturation_mg_per_l, nitrate_mg_per_l) / nitrate_mg_per_l)[()]

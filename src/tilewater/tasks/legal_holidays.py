# SPDX-License-Identifier: Apache-2.0
"""Legal holidays around a day: those of country and state, and those that the job adds."""

from collections.abc import Iterable
from datetime import date


def legal_holidays(state: str, around: str, own: Iterable[str] = ()) -> tuple[str, ...]:
    """Legal holidays of the year of a day and the year after it.

    Parameters
    ----------
    state : str
        As the job names it: "Iowa" or "IA"; those of the country alone where it is none.
    around : str
        A day, as `2027-09-02`.
    own : iterable of str
        Further holidays of the county.

    Returns
    -------
    tuple of str
        In their order, as `2027-09-06`.
    """
    from holidays import country_holidays
    from holidays.countries.united_states import UnitedStates

    year = date.fromisoformat(around[:10]).year
    known = {name.casefold(): code for name, code in UnitedStates.subdivisions_aliases.items()}
    known |= {code.casefold(): code for code in UnitedStates.subdivisions}
    found = country_holidays(
        "US", subdiv=known.get(state.strip().casefold()), years=(year, year + 1)
    )
    return tuple(sorted({*(day.isoformat() for day in found), *own}))

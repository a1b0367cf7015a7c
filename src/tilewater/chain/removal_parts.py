# SPDX-License-Identifier: Apache-2.0
"""Small functions of what the bed removes: loads, percents, and what settles a rule."""

from tilewater.basis.unknown import Unknown

CLEAR = 0.9
"""Share of the draws that must agree before a rule is judged by them. [-]"""


def share_of_load(load: float, treated_share: float) -> float:
    """Load of the water that goes through the practice.

    Parameters
    ----------
    load : float
        Load of the year. [kg]
    treated_share : float
        Share of the water that goes through. [-]

    Returns
    -------
    float
        Load. [kg]

    Notes
    -----
    M = f M_load    (derived)

    Nitrate is taken alike in treated and bypassed water.

    References
    ----------
    derived, a share of a load
    """
    return treated_share * load


def percent_of(part: float, whole: float) -> float:
    """Part of a whole in percent.

    Parameters
    ----------
    part, whole : float
        In the same unit. [kg]

    Returns
    -------
    float
        Percent; 0 of nothing. [%]

    Notes
    -----
    p = 100 part / whole    (derived)

    References
    ----------
    derived, a ratio of loads
    """
    return 100.0 * part / whole if whole > 0 else 0.0


def settled_reduction(
    low: float, high: float, limit: float, basis: str = "measured"
) -> float | Unknown:
    """Reduction in the treated water, where low and high rate give the same answer to the rule.

    Parameters
    ----------
    low, high : float
        Reduction at the low and the high published rate, in percent. [%]
    limit : float
        What the rule asks, as a ratio. [-]
    basis : str
        What the flow rests on; a treated share that is only stated may fail the rule but never
        satisfies it. [-]

    Returns
    -------
    float or Unknown
        The reduction nearest the limit, as a ratio; unknown where the two disagree. [-]

    Notes
    -----
    low if low >= limit, high if high < limit, else not known    (derived)

    References
    ----------
    derived, a range is not one figure
    """
    if low / 100 >= limit and basis == "measured":
        return low / 100
    if high / 100 < limit:
        return high / 100
    sides = "above the limit" if low / 100 >= limit else "on both sides of the limit"
    screened = "" if basis == "measured" else ", with a treated share that is a screening figure"
    span = f"{two_figures(low)} to {two_figures(high)} percent"
    return Unknown(
        f"published rates give {span}, {sides}{screened}",
        "monitor a bed nearby, or sample this one for a season",
        ("removal.bed_percent.p10", "removal.bed_percent.p90"),
    )


def likely_reduction(middle: float, probability: float) -> float | Unknown:
    """Reduction in the treated water, where the draws are clear enough to judge a rule by it.

    Parameters
    ----------
    middle : float
        Middle of the draws. [-]
    probability : float
        Share of the draws that keep the rule. [-]

    Returns
    -------
    float or Unknown
        The middle where nine in ten draws agree; unknown where they do not. [-]

    Notes
    -----
    median, judged where P >= 0.9 or P <= 0.1    (practice)

    References
    ----------
    practice, how clear is clear enough
    """
    if probability >= CLEAR or probability <= 1.0 - CLEAR:
        return middle
    return Unknown(
        f"{probability:.0%} of the draws keep the rule; their middle is {middle:.0%}",
        "monitor a bed nearby, or sample this one for a season",
        ("removal.probability_of_reduction",),
    )


def two_figures(number: float) -> str:
    """A number with two figures.

    Parameters
    ----------
    number : float
        Any number. [-]
    """
    return f"{float(f'{number:.2g}'):g}"

# SPDX-License-Identifier: Apache-2.0
"""Whether the measured time was like other years, so that its percent says something of them.

A practice takes a share of the water that depends on how wet a year is: a dry one flatters it. So
the rain and the days with flow of the measured months are held against the same months of the
years on record. Where they are far out the loads stay true, but no percent is a headline.
"""

from dataclasses import dataclass

import numpy as np

from tilewater.basis.findings import Finding
from tilewater.monitoring.series import Floats

LEAST_DAYS = 0.30
"""Share of the usual days with flow below which a time is not representative. [-]"""
OUTER = 0.10
"""Share of the years on each side that counts as unusual. [-]"""


@dataclass(frozen=True)
class YearKind:
    """A measured time among the same months of other years.

    Attributes
    ----------
    measured, usual : float
        Its sum, and the median of the other years, in one unit. [-]
    rank : float
        Share of the years that had less. [-]
    words : str
        dry, usual or wet; or few or many, for days.
    """

    measured: float
    usual: float
    rank: float
    words: str


def kind_of_year(measured: float, others: Floats, names: tuple[str, str, str]) -> YearKind:
    """A measured sum among those of other years.

    Parameters
    ----------
    measured : float
        Rain, flow or days of the measured months. [-]
    others : array
        The same of each year on record. [-]
    names : tuple of str
        Words for less, as usual and more.

    Returns
    -------
    YearKind
        Unusual in the outer tenths. [-]

    Notes
    -----
    rank = share of years below    (derived)

    References
    ----------
    derived, a rank
    practice, the outer tenths are unusual
    """
    below = float(np.mean(others < measured) + 0.5 * np.mean(others == measured))
    words = names[0] if below < OUTER else names[2] if below > 1.0 - OUTER else names[1]
    return YearKind(measured, float(np.median(others)), below, words)


def is_representative(flow_days: float, usual_flow_days: float) -> bool:
    """Whether a time had enough days with flow for its percent to say something of others.

    Parameters
    ----------
    flow_days : float
        Days with flow in the measured time. [days]
    usual_flow_days : float
        Of the same months in the median year. [days]

    Returns
    -------
    bool

    Notes
    -----
    flow days >= 0.3 usual    (practice)

    References
    ----------
    practice, three tenths of the usual days
    """
    return flow_days >= LEAST_DAYS * usual_flow_days


def is_representative_range(flow_days: float, usual_flow_days: float) -> tuple[Finding, ...]:
    """Say where a time had too few days with flow.

    Parameters
    ----------
    flow_days : float
        Days with flow in the measured time. [days]
    usual_flow_days : float
        Of the same months in the median year. [days]

    Returns
    -------
    tuple of Finding
    """
    if is_representative(flow_days, usual_flow_days):
        return ()
    return (
        Finding(
            "monitor-not-representative",
            "caution",
            "The measured time",
            f"Water flowed on {flow_days:.0f} days; {usual_flow_days:.0f} are usual in these "
            f"months. Below {LEAST_DAYS:.0%} of the usual days the time is not representative: "
            "loads are told, no percent is a headline. Measure another year.",
            flow_days,
            ">=",
            LEAST_DAYS * usual_flow_days,
            "days",
            "practice",
        ),
    )

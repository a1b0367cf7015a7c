# SPDX-License-Identifier: Apache-2.0
"""What must be known before a tracer test is believed, and the porosity that it shows.

The limits are common practice: more tracer than was put in, or water that stays longer than the
pores can hold it, is an error of flow, mass or volume and no property of a bed.
"""

import numpy as np

from tilewater.basis.domain import Number, require_positive
from tilewater.basis.findings import Finding, Severity
from tilewater.monitoring.tracer import TracerSummary

MOST_RECOVERED = 1.10
"""Recovery above this is no test but an error in flow or mass, practice. [-]"""
LEAST_RECOVERED = 0.80
"""Below this the mean time is of a part of the tracer; seven beds had 0.82 on average. [-]"""
MOST_EFFECTIVE = 1.10
"""An effective volume above this says that volume, porosity or flow is wrong, practice. [-]"""
RETURNED = 0.05
"""The last sample counts as background up to this share of the peak, practice. [-]"""
STEADY = 0.10
"""Effective volume by time and by volume differ by less than this in a steady flow. [-]"""


def effective_porosity_by_tracer(
    mean_residence: Number, flow: Number, wet_volume: Number
) -> Number:
    """Effective porosity that a tracer test shows.

    Parameters
    ----------
    mean_residence : float or array
        Of the tracer. [s]
    flow : float or array
        Mean through the bed in the test. [m3/s]
    wet_volume : float or array
        Media under water in the test, pores and chips together. [m3]

    Returns
    -------
    float or array
        Share of the wet media that the water passed through; dead zones count as chips. [-]

    Raises
    ------
    OutOfDomain
        If a time, flow or volume is not above zero.

    Notes
    -----
    phi = Q tau / V    (ghane2019)

    References
    ----------
    ghane2019, effective porosity in place from bromide
    """
    require_positive("mean_residence", mean_residence, "s", "Check the times of the samples")
    require_positive("flow", flow, "m3/s", "Give the flow of the test")
    require_positive("wet_volume", wet_volume, "m3", "Give the media under water in the test")
    return np.divide(np.multiply(flow, mean_residence), wet_volume)[()]


def tracer_findings(summary: TracerSummary, name: str) -> tuple[Finding, ...]:
    """What must be known before a tracer test is believed.

    Parameters
    ----------
    summary : TracerSummary
        As sampled. [-]
    name : str
        Of the test. [-]

    Returns
    -------
    tuple of Finding
        Empty for a test without a doubt.

    References
    ----------
    practice, limits of recovery and effective volume
    ghane2019, seven beds gave back 82 percent of their bromide on average
    """
    subject = f"Tracer test {name}"
    found = [
        *_of_recovery(summary.recovery, subject),
        *_of_volume(summary, subject),
        *_of_tail(summary.last_share, subject),
    ]
    return tuple(found)


def is_final(summary: TracerSummary) -> bool:
    """Whether an efficiency of the test may be printed as final."""
    return summary.recovery <= MOST_RECOVERED and summary.effective_volume_ratio <= MOST_EFFECTIVE


def _of_recovery(recovery: float, subject: str) -> tuple[Finding, ...]:
    if recovery > MOST_RECOVERED:
        message = (
            f"{recovery:.0%} of the tracer was found. More than {MOST_RECOVERED:.0%} cannot be: "
            "check flow or injected mass, and the background. No efficiency of this test is final."
        )
        return (
            _told("tracer-recovery-high", "caution", subject, message, recovery, MOST_RECOVERED),
        )
    if recovery < LEAST_RECOVERED:
        message = (
            f"{recovery:.0%} of the tracer was found, so the mean time is that of the faster part "
            "and comes out short. Read t10 and the Morrill index, which a cut-off tail changes "
            "least."
        )
        code = "tracer-recovery-low"
        return (_told(code, "caution", subject, message, recovery, LEAST_RECOVERED, ">="),)
    return ()


def _of_volume(summary: TracerSummary, subject: str) -> tuple[Finding, ...]:
    by_time, by_volume = summary.effective_volume_ratio, summary.effective_volume_by_volume
    found = []
    if by_time > MOST_EFFECTIVE:
        message = (
            f"The tracer stayed {by_time:.2f} times as long as the whole pore volume allows: "
            "volume, porosity or flow is wrong. No efficiency of this test is final."
        )
        found.append(
            _told("tracer-volume-high", "caution", subject, message, by_time, MOST_EFFECTIVE)
        )
    if abs(by_volume - by_time) > STEADY * by_time:
        message = (
            f"The flow was not steady: the effective volume is {by_time:.2f} counted in time and "
            f"{by_volume:.2f} counted in water that passed. Lean on the second."
        )
        off = abs(by_volume / by_time - 1.0)
        found.append(_told("tracer-flow-unsteady", "caution", subject, message, off, STEADY))
    return tuple(found)


def _of_tail(last_share: float, subject: str) -> tuple[Finding, ...]:
    if last_share <= RETURNED:
        return ()
    message = (
        f"The last sample still holds {last_share:.0%} of the peak: the tracer had not returned to "
        "its background. The tail is extrapolated as an exponential decline and stands beside the "
        "sampled curve."
    )
    return (_told("tracer-not-returned", "note", subject, message, last_share, RETURNED),)


def _told(
    code: str,
    severity: Severity,
    subject: str,
    message: str,
    value: float,
    limit: float,
    operator: str = "<=",
) -> Finding:
    return Finding(
        code,
        severity,
        subject,
        message,
        value=value,
        operator=operator,
        limit=limit,
        unit="-",
        source="practice",
    )

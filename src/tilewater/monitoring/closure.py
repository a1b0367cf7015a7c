# SPDX-License-Identifier: Apache-2.0
"""Whether the water and the loads of a record add up, three ways.

By the main: all that comes. By the bed: in and out of it. By both ways: through and past against
the main. Where all three flows are logged they close only as well as they are measured, and how
badly they do is the best single check of a record. Where one is the difference of the others the
record closes by definition; then what was cut off below zero is all that shows an error.
"""

from tilewater.basis.domain import require_not_negative, require_positive
from tilewater.basis.findings import Finding

USUAL = 0.05
"""Closure error up to which a record is called closed. [-]"""


def closure_error_of(total: float, treated: float, bypass: float) -> float:
    """How far both ways together are from what came.

    Parameters
    ----------
    total : float
        What came by the main, a volume or a load. [-]
    treated : float
        Through the practice, in the same unit. [-]
    bypass : float
        Past it, in the same unit. [-]

    Returns
    -------
    float
        Above zero where the parts add up to more than came. [-]

    Raises
    ------
    OutOfDomain
        If nothing came, or a part is negative.

    Notes
    -----
    e = (treated + bypass) / total - 1    (derived)

    References
    ----------
    derived, a balance
    """
    require_positive("total", total, "", "Check the flow of the main")
    require_not_negative("treated", treated, "", "Check its direction")
    require_not_negative("bypass", bypass, "", "Check its direction")
    return (treated + bypass) / total - 1.0


def closure_error_of_range(total: float, treated: float, bypass: float) -> tuple[Finding, ...]:
    """Say where a record does not close.

    Parameters
    ----------
    total : float
        What came by the main. [-]
    treated : float
        Through the practice. [-]
    bypass : float
        Past it. [-]

    Returns
    -------
    tuple of Finding
        Empty within five percent.
    """
    error = closure_error_of(total, treated, bypass)
    if abs(error) <= USUAL:
        return ()
    more = "more" if error > 0.0 else "less"
    return (
        Finding(
            "monitor-closure",
            "caution",
            "Closure",
            f"What went through and past the practice adds up to {abs(error):.1%} {more} than came "
            f"by the main ({treated + bypass:.5g} against {total:.5g}). A record closes within "
            f"{USUAL:.0%}. Look at the zero of each logger, at flows that were cut off, and at "
            "the ratings.",
            error,
            "<=",
            USUAL,
            "-",
            "practice",
        ),
    )

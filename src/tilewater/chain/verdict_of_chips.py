# SPDX-License-Identifier: Apache-2.0
"""Whether a load of chips is accepted, rejected, or its test is void."""

from typing import Literal

from tilewater.basis.requirement import Status

Verdict = Literal["accept", "reject", "void", "not known"]


def verdict_of_load(
    *,
    lost: Status,
    gained: Status,
    fines: Status,
    middle: Status,
    soil: str,
    leaves: str,
    nails: str,
    treated_wood: str,
) -> Verdict:
    """Accept, reject or void.

    Parameters
    ----------
    lost, gained : "holds", "short" or "not known"
        Whether sieving kept the mass; a test that did not is void. [-]
    fines, middle : "holds", "short" or "not known"
        How the gradation stands. [-]
    soil, leaves, nails, treated_wood : str
        What an eye saw in the load: "yes", "no" or "not known". [-]

    Returns
    -------
    "accept", "reject", "void" or "not known"
        What an eye rejects is rejected whatever the sieves say; a void test says nothing of the
        gradation; what nobody looked for is never taken as absent. [-]
    """
    seen, stand = (soil, leaves, nails, treated_wood), (fines, middle)
    if "yes" in seen:
        return "reject"
    if "short" in (lost, gained):
        return "void"
    if "short" in stand:
        return "reject"
    if "not known" in seen or "not known" in stand:
        return "not known"
    return "accept"

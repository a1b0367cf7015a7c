# SPDX-License-Identifier: Apache-2.0
"""What could be measured: what it settles, how well, what it costs, and which comes first.

The list is judgement; the job gives its own prices. What comes first is what settles or changes the
choice most often for its price, then what takes most of the spread away for its price. Two that
cannot be told apart are said to be so.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from tilewater.basis.errors import UnknownName
from tilewater.basis.tables import read_table
from tilewater.chain.measuring import Settled, Worth, share_settled
from tilewater.chain.variance_shares import Array, Share, VarianceShares
from tilewater.nitrate.parameter_ranges import ParameterRange

ANY = "any"
MOSTLY = 0.5
"""Chance from which a measurement is said to settle the choice."""
NOTHING = Share(0.0, 0.0)
LITTLE = 0.05
"""Share of the spread or of the results below which a measurement changes little."""


@dataclass(frozen=True)
class Measurement:
    """One measurement that could be made.

    Attributes
    ----------
    slug : str
        Name for good, as the job prices it.
    practice : str
        "bed", "buffer", "raised" or "any".
    settles : str
        Parameter that it measures.
    error : float
        Standard deviation, a share where the range is lognormal, else in its unit. [-]
    usd : float
        Price where the job states none. [USD]
    time : str
        When, or how long.
    words : str
        What is done.
    means : str
        What it answers.
    """

    slug: str
    practice: str
    settles: str
    error: float
    usd: float
    time: str
    words: str
    means: str


@dataclass(frozen=True)
class Weighed:
    """A measurement with its price and what it could change.

    Attributes
    ----------
    measurement : Measurement
    usd : float
        Price. [USD]
    worth : Worth or None
        What it could change in the choice; None where no choice is weighed.
    narrows : Share
        Share of the spread of what is removed that it takes away. [-]
    """

    measurement: Measurement
    usd: float
    worth: Worth | None
    narrows: Share

    @property
    def chance(self) -> Share:
        """Chance of another choice."""
        return NOTHING if self.worth is None else self.worth.chance

    @property
    def settles(self) -> Share:
        """Chance that an open choice is clear afterwards."""
        if self.worth is None or self.worth.was_settled:
            return NOTHING
        return self.worth.settles

    @property
    def changes(self) -> Share:
        """The larger of both."""
        return max(self.chance, self.settles, key=lambda each: each.share)


def measurements_of(practice: str, names: Sequence[str]) -> tuple[Measurement, ...]:
    """Measurements that settle a parameter drawn for a practice.

    Parameters
    ----------
    practice : str
        "bed", "buffer", ... [-]
    names : sequence of str
        Parameters that are drawn. [-]

    Returns
    -------
    tuple of Measurement
        In the order of the table.
    """
    return tuple(
        each for each in _all() if each.practice in (ANY, practice) and each.settles in names
    )


def measurement_of(slug: str) -> Measurement:
    """The measurement of a name."""
    found = next((each for each in _all() if each.slug == slug), None)
    if found is None:
        raise UnknownName(
            f"No measurement is called '{slug}'. Known: {', '.join(e.slug for e in _all())}."
        )
    return found


def settled_by(drawn: Array, parameter: ParameterRange, error: float) -> Settled:
    """What a measurement would know of a parameter, by the draws.

    Parameters
    ----------
    drawn : array
        Values of the parameter. [-]
    parameter : ParameterRange
        The range they were drawn from. [-]
    error : float
        Standard deviation of the measurement, a share where the range is lognormal. [-]

    Returns
    -------
    Settled

    Notes
    -----
    lognormal: ln x with e^2 = ln(1 + share^2)    (derived)

    References
    ----------
    derived, the logarithm of a lognormal number
    """
    if parameter.kind == "lognormal":
        return Settled(np.asarray(np.log(drawn)), float(np.sqrt(np.log1p(error**2))))
    return Settled(drawn, error)


def spread_taken(shares: VarianceShares, name: str, settled: Settled) -> Share:
    """Share of the spread of the answer that a measurement takes away.

    Parameters
    ----------
    shares : VarianceShares
        Of the answer. [-]
    name : str
        Parameter that is measured. [-]
    settled : Settled
        How well. [-]

    Returns
    -------
    Share
        Of the variance. [-]

    Notes
    -----
    S_i s^2 / (s^2 + e^2)    (derived)

    References
    ----------
    derived, the share of a parameter times what is settled of it
    """
    part = share_settled(settled.values, settled.error)
    first = shares.first[name]
    return Share(part * first.share, part * first.error)


def in_order(weighed: Sequence[Weighed]) -> tuple[Weighed, ...]:
    """Measurements by what they could change for their price, the most first.

    Parameters
    ----------
    weighed : sequence of Weighed
        As they come. [-]

    Returns
    -------
    tuple of Weighed
        By the chance to settle or change the choice for the price, then by the spread taken for
        it; what cannot be told from nothing counts as nothing.
    """

    def rank(each: Weighed) -> tuple[float, float]:
        chance = each.changes.share if each.changes.is_told else 0.0
        narrows = each.narrows.share if each.narrows.is_told else 0.0
        price = max(each.usd, 1.0)
        return (-chance / price, -narrows / price)

    return tuple(sorted(weighed, key=rank))


def cannot_tell(first: Weighed, second: Weighed) -> bool:
    """Whether two measurements cannot be told apart by what they change for their price.

    Parameters
    ----------
    first, second : Weighed
        The two. [-]

    Returns
    -------
    bool
        True where neither their chances nor the spread they take differ by twice their error,
        each over its price. [-]

    Notes
    -----
    |a/p_a - b/p_b| <= 2 sqrt((e_a/p_a)^2 + (e_b/p_b)^2)    (derived)

    References
    ----------
    derived, two standard errors of a difference
    """

    def apart(one: Share, other: Share) -> bool:
        p, q = max(first.usd, 1.0), max(second.usd, 1.0)
        error = float(np.hypot(one.error / p, other.error / q))
        return abs(one.share / p - other.share / q) > 2.0 * error

    return not apart(first.changes, second.changes) and not apart(first.narrows, second.narrows)


def advice_words(weighed: Weighed, practice: str) -> str:
    """What a measurement costs and what it could change, in a sentence.

    Parameters
    ----------
    weighed : Weighed
        The measurement. [-]
    practice : str
        What is designed, in words. [-]

    Returns
    -------
    str
        For the page and the report.
    """
    each = weighed.measurement
    head = f"{each.words[0].upper()}{each.words[1:]}: about {weighed.usd:,.0f} USD, {each.time}."
    parts = []
    if weighed.settles.is_told and weighed.settles.share >= LITTLE:
        if weighed.settles.share >= MOSTLY:
            return f"{head} Settles whether the {practice} fits and pays."
        share = 100 * weighed.settles.share
        parts.append(f"settles whether the {practice} fits and pays in {share:.0f} of 100 cases")
    if weighed.chance.is_told and weighed.chance.share >= LITTLE:
        parts.append(f"changes the choice in {100 * weighed.chance.share:.0f} of 100 cases")
    if weighed.narrows.is_told and weighed.narrows.share >= LITTLE:
        parts.append(
            f"takes away {100 * weighed.narrows.share:.0f} percent of the spread of what is removed"
        )
    if not parts:
        return f"{head} Tells {each.means}, which changes little here."
    return f"{head} Tells {each.means}: {', '.join(parts)}."


def weighed_of(
    measurement: Measurement, usd: float, worth: Worth | None, narrows: Share
) -> Weighed:
    """A measurement with its price and what it could change, as one record.

    Parameters
    ----------
    measurement : Measurement
        What would be measured. [-]
    usd : float
        Price. [USD]
    worth : Worth or None
        What it could change in the choice. [-]
    narrows : Share
        Share of the spread that it takes away. [-]

    Returns
    -------
    Weighed
    """
    return Weighed(measurement, usd, worth, narrows)


def choice_words(weighed: Weighed) -> str:
    """What a measurement could change in a choice among practices, in a sentence.

    Parameters
    ----------
    weighed : Weighed
        The measurement. [-]

    Returns
    -------
    str
        For the page and the owner.
    """
    parts = []
    if weighed.chance.is_told and weighed.chance.share >= LITTLE:
        parts.append(f"changes the choice in {100 * weighed.chance.share:.0f} of 100 cases")
    if weighed.settles.is_told and weighed.settles.share >= LITTLE:
        parts.append(f"makes it clear in {100 * weighed.settles.share:.0f} of 100")
    if not parts:
        return f"Tells {weighed.measurement.means}, which changes nothing in the choice."
    return f"Tells {weighed.measurement.means}: {' and '.join(parts)}."


def unknown_names(given: Mapping[str, object] | Sequence[str]) -> tuple[str, ...]:
    """Names that the job prices and the list does not have."""
    of_screening = read_table("tilewater.chain", "practice_screen_measurements").rows
    known = {each.slug for each in _all()} | {row.text("slug") for row in of_screening}
    return tuple(name for name in given if name not in known)


def _all() -> tuple[Measurement, ...]:
    return tuple(
        Measurement(
            slug=row.text("slug"),
            practice=row.text("practice"),
            settles=row.text("settles"),
            error=row.number("error"),
            usd=row.number("usd"),
            time=row.text("time"),
            words=row.text("words"),
            means=row.text("means"),
        )
        for row in read_table("tilewater.chain", "practice_measurements").rows
    )

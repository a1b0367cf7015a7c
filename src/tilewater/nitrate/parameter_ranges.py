# SPDX-License-Identifier: Apache-2.0
"""Ranges of what is uncertain in a bed, and draws from them that anybody can repeat.

A range holds three values and what they mean. Draws are stratified: of a thousand, one falls into
each thousandth of the range. Each parameter has random numbers of its own, made from its name and
the seed, so that the others keep theirs when one is added or left out. Parameters are drawn apart:
what goes together in nature, as new and aged chips, is drawn as a value and a share of it.
"""

import hashlib
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from statistics import NormalDist
from typing import Literal, cast, get_args

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.domain import refuse
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.tables import Row, read_table

Kind = Literal["lognormal", "normal", "triangular", "uniform"]
About = Literal["ratio", "difference"]
Values = NDArray[np.float64]
Draws = dict[str, Values]

PACKAGE = "tilewater.nitrate"
TABLE = "practice_parameter_ranges"
NORMAL = NormalDist()
QUANTILES = {"p5": 0.05, "p10": 0.10, "p90": 0.90, "p95": 0.95}
"""Meanings of an end of a normal or lognormal range."""
END = "end"
"""Meaning of an end of a triangular or uniform range."""


@dataclass(frozen=True)
class ParameterRange:
    """What is known of one parameter.

    Attributes
    ----------
    slug : str
        Name for good; it makes the random numbers.
    kind : "lognormal", "normal", "triangular" or "uniform"
        A lognormal or normal has its own spread on each side of `mid`.
    low, mid, high : float
        In `unit`. `mid` is the median; the mode of a triangular, of no effect in a uniform range.
    low_means, high_means : str
        "p5", "p10", "p90" or "p95", or "end" of a triangular or uniform range.
    unit : str
    least, most : float
        No draw lies beyond.
    about : "ratio" or "difference"
        How the range moves with its middle.
    source : str
        Key of `basis/sources.toml` of what it rests on.
    honesty : str
        How far that was seen.
    basis : str
        What it rests on, in words.
    """

    slug: str
    kind: Kind
    low: float
    mid: float
    high: float
    low_means: str
    high_means: str
    unit: str
    least: float = -math.inf
    most: float = math.inf
    about: About = "ratio"
    source: str = "practice"
    honesty: str = "practice"
    basis: str = ""

    def __post_init__(self) -> None:
        tailed = self.kind in ("lognormal", "normal")
        meant = (self.low_means in ("p5", "p10"), self.high_means in ("p90", "p95"))
        if self.kind not in get_args(Kind) or self.about not in get_args(About):
            raise OutOfDomain(
                f"{self.slug} is {self.kind} about its middle by {self.about}. Known: "
                f"{', '.join(get_args(Kind))}; {', '.join(get_args(About))}. Correct the range."
            )
        if meant != (tailed, tailed) or (not tailed and {self.low_means, self.high_means} != {END}):
            raise OutOfDomain(
                f"The ends of {self.slug} mean {self.low_means} and {self.high_means}. A "
                f"{self.kind} range has {'p5 or p10 and p90 or p95' if tailed else 'end twice'}. "
                f"Correct the range."
            )
        if not self.low <= self.mid <= self.high or not self.low < self.high:
            raise self._refuse("Low, middle and high rise")
        if self.kind == "lognormal" and not self.low > 0.0:
            raise self._refuse("A lognormal range lies above zero")
        if not self.least <= self.mid <= self.most or not self.least < self.most:
            raise self._refuse(f"The middle lies from {self.least:g} to {self.most:g}")

    def about_value(self, mid: float) -> "ParameterRange":
        """Return the range with another middle, its ends moved by the same ratio or difference."""
        if self.about == "difference":
            moved = replace(self, low=self.low + mid - self.mid, mid=mid)
            return replace(moved, high=self.high + mid - self.mid)
        if not mid > 0.0:
            raise refuse(self.slug, mid, self.unit, "It lies above zero", "Check the value")
        ratio = mid / self.mid
        return replace(self, low=self.low * ratio, mid=mid, high=self.high * ratio)

    def _refuse(self, allowed: str) -> OutOfDomain:
        three = f"{self.low:g}, {self.mid:g}, {self.high:g} {self.unit}".strip()
        return OutOfDomain(f"{self.slug} is {three}. {allowed}. Correct the range.")


def default_ranges() -> dict[str, ParameterRange]:
    """Ranges that ship with the program, by name.

    Returns
    -------
    dict of str to ParameterRange
        In the order of the table.
    """
    return read_ranges(PACKAGE, TABLE)


def read_ranges(package: str, table: str) -> dict[str, ParameterRange]:
    """Ranges of a table of a package, by name, in its order."""
    return {row.text("slug"): _range(row) for row in read_table(package, table).rows}


def quantile_of_range(share: Values, parameter: ParameterRange) -> Values:
    """Values below which given shares of a parameter lie.

    Parameters
    ----------
    share : array
        Shares above 0 and below 1. [-]
    parameter : ParameterRange
        The range.

    Returns
    -------
    array
        Values, in the unit of the range. [-]

    Raises
    ------
    OutOfDomain
        If a share is not between 0 and 1.

    Notes
    -----
    normal: x = mid + s z(u), s by the end on that side;  lognormal: the same of ln x    (derived)
    triangular, uniform: the inverse of their distribution    (derived)

    Where a range reaches past `least` or `most`, what lies beyond is left out and the rest keeps
    its proportions.

    References
    ----------
    derived, three values and their meaning
    """
    u = np.asarray(share, dtype=np.float64)
    if not np.all((u > 0.0) & (u < 1.0)):
        raise refuse("share", u, "", "It lies between 0 and 1", "Leave out both ends")
    first, last = _share_below(parameter.least, parameter), _share_below(parameter.most, parameter)
    within = first + u * (last - first)
    # Only rounding lies beyond here.
    return np.clip(_quantile(within, parameter), parameter.least, parameter.most)


def draw_parameters(
    ranges: Iterable[ParameterRange], count: int, *, seed: int
) -> dict[str, Values]:
    """Draws of every parameter, apart from each other.

    Parameters
    ----------
    ranges : iterable of ParameterRange
        What is drawn; each name once. [-]
    count : int
        Draws. Another count gives other draws. [-]
    seed : int
        Another seed gives other draws. [-]

    Returns
    -------
    dict of str to array of shape (count,)
        Values by name, each in the unit of its range. [-]

    Raises
    ------
    OutOfDomain
        If there is nothing to draw, or a name stands twice.

    Notes
    -----
    u(i) = (place of i + v(i)) / n, places shuffled, v uniform; x = quantile(u)    (mckay1979)

    Random numbers come from the name and the seed alone.

    References
    ----------
    mckay1979, Latin hypercube
    """
    if count < 1:
        raise refuse("count", float(count), "", "At least one is drawn", "Ask for 1024")
    drawn: dict[str, Values] = {}
    for each in ranges:
        if each.slug in drawn:
            raise OutOfDomain(f"'{each.slug}' is drawn twice. A name is drawn once. Leave one out.")
        drawn[each.slug] = quantile_of_range(_strata(each.slug, count, seed), each)
    return drawn


def draws_of_ranges(ranges: Mapping[str, ParameterRange], count: float, seed: float) -> Draws:
    """Draws of every range, as the chain asks for them.

    Parameters
    ----------
    ranges : mapping of str to ParameterRange
        By name. [-]
    count : float
        Draws. [-]
    seed : float
        Another seed gives other draws. [-]

    Returns
    -------
    dict of str to array of shape (count,)
        Values by name, each in the unit of its range. [-]

    Notes
    -----
    x_i = quantile_i(u_i), u stratified and drawn for each name by itself    (mckay1979)

    References
    ----------
    mckay1979, Latin hypercube
    """
    return draw_parameters(ranges.values(), int(count), seed=int(seed))


def _range(row: Row) -> ParameterRange:
    return ParameterRange(
        slug=row.text("slug"),
        kind=cast(Kind, row.text("kind")),
        low=row.number("low"),
        mid=row.number("mid"),
        high=row.number("high"),
        low_means=row.text("low_means"),
        high_means=row.text("high_means"),
        unit=row.text("unit"),
        least=row.number("least") if row.is_given("least") else -math.inf,
        most=row.number("most") if row.is_given("most") else math.inf,
        about=cast(About, row.text("about")),
        source=row.text("source_key"),
        honesty=row.text("honesty"),
        basis=row.text("basis"),
    )


def _strata(slug: str, count: int, seed: int) -> Values:
    """One share of each of `count` equal strata, in an order of their own."""
    digest = hashlib.sha256(f"{slug}|{seed}".encode()).digest()
    generator = np.random.Generator(np.random.PCG64(int.from_bytes(digest, "big")))
    # Only uniform numbers, so that the order does not change with the version of a library.
    order = np.argsort(generator.random(count), kind="stable")
    inside = 1.0 - generator.random(count)
    shares: Values = (order + inside) / count
    return np.minimum(shares, np.nextafter(1.0, 0.0))


def _spreads(parameter: ParameterRange) -> tuple[float, float, float]:
    """Median and spread below and above it, of the value or of its logarithm."""
    low, mid, high = parameter.low, parameter.mid, parameter.high
    if parameter.kind == "lognormal":
        low, mid, high = math.log(low), math.log(mid), math.log(high)
    below = (low - mid) / NORMAL.inv_cdf(QUANTILES[parameter.low_means])
    return mid, below, (high - mid) / NORMAL.inv_cdf(QUANTILES[parameter.high_means])


def _quantile(u: Values, parameter: ParameterRange) -> Values:
    low, mid, high = parameter.low, parameter.mid, parameter.high
    if parameter.kind == "uniform":
        return low + u * (high - low)
    if parameter.kind == "triangular":
        span, peak = high - low, (mid - low) / (high - low)
        rising = low + np.sqrt(u * span * (mid - low))
        return np.where(u < peak, rising, high - np.sqrt((1.0 - u) * span * (high - mid)))
    median, below, above = _spreads(parameter)
    z = np.array([NORMAL.inv_cdf(min(max(x, 1e-300), 1.0 - 1e-16)) for x in u.flat])
    value = median + z.reshape(u.shape) * np.where(z.reshape(u.shape) < 0.0, below, above)
    return np.exp(value) if parameter.kind == "lognormal" else value


def _share_below(value: float, parameter: ParameterRange) -> float:
    """Share of the untruncated range that lies below a value."""
    low, mid, high = parameter.low, parameter.mid, parameter.high
    if math.isinf(value):
        return 0.0 if value < 0.0 else 1.0
    if parameter.kind == "uniform":
        return min(1.0, max(0.0, (value - low) / (high - low)))
    if parameter.kind == "triangular":
        if value <= low or value >= high:
            return 0.0 if value <= low else 1.0
        if value < mid:
            return (value - low) ** 2 / ((high - low) * (mid - low))
        return 1.0 - (high - value) ** 2 / ((high - low) * (high - mid))
    if parameter.kind == "lognormal":
        if value <= 0.0:
            return 0.0
        value = math.log(value)
    median, below, above = _spreads(parameter)
    spread = below if value < median else above
    if spread == 0.0:
        return 0.5
    return NORMAL.cdf((value - median) / spread)

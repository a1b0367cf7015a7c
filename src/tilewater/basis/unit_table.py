# SPDX-License-Identifier: Apache-2.0
"""The units that Tilewater reads and prints: one table, exact factors, the ways people write them.

A `Unit` belongs to a dimension and knows its exact factor to the base unit of that dimension. A
`Kind` says how a dimension is spoken in the trade: an elevation in hundredths of a foot, a pipe in
inches. Reading and printing with this table are in `units`.

Factors are fractions of whole numbers, so that `60 ft` and `18.288 m` are the same float. Derived
factors are computed from the definitions and never typed rounded.
"""

from dataclasses import dataclass
from fractions import Fraction

FOOT = Fraction(3048, 10000)  # international
US_SURVEY_FOOT = Fraction(1200, 3937)
INCH = FOOT / 12
YARD = 3 * FOOT
MILE = 5280 * FOOT
ACRE = 43560 * FOOT**2  # international; one of survey feet is larger by 4 parts in a million
SURVEY_ACRE = 43560 * US_SURVEY_FOOT**2
GALLON = 231 * INCH**3
POUND = Fraction(45359237, 10**8)
TON = 2000 * POUND
STANDARD_GRAVITY = Fraction(980665, 10**5)
HOUR = Fraction(3600)
DAY = Fraction(86400)
YEAR = Fraction(36525, 100) * DAY
NITROGEN_IN_NITRATE = Fraction(14007, 14007 + 3 * 15999)  # standard atomic weights

LITRE = Fraction(1, 1000)
ONE = Fraction(1)


@dataclass(frozen=True)
class Unit:
    """One unit: its name as printed, its dimension, exact factor and zero, other spellings."""

    name: str
    dimension: str
    factor: Fraction
    zero: Fraction = Fraction(0)
    also: tuple[str, ...] = ()


@dataclass(frozen=True)
class Shown:
    """How a kind is printed in one system: unit, digits, whether trailing zeros go."""

    unit: str
    decimals: int | None = None
    significant: int | None = None
    trim: bool = False


@dataclass(frozen=True)
class Kind:
    """What sort of quantity a value is, in words of the trade.

    `bare` kinds are written without a unit: a plain number, or one whose name carries the unit.
    """

    name: str
    article: str
    dimension: str
    us: Shown
    si: Shown
    bare: bool = False


BASE = {
    "length": "m",
    "area": "m2",
    "volume": "m3",
    "flow": "m3/s",
    "velocity": "m/s",
    "time": "s",
    "temperature": "degC",
    "concentration": "mg/L",
    "mass": "kg",
    "density": "kg/m3",
    "pressure": "Pa",
    "money": "USD",
    "ratio": "-",
    "removal rate": "g/m3/day",
    "load": "kg/yr",
    "years": "years",
    "days": "days",
    "yearly cost": "USD/yr",
    "unit price": "USD per SI unit",
    "cold": "degC-day",
    "angle": "deg",
    "radiation": "MJ/m2/day",
}
"""Unit in which a value of each dimension is held."""


def _unit(name: str, dimension: str, factor: Fraction, *also: str) -> Unit:
    return Unit(name, dimension, factor, also=also)


_LENGTHS = (
    _unit("ft", "length", FOOT, "foot", "feet", "'", "international ft", "international foot"),
    _unit("in", "length", INCH, "inch", "inches", '"'),
    _unit("yd", "length", YARD, "yard", "yards"),
    _unit("mi", "length", MILE, "mile", "miles"),
    _unit(
        "survey ft",
        "length",
        US_SURVEY_FOOT,
        "ftUS",
        "US-ft",
        "US survey ft",
        "US survey foot",
        "US survey feet",
        "survey foot",
        "survey feet",
    ),
    _unit("m", "length", ONE, "meter", "meters", "metre", "metres"),
    _unit("cm", "length", ONE / 100, "centimeter", "centimeters", "centimetre", "centimetres"),
    _unit("mm", "length", ONE / 1000, "millimeter", "millimeters", "millimetre", "millimetres"),
    _unit("km", "length", ONE * 1000, "kilometer", "kilometers", "kilometre", "kilometres"),
)
_AREAS = (
    _unit("acre", "area", ACRE, "acres", "ac"),
    _unit("survey acre", "area", SURVEY_ACRE, "survey acres", "US survey acre", "acUS"),
    _unit("ft2", "area", FOOT**2, "sq ft", "square foot", "square feet", "SF"),
    _unit("yd2", "area", YARD**2, "sq yd", "square yard", "square yards", "SY"),
    _unit("in2", "area", INCH**2, "sq in", "square inch", "square inches"),
    _unit("mi2", "area", MILE**2, "sq mi", "square mile", "square miles"),
    _unit("m2", "area", ONE, "sq m", "square meter", "square meters", "square metres"),
    _unit("ha", "area", ONE * 10000, "hectare", "hectares"),
    _unit("km2", "area", ONE * 10**6, "sq km"),
)
_VOLUMES = (
    _unit("CY", "volume", YARD**3, "yd3", "cu yd", "cubic yard", "cubic yards"),
    _unit("ft3", "volume", FOOT**3, "cu ft", "cubic foot", "cubic feet", "CF"),
    _unit("gal", "volume", GALLON, "gallon", "gallons"),
    _unit("acre-ft", "volume", ACRE * FOOT, "ac-ft", "acre ft", "acre-foot", "acre-feet"),
    _unit("acre-in", "volume", ACRE * INCH, "ac-in", "acre in", "acre-inch", "acre-inches"),
    _unit("m3", "volume", ONE, "cu m", "cubic meter", "cubic meters", "cubic metres"),
    _unit("L", "volume", LITRE, "liter", "liters", "litre", "litres"),
)
_FLOWS = (
    _unit("cfs", "flow", FOOT**3, "ft3/s", "ft3/sec", "cu ft/s", "second-feet"),
    _unit("gpm", "flow", GALLON / 60, "gal/min", "gallons/minute", "gallon/minute"),
    _unit("MGD", "flow", GALLON * 10**6 / DAY, "million gal/day"),
    _unit("acre-in/day", "flow", ACRE * INCH / DAY, "ac-in/day", "ac-in/d"),
    _unit("ft3/day", "flow", FOOT**3 / DAY, "ft3/d", "cfd"),
    _unit("m3/s", "flow", ONE, "m3/sec", "cms"),
    _unit("m3/h", "flow", ONE / HOUR, "m3/hr"),
    _unit("m3/day", "flow", ONE / DAY, "m3/d"),
    _unit("L/s", "flow", LITRE, "l/sec", "lps"),
    _unit("L/min", "flow", LITRE / 60, "lpm"),
)
_VELOCITIES = (
    _unit("in/day", "velocity", INCH / DAY, "in/d", "inch/day", "inches/day"),
    _unit("in/h", "velocity", INCH / HOUR, "in/hr", "inch/hr", "inches/hour", "in/hour"),
    _unit("ft/day", "velocity", FOOT / DAY, "ft/d", "foot/day", "feet/day"),
    _unit("ft/s", "velocity", FOOT, "ft/sec", "fps", "feet/second"),
    _unit("in/yr", "velocity", INCH / YEAR, "in/year", "inches/year"),
    _unit("um/s", "velocity", ONE / 10**6, "um/sec", "micrometer/second", "micrometers/second"),
    _unit("cm/s", "velocity", ONE / 100, "cm/sec"),
    _unit("m/s", "velocity", ONE, "m/sec"),
    _unit("cm/h", "velocity", ONE / 100 / HOUR, "cm/hr"),
    _unit("m/day", "velocity", ONE / DAY, "m/d"),
    _unit("cm/day", "velocity", ONE / 100 / DAY, "cm/d"),
    _unit("mm/day", "velocity", ONE / 1000 / DAY, "mm/d"),
    _unit("mm/h", "velocity", ONE / 1000 / HOUR, "mm/hr"),
    _unit("mm/yr", "velocity", ONE / 1000 / YEAR, "mm/year"),
    _unit("mph", "velocity", MILE / HOUR, "mi/h", "miles/hour"),
    _unit("km/h", "velocity", ONE * 1000 / HOUR, "km/hr", "kph"),
    _unit("knot", "velocity", ONE * 1852 / HOUR, "knots", "kn", "kt"),
)
_TIMES = (
    _unit("s", "time", ONE, "sec", "second", "seconds"),
    _unit("min", "time", ONE * 60, "minute", "minutes"),
    _unit("h", "time", HOUR, "hr", "hrs", "hour", "hours"),
    _unit("day", "time", DAY, "days", "d"),
    _unit("yr", "time", YEAR, "year", "years", "a"),
    _unit("years", "years", ONE, "year", "yr", "yrs"),
    _unit("days", "days", ONE, "day", "d"),
)
_TEMPERATURES = (
    _unit("degC", "temperature", ONE, "C", "deg C", "celsius"),
    Unit(
        "degF",
        "temperature",
        Fraction(5, 9),
        Fraction(-160, 9),
        ("F", "deg F", "fahrenheit"),
    ),
)
_COLDS = (
    _unit("degC-day", "cold", ONE, "degC day", "degC-days", "degC days", "C-days"),
    _unit("degF-day", "cold", Fraction(5, 9), "degF day", "degF-days", "degF days", "F-days"),
)
_MASSES = (
    _unit("lb", "mass", POUND, "lbs", "pound", "pounds"),
    _unit("ton", "mass", TON, "tons", "short ton", "short tons"),
    _unit("kg", "mass", ONE, "kilogram", "kilograms"),
    _unit("g", "mass", ONE / 1000, "gram", "grams"),
    _unit("tonne", "mass", ONE * 1000, "tonnes", "metric ton", "metric tons", "t"),
    _unit("lb/ft3", "density", POUND / FOOT**3, "pcf", "lb/cu ft", "lbs/ft3"),
    _unit("lb/CY", "density", POUND / YARD**3, "lb/yd3", "lb/cu yd"),
    _unit("kg/m3", "density", ONE),
    _unit("g/cm3", "density", ONE * 1000, "g/cc"),
    _unit("psf", "pressure", POUND * STANDARD_GRAVITY / FOOT**2, "lb/ft2"),
    _unit("psi", "pressure", POUND * STANDARD_GRAVITY / INCH**2, "lb/in2"),
    _unit("kPa", "pressure", ONE * 1000),
    _unit("Pa", "pressure", ONE),
)
_NITRATE = (
    _unit("mg/L", "concentration", ONE, "mg/L as N", "mg/L N", "mg N/L", "ppm", "mg/L NO3-N"),
    _unit("g/m3", "concentration", ONE),
    _unit("ug/L", "concentration", ONE / 1000, "ppb"),
    _unit("mg/L as NO3", "concentration", NITROGEN_IN_NITRATE),
    _unit("g/m3/day", "removal rate", ONE, "g/m3/d", "g N/m3/day", "g N/m3/d", "g/m3-day"),
    _unit("lb/CY/day", "removal rate", POUND * 1000 / YARD**3, "lb/yd3/day"),
    _unit("lb/yr", "load", POUND, "lb/year", "lbs/yr", "lb N/yr", "pounds/year"),
    _unit("kg/yr", "load", ONE, "kg/year", "kg N/yr"),
)
_RATIOS = (
    _unit("%", "ratio", ONE / 100, "percent", "pct", "%/yr", "%/year"),
    _unit("ft/ft", "ratio", ONE, "ft/foot", "m/m", "-", "ratio"),
    _unit(":1", "ratio", ONE),
    _unit("ft/100 ft", "ratio", ONE / 100, "ft/100ft", "m/100 m"),
    _unit("in/100 ft", "ratio", INCH / (100 * FOOT), "in/100ft"),
)
_RADIATIONS = (
    _unit("MJ/m2/day", "radiation", ONE, "MJ/m2", "MJ/m2/d", "MJ/m2-day"),
    _unit("W/m2", "radiation", DAY / 10**6),
    _unit("kWh/m2/day", "radiation", ONE * 36 / 10, "kWh/m2", "kWh/m2/d"),
    _unit("langley/day", "radiation", Fraction(4184, 10**5), "langley", "langleys", "Ly", "Ly/day"),
)
_ANGLES = (_unit("deg", "angle", ONE, "degree", "degrees", "°"),)
_MONEY = (
    _unit("USD", "money", ONE, "$", "dollar", "dollars"),
    _unit("USD/yr", "yearly cost", ONE, "USD/year", "$/yr", "$/year", "dollars/year"),
)


def _price(bought_by: Unit) -> Unit:
    spellings = (bought_by.name, *bought_by.also)
    also = tuple(f"{money}{s}" for money in ("USD/", "$/", "USD ", "$ ") for s in spellings)
    return Unit(f"USD/{bought_by.name}", "unit price", ONE / bought_by.factor, also=also[1:])


_BY_THE_PIECE = _unit("each", "piece", ONE, "EA", "ea", "piece")
_BOUGHT_BY = ("CY", "ft3", "m3", "ft", "m", "ft2", "yd2", "m2", "acre", "ha", "lb", "kg", "ton")
_MEASURED = (
    *_LENGTHS,
    *_AREAS,
    *_VOLUMES,
    *_FLOWS,
    *_VELOCITIES,
    *_TIMES,
    *_TEMPERATURES,
    *_COLDS,
    *_MASSES,
    *_NITRATE,
    *_RATIOS,
    *_RADIATIONS,
    *_ANGLES,
    *_MONEY,
)

UNITS: tuple[Unit, ...] = (
    *_MEASURED,
    *(_price(u) for name in _BOUGHT_BY for u in _MEASURED if u.name == name),
    _price(next(u for u in _MEASURED if (u.name, u.dimension) == ("h", "time"))),
    _price(_BY_THE_PIECE),
)


def _same(name: str, article: str, dimension: str, shown: Shown, *, bare: bool = False) -> Kind:
    return Kind(name, article, dimension, shown, shown, bare)


KINDS: dict[str, Kind] = {
    kind.name: kind
    for kind in (
        Kind("length", "a length", "length", Shown("ft", 2), Shown("m", 3)),
        Kind("elevation", "an elevation", "length", Shown("ft", 2), Shown("m", 3)),
        Kind("coordinate", "a grid coordinate", "length", Shown("ft", 2), Shown("m", 3)),
        Kind("station", "a station", "length", Shown("ft", 1, trim=True), Shown("m", 2)),
        Kind("size", "a size", "length", Shown("in", 1, trim=True), Shown("mm", 0)),
        Kind("depth", "a depth of water", "length", Shown("in", 1), Shown("mm", 0)),
        Kind("opening", "an opening", "length", Shown("in", 2), Shown("mm", 1)),
        Kind("area", "an area", "area", Shown("acre", 1), Shown("ha", 2)),
        Kind("plan_area", "an area", "area", Shown("ft2", 0), Shown("m2", 1)),
        Kind("volume", "a volume", "volume", Shown("CY", 1), Shown("m3", 1)),
        Kind("water_volume", "a volume", "volume", Shown("ft3", 0), Shown("m3", 1)),
        Kind("flow", "a flow", "flow", Shown("cfs", significant=3), Shown("L/s", significant=3)),
        Kind(
            "depth_rate",
            "a depth per day",
            "velocity",
            Shown("in/day", 3),
            Shown("mm/day", 1),
        ),
        Kind(
            "conductivity",
            "a soil conductivity",
            "velocity",
            Shown("ft/day", significant=3, trim=True),
            Shown("um/s", significant=3, trim=True),
        ),
        _same(
            "media_conductivity",
            "a media conductivity",
            "velocity",
            Shown("cm/s", significant=3, trim=True),
        ),
        Kind("velocity", "a velocity", "velocity", Shown("ft/s", 2), Shown("m/s", 3)),
        _same("time", "a time", "time", Shown("h", 1)),
        _same("years", "a number of years", "years", Shown("years", 2, trim=True), bare=True),
        _same("days", "a number of days", "days", Shown("days", 1, trim=True), bare=True),
        _same("temperature", "a temperature", "temperature", Shown("degC", 1, trim=True)),
        Kind("cold", "a sum of frost", "cold", Shown("degF-day", 0), Shown("degC-day", 0)),
        _same("concentration", "a concentration", "concentration", Shown("mg/L", 1)),
        Kind("mass", "a weight", "mass", Shown("lb", 0), Shown("kg", 0)),
        Kind("load", "a yearly load", "load", Shown("lb/yr", 0), Shown("kg/yr", 0)),
        Kind(
            "density", "a unit weight", "density", Shown("lb/ft3", 1, trim=True), Shown("kg/m3", 0)
        ),
        Kind("pressure", "a pressure", "pressure", Shown("psf", 1), Shown("kPa", 2)),
        _same("rate", "a removal rate", "removal rate", Shown("g/m3/day", significant=2)),
        _same("ratio", "a share", "ratio", Shown("%", 1)),
        _same("slope", "a slope", "ratio", Shown("%", 2)),
        _same("side_slope", "a side slope", "ratio", Shown(":1", 2, trim=True), bare=True),
        _same("number", "a number", "ratio", Shown("-", significant=3, trim=True), bare=True),
        _same("radiation", "a radiation", "radiation", Shown("MJ/m2/day", 1)),
        _same("angle", "an angle", "angle", Shown("deg", 1, trim=True)),
        _same("money", "an amount of money", "money", Shown("USD", 0)),
        _same("cents", "an amount of money", "money", Shown("USD", 2)),
        _same("yearly_cost", "a yearly cost", "yearly cost", Shown("USD/yr", 0), bare=True),
        Kind("unit_price", "a unit price", "unit price", Shown("USD/CY", 2), Shown("USD/m3", 2)),
    )
}

DOCSTRING_UNITS = frozenset(
    """
    - rad deg % ratio m/m kg/kg
    m mm cm m2 m3 1/m
    s h days years 1/s 1/day 1/year
    m/s um/s mm/day mm/h mm/year mm/degC/day m2/s m2/day m3/s m3/day s/m s/m2 s2/m2 s2/m5 m2/m
    m/s2 m1/3/s m1/2/s
    kg g kg/s kg/day kg/year kg/ha kg/ha/year kg/m2 kg/m3
    Pa kPa kPa/degC Pa.s N N/m N/m3 kN kN/m2
    degC degC-day K J/kg/K J/m3/K W/m/K W/m2 J/m3 MJ/m2 MJ/m2/day
    mg/L mg/L/day g/kg g/m3 g/m3/day g/m2/day
    USD USD/year USD/kg USD/m USD/m2 USD/m3 USD/ha
    """.split()  # noqa: SIM905 - lines by subject read better than ninety quoted words
)
"""Units that a docstring may name in square brackets, `[-]` for none."""

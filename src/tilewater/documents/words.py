# SPDX-License-Identifier: Apache-2.0
"""How a value becomes text: the kind of its unit, the units of the reader, one formatter.

Every number that reaches a screen or paper passes through `tilewater.basis.units`.
"""

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields, is_dataclass
from typing import Any, NamedTuple

import numpy as np

from tilewater.basis.trace import Step, Trace
from tilewater.basis.units import Foot, Style, System, format_quantity, from_si, to_si
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.economics.estimate import bid_quantity
from tilewater.economics.price_items import allowed_units

NOT_KNOWN = "not known"
LID_CARD = "The card in the lid of the structure governs; this table is the design's."
"""What is said under boards of the design; those of the finished work may differ."""
NO_MORE = 1e-6
"""Excess, in steps of the last digit, that is only the rounding of arithmetic."""

# What the end of a key says about a value in metres, metres a second, square or cubic metres.
_KINDS_BY_KEY = (
    (
        r"^(inputs\.chips_spec|chips)\..*(size|middle_from|middle_to|sizes|diameter)(_m)?$",
        "m",
        "opening",
    ),
    (r"(diameter|stack|rim_down|heights|seal_gap|boards)(_m)?$", "m", "size"),
    (r"^(inputs\.chips_spec|chips|supply)\..*(passing|moisture|most|least)$", "-", "ratio"),
    (r"mean_annual_depth_m$", "m", "depth"),
    (r"water\.balance\.\w+_m$", "m", "depth"),
    (r"(month_depth|year_depth|available_water|drainable_water|surface_storage)_m$", "m", "depth"),
    (r"water\.(\w+\.)?(depth|main_limit|inlet_limit)_m_s$", "m/s", "depth_rate"),
    (r"(infiltration|deep_seepage|upward_flux_at_one_metre)_m_s$", "m/s", "depth_rate"),
    (r"water\.classes\.[\w-]+\.(above|to)$", "-", "ratio"),
    (r"(median_year|first_crop_year)$", "years", "calendar"),
    (r"station\w*_m$", "m", "station"),
    (r"segment\.[\w-]+\.(from|to)_m$", "m", "station"),
    (r"pump\.float_\w+_m$", "m", "elevation"),
    (r"levels_m\.\w+$", "m", "elevation"),
    (r"old_main\..*crown_m$", "m", "elevation"),
    (r"(tailwater|media_top|cover_top|leaves_at|shots\.height)_m$", "m", "elevation"),
    (r"(system\.free|ditch\.ordinary|cross\.water\.\w+)_m$", "m", "elevation"),
    (r"inputs\.boring\.[^.]+\.(top|bottom|water|mottles)_m$", "m", "elevation"),
    (r"buffer\.(seep|crown|barrier)_m$", "m", "elevation"),
    (r"^buffer\.conductivity_by\.", "m/s", "conductivity"),
    (r"organic_(matter|carbon)$", "-", "ratio"),
    (r"604-(organic-matter|length-used)\.(limit|scale)$", "-", "ratio"),
    (
        r"(elevation|level|crest|invert|ground|sill|rim|floor|stage|high|drain)(_\w+)?_m$",
        "m",
        "elevation",
    ),
    (r"(capacity\..*|seasons\..*|media\.\w*)conductivity\w*_m_s$", "m/s", "media_conductivity"),
    (r"conductivity\w*_m_s$", "m/s", "conductivity"),
    (r"(flux|daily_depth|coefficient|rate)\w*_m_s$", "m/s", "depth_rate"),
    (r"(groundwater\.\w+|groundwater\w*)_m$", "m", "elevation"),
    (r"^(bid|bids|funding)\..*_usd$", "USD", "cents"),
    (r"sump_area_m2$", "m2", "plan_area"),
    (r"area(_above|_apart|_below)?_m2$", "m2", "area"),
    (r"owner\.land_m2$", "m2", "area"),
    (r"(sump_volume|pulse_volume|room|past_bed)_m3$", "m3", "water_volume"),
    (r"(wet_volume|annual_volume|pore_volume|leaves)\w*_m3$", "m3", "water_volume"),
    (r"(side_slope|slope_above_media|cut_slope)$", "-", "side_slope"),
    (r"slope\w*$", "-", "slope"),
    (r"(uncertainty|standard_error)$", "-", "ratio"),
    (r"ditch\.(bottom|bank_top|gauge_zero)_m$", "m", "elevation"),
    (r"ditch_flow\.[\w-]+\.error$", "-", "ratio"),
    (r"ditch\.share_(above|of_days_back)(_high)?\.", "-", "ratio"),
    (r"^probability\.", "-", "ratio"),
    (r"(limits\.drowned|ditch_over_bypass\.limit)$", "-", "ratio"),
    (r"(share|contingency|allowance|reduction|rate)\w*(\.p\d\d)?$", "-", "ratio"),
    (r"(share|reduction|lining|ten-year)[\w-]*\.(limit|scale)$", "-", "ratio"),
    (r"slope\.(limit|scale)$", "-", "slope"),
)
_KINDS_BY_UNIT = {
    "m": "length",
    "m/s": "velocity",
    "m2": "plan_area",
    "m3": "volume",
    "m3/s": "flow",
    "s": "time",
    "h": "time",
    "degC": "temperature",
    "degC-day": "cold",
    "mg/L": "concentration",
    "kg": "mass",
    "kg/m3": "density",
    "kg/yr": "load",
    "Pa": "pressure",
    "g/m3/day": "rate",
    "USD": "money",
    "USD/yr": "yearly_cost",
    "years": "years",
    "days": "days",
    "deg": "angle",
    "-": "number",
}


IN_SI = "SI: "
MANY = 12
"""Records in a list that are still told one by one."""
_BASE_OF_BID = {"CY": "m3", "SY": "m2", "LF": "m", "AC": "ground"}
"""Base unit behind the usual bid unit of an item."""


class _Bid(NamedTuple):
    """How an item of a base unit is bid: label, kind of its quantity, unit of its price."""

    label: str
    kind: str
    price: str


_PIECE = _Bid("each", "number", "USD/each")
_BID_US = {
    "m3": _Bid("CY", "CY", "USD/CY"),
    "m2": _Bid("SY", "yd2", "USD/yd2"),
    "m": _Bid("LF", "ft", "USD/ft"),
    "ground": _Bid("AC", "acre", "USD/acre"),
    "": _PIECE,
}
_BID_SI = {
    "m3": _Bid("m3", "m3", "USD/m3"),
    "m2": _Bid("m2", "m2", "USD/m2"),
    "m": _Bid("m", "m", "USD/m"),
    "ground": _Bid("ha", "ha", "USD/ha"),
    "": _PIECE,
}


@dataclass(frozen=True)
class Words:
    """Values as the reader wants them.

    Attributes
    ----------
    system : "us" or "si"
    foot : str
        What `ft` means in an elevation.
    """

    system: System = "us"
    foot: Foot = "international foot"

    def say(self, value: Any, kind: str, *, style: Style = "plain", unit: bool = True) -> str:
        """A number of a kind; what is not known says so."""
        if value is None or is_unknown(value):
            return NOT_KNOWN
        return format_quantity(
            float(value), kind, system=self.system, style=style, unit=unit, foot=self.foot
        )

    def time(self, hours: Any, unit: bool = True) -> str:
        """A time that is held in hours."""
        if hours is None or is_unknown(hours):
            return NOT_KNOWN
        return self.say(to_si(float(hours), "h"), "time", unit=unit)

    def percent(self, value: Any, *, two_figures: bool = False) -> str:
        """A share that is held in percent."""
        if value is None or is_unknown(value):
            return NOT_KNOWN
        share = to_si(float(value), "%")
        return self.say(share, "ratio", style="two figures" if two_figures else "plain")

    def of_key(self, key: str, value: Any, unit: str) -> str:
        """A value of the trace or of a result: number, text, list or record."""
        if value is None or is_unknown(value):
            return NOT_KNOWN
        if isinstance(value, bool | str):
            return _word(value)
        if isinstance(value, np.ndarray):
            return f"a series of {value.size} values"
        if isinstance(value, tuple | list) and not _is_record(value):
            return self._listed(key, value, unit)
        if isinstance(value, Mapping):
            return self._in_si(_named(value))
        if _is_record(value):
            days = _length_of_series(value)
            return f"series of {days:,} values each" if days else self._in_si(_record(value))
        return self._number(key, float(value), unit)

    def _listed(self, key: str, values: Sequence[Any], unit: str) -> str:
        """Each value of a list; of many records only how many they are."""
        if len(values) > MANY and _is_record(values[0]):
            return f"{len(values):,} records of {len(_names_in(values[0]))} values each"
        return ", ".join(self.of_key(key, one, unit) for one in values) or "none"

    def _number(self, key: str, value: float, unit: str) -> str:
        if unit == "%":
            return self.percent(value)
        if unit == "h":
            return self.time(value)
        if key.startswith("inputs.price."):
            return self.priced(key.removeprefix("inputs.price.").removesuffix(".usd"), value)
        if unit == "USD" and ".usd_per_kg." in f".{key}":
            return self.say(value, "USD/lb" if self.system == "us" else "USD/kg")
        kind = kind_of(key, unit)
        if kind == "calendar":
            return f"{value:.0f}"
        if kind is None:
            text = f"{value:.4g} {unit}".rstrip()
            return self._in_si(text) if re.search(r"\b(m|kg|s)\d?\b", unit) else text
        return self.say(value, kind)

    def _in_si(self, text: str) -> str:
        """What has no unit of the trade, and so stands in SI on either page."""
        return f"{IN_SI}{text}" if self.system == "us" else text

    def priced(self, item: str, value: float) -> str:
        """A unit price with the unit in which its item is bid."""
        usual = next(iter(allowed_units(item)), "EA")
        ending = {"LS": "lump sum", "HR": "an hour", "EA": "each"}.get(usual)
        if ending:
            return f"{self.say(value, 'USD/each').partition('/')[0]} {ending}"
        return self.say(value, self._bid(_BASE_OF_BID[usual]).price)

    def of_step(self, step: Step) -> str:
        """The value of a step."""
        return self.of_key(step.key, step.value, step.unit)

    def about(self, value: Any) -> str:
        """A distance to four figures, for what is not staked to the hundredth."""
        return self.say(value, "ft" if self.system == "us" else "m")

    def concrete(self, value: Any) -> str:
        """A small volume that is needed at least: rounded up, never down."""
        if value is None or is_unknown(value):
            return NOT_KNOWN
        unit, digits = ("ft3", 1) if self.system == "us" else ("m3", 2)
        steps = 10**digits * from_si(float(value), unit)
        return f"{math.ceil(steps - NO_MORE) / 10**digits:.{digits}f} {unit}"

    def quantity(self, value: Any, unit: str) -> str:
        """A quantity of a bid item to three figures, or to the whole unit; without its unit."""
        if value is None or is_unknown(value):
            return NOT_KNOWN
        kind = self._bid(unit).kind
        if kind == "number":
            return self.say(value, kind, unit=False)
        return f"{bid_quantity(float(value), to_si(1.0, kind)):,f}"

    def unit_price(self, value: Any, unit: str) -> str:
        """A unit price of a bid item, without its unit."""
        return self.say(value, self._bid(unit).price).partition("/")[0]

    def bid_unit(self, unit: str) -> str:
        """Unit in which an item of a base unit is bid."""
        return self._bid(unit).label

    def _bid(self, unit: str) -> "_Bid":
        return (_BID_US if self.system == "us" else _BID_SI)[unit]


def _word(value: bool | str) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return value or "none"


def _is_record(value: Any) -> bool:
    return is_dataclass(value) or hasattr(value, "_asdict")


def _names_in(record: Any) -> tuple[str, ...]:
    """Members of a record; findings are told elsewhere."""
    every = [f.name for f in fields(record)] if is_dataclass(record) else record._fields
    return tuple(name for name in every if name != "findings")


def _length_of_series(record: Any) -> int:
    """Length of the first series that a record holds, itself or in a record of it; 0 for none."""
    for name in _names_in(record):
        held = getattr(record, name)
        if isinstance(held, np.ndarray):
            return int(held.size)
        if is_dataclass(held) and (length := _length_of_series(held)):
            return length
    return 0


def _record(record: Any) -> str:
    return ", ".join(f"{name} {_plain(getattr(record, name))}" for name in _names_in(record))


def _named(values: Mapping[str, Any]) -> str:
    """What stands under each name; of many series only how long they are."""
    held = list(values.values())
    if held and all(isinstance(one, np.ndarray) for one in held):
        return f"{len(held)} series of {held[0].size:,} values each"
    return "; ".join(f"{name}: {_range(one) or _plain(one)}" for name, one in values.items())


def _range(value: Any) -> str:
    """A range of a parameter with what it rests on, a share with its error; "" for any other."""
    if _is_record(value) and _names_in(value)[:2] == ("share", "error"):
        return f"{value.share:.2g} ± {value.error:.1g}"
    if not all(hasattr(value, name) for name in ("low", "mid", "high", "unit", "source")):
        return ""
    low, middle, high = (f"{end:.3g}" for end in (value.low, value.mid, value.high))
    return f"{low} to {high}, middle {middle} {value.unit} ({value.source}, {value.honesty})"


def _plain(value: Any) -> str:
    if _is_record(value):
        return f"({_record(value)})"
    if isinstance(value, np.ndarray):
        return f"{value.size} values"
    if isinstance(value, tuple):
        return f"({', '.join(_plain(each) for each in value)})"
    if not isinstance(value, int | float):
        return str(value)
    return f"{float(value):.{6 if abs(value) >= 100 else 4}g}"


def folded(template: str, *texts: str) -> str:
    """Texts in their sentence; "not known" alone where none of them is known."""
    return NOT_KNOWN if set(texts) == {NOT_KNOWN} else template.format(*texts)


def together(*parts: tuple[str, str]) -> str:
    """Parts of a line, each with its name; what is not known is named at the end, said once."""
    known = [text for _, text in parts if text != NOT_KNOWN]
    missing = [name for name, text in parts if text == NOT_KNOWN]
    if not known:
        return NOT_KNOWN
    return ", ".join(known) + (f"; {', '.join(missing)} {NOT_KNOWN}" if missing else "")


def kind_of(key: str, unit: str) -> str | None:
    """Kind of quantity behind a key; None where the formatter has none for its unit."""
    for pattern, of_unit, kind in _KINDS_BY_KEY:
        if unit == of_unit and re.search(pattern, key):
            return kind
    return _KINDS_BY_UNIT.get(unit)


_UNIT_ENDINGS = (
    ("_m3_s", "m3/s"),
    ("_m_s", "m/s"),
    ("_mg_per_l", "mg/L"),
    ("_g_per_m3_day", "g/m3/day"),
    ("_m3", "m3"),
    ("_m2", "m2"),
    ("_mm", "mm"),
    ("_m", "m"),
    ("_in", "in"),
    ("_h", "h"),
    ("_s", "s"),
    ("_c", "degC"),
    ("_kg", "kg"),
    ("_usd", "USD"),
    ("_years", "years"),
    ("_per_year", "days"),
)


def unit_of_key(key: str) -> str:
    """Unit that the name of a key says; the last part that says one counts."""
    for part in reversed(key.split(".")):
        if "percent" in part:
            return "%"
        if "usd_per_kg" in part:
            return "USD"
        for ending, unit in _UNIT_ENDINGS:
            if part.endswith(ending):
                return unit
    return "-"


def step_value(trace: Trace, key: str) -> Any:
    """Value behind a key; not known where there is no such step."""
    return trace.value(key) if key in trace else Unknown("it was not computed")

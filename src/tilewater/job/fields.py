# SPDX-License-Identifier: Apache-2.0
"""What one value of the job file is: meaning, unit, limits of sense, default, how it is measured.

A field is declared once, as an annotation of a table in the `schema_...` modules. From that
one declaration come reading with messages, the commented template, the JSON Schema and the page
of the docs. Limits here are limits of sense, which catch typing errors; they are no
engineering limits.

Any value may be answered "unknown". A field that `must` be given has to be answered at least so;
one that `may` be given is unknown when it is absent; one that may be left out (`leave`) is then
simply not there; one with a default takes it, and the source of the default goes with it.
"""

import re
from collections.abc import Callable
from dataclasses import KW_ONLY, dataclass
from pathlib import Path
from typing import Any, Literal

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import PydanticCustomError, core_schema

from tilewater.basis.errors import UnitMismatch
from tilewater.basis.unit_table import KINDS
from tilewater.basis.units import Foot, base_unit, parse_quantity
from tilewater.basis.unknown import Unknown

Need = Literal["must", "may", "leave"]

UNKNOWN = "unknown"

SUFFIXES = {
    "length": "_m",
    "elevation": "_m",
    "station": "_m",
    "coordinate": "_m",
    "size": "_m",
    "depth": "_m",
    "area": "_m2",
    "plan_area": "_m2",
    "volume": "_m3",
    "flow": "_m3_s",
    "depth_rate": "_m_s",
    "conductivity": "_m_s",
    "media_conductivity": "_m_s",
    "velocity": "_m_s",
    "time": "_s",
    "temperature": "_c",
    "cold": "_c_days",
    "concentration": "_mg_per_l",
    "density": "_kg_per_m3",
    "mass": "_kg",
    "pressure": "_pa",
    "money": "_usd",
    "rate": "_g_per_m3_day",
    "angle": "_deg",
}
"""What the key of a value in the trace ends with, by kind; other kinds end with nothing."""

_FEET_AND_INCHES = re.compile(
    r"""(?P<feet>\d+)\s*(?:'|′|’|ft\.?|feet|foot)\s*-?\s*
    (?P<inches>\d+(?:\.\d+)?)(?:\s+(?P<top>\d+)/(?P<bottom>\d+))?\s*
    (?:"|″|”|''|in\.?|inch(?:es)?)?""",
    re.VERBOSE | re.IGNORECASE,
)


@dataclass(frozen=True)
class Setting:
    """What the reading of one value depends on.

    Attributes
    ----------
    folder : Path or None
        The job folder.
    foot : Foot
        That of its grid.
    within : Path or None
        Folder that no data file is read outside of; None where the engineer may name any.
    """

    folder: Path | None = None
    foot: Foot = "international foot"
    within: Path | None = None


class Wrong(Exception):
    """A value that cannot be read; the message says why and what to write."""


@dataclass(frozen=True)
class Ask:
    """One value that the job file asks for.

    Attributes
    ----------
    title : str
        What it is, as a noun phrase of the trade.
    example : str
        A value as one would type it in TOML, without the quotes of a text.
    help : str
        What the engineer should know when filling it in.
    how : str
        How it is measured or found out.
    need : "must", "may" or "leave"
    default, source : str
        Value taken when absent, as typed, and the key of its source.
    is_obvious : bool
        Whether what is allowed goes without saying; a message says it all the same.
    """

    title: str
    _: KW_ONLY
    example: str = ""
    help: str = ""
    how: str = ""
    need: Need = "must"
    default: str = ""
    source: str = ""
    is_obvious: bool = False

    @property
    def suffix(self) -> str:
        """What the key in the trace ends with."""
        return ""

    @property
    def unit(self) -> str:
        """Unit of the value in the trace."""
        return ""

    @property
    def allowed(self) -> str:
        """What may be written, in words."""
        return ""

    @property
    def sample(self) -> str:
        """The example as TOML."""
        return f'"{self.example}"'

    @property
    def description(self) -> str:
        """Everything but the title, as sentences."""
        how = f"To find out: {self.how}." if self.how else ""
        allowed = f"Allowed: {self.allowed}." if self.allowed and not self.is_obvious else ""
        return " ".join(words for words in (self.help, how, allowed) if words)

    def read(self, raw: Any, setting: Setting) -> Any:
        """Value behind what `tomllib` gave; `Wrong` says what is the matter."""
        raise NotImplementedError

    def json_type(self) -> dict[str, Any]:
        """What JSON Schema says about the value, apart from its description."""
        return {"type": "string"}

    def is_absent_unknown(self) -> Unknown:
        """The unknown value that stands for an absent one."""
        return Unknown("not given", self.how)

    def _validate(self, raw: Any, info: core_schema.ValidationInfo) -> Any:
        if isinstance(raw, Unknown) or (raw is None and self.need == "leave"):
            return raw
        if isinstance(raw, str) and raw.strip().casefold() == UNKNOWN:
            return Unknown("answered unknown", self.how)
        setting = info.context if isinstance(info.context, Setting) else Setting()
        try:
            return self.read(raw, setting)
        except (Wrong, UnitMismatch) as wrong:
            raise PydanticCustomError("job", "{message}", {"message": str(wrong)}) from None

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> core_schema.CoreSchema:
        """Read the value by this declaration alone, whatever the annotated type."""
        read = core_schema.with_info_plain_validator_function(self._validate)
        if self.default:
            return core_schema.with_default_schema(
                read, default=self.default, validate_default=True
            )
        if self.need == "may":
            return core_schema.with_default_schema(read, default=self.is_absent_unknown())
        if self.need == "leave":
            return core_schema.with_default_schema(read, default=None)
        return read

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        """Describe the value as it is typed."""
        described: dict[str, Any] = {"title": self.title, **self.json_type()}
        if self.description:
            described["description"] = self.description
        if self.default:
            described["default"] = self.default
        return described


@dataclass(frozen=True)
class Quantity(Ask):
    """A number with its unit; `bare` allows a plain number as well."""

    kind: str = "length"
    low: str = ""
    high: str = ""
    bare: bool = False

    @property
    def suffix(self) -> str:
        return SUFFIXES.get(self.kind, "")

    @property
    def unit(self) -> str:
        return base_unit(self.kind)

    @property
    def is_plain(self) -> bool:
        """Whether a number without a unit is enough."""
        return self.bare or KINDS[self.kind].bare

    @property
    def sample(self) -> str:
        return self.example if _is_number(self.example) else f'"{self.example}"'

    @property
    def allowed(self) -> str:
        if self.low and self.high:
            return f"{self.low} to {self.high}"
        return f"{self.low} or more" if self.low else f"{self.high} or less" if self.high else ""

    def read(self, raw: Any, setting: Setting) -> float:
        if isinstance(raw, bool) or not isinstance(raw, (int, float, str)):
            raise Wrong(f"{as_typed(raw)} is not a quantity. Write it like {self.sample}.")
        value = self.parse(str(raw), setting)
        if self._is_outside(value, setting):
            raise Wrong(
                f"'{raw}' is outside what makes sense here ({self.allowed}). "
                "Check the number and its unit."
            )
        return value

    def parse(self, text: str, setting: Setting) -> float:
        """Value in the base unit of the kind."""
        try:
            return parse_quantity(text, self.kind, bare=self.bare, foot=setting.foot)
        except UnitMismatch as mismatch:
            raise _as_the_trade_writes(text, self.kind) or mismatch from None

    def _is_outside(self, value: float, setting: Setting) -> bool:
        below = bool(self.low) and value < self.parse(self.low, setting)
        above = bool(self.high) and value > self.parse(self.high, setting)
        return below or above or value != value  # TOML knows nan

    def json_type(self) -> dict[str, Any]:
        return {"type": ["number", "string"] if self.is_plain else "string"}


@dataclass(frozen=True)
class Quantities(Quantity):
    """A list of quantities of one kind."""

    @property
    def sample(self) -> str:
        return "[" + ", ".join(f'"{part.strip()}"' for part in self.example.split(",")) + "]"

    def read(self, raw: Any, setting: Setting) -> Any:
        if not isinstance(raw, list) or not raw:
            raise Wrong(
                f"{as_typed(raw)} is not a list of quantities. Write it like {self.sample}."
            )
        values = []
        for number, member in enumerate(raw, start=1):
            try:
                values.append(super().read(member, setting))
            except (Wrong, UnitMismatch) as wrong:
                raise Wrong(f"number {number} of the list: {wrong}") from None
        return tuple(values)

    def json_type(self) -> dict[str, Any]:
        one = {"type": "string"}
        return {"anyOf": [{"type": "array", "items": one, "minItems": 1}, {"const": UNKNOWN}]}


def kind_of_thing(kind: str, **limits: Any) -> Callable[..., Quantity]:
    """Short way to declare quantities of one kind that share their limits of sense."""

    def ask(title: str, example: str, **more: Any) -> Quantity:
        return Quantity(title, kind=kind, example=example, **{**limits, **more})

    return ask


def _as_the_trade_writes(text: str, kind: str) -> Wrong | None:
    """What to write in the place of feet and inches, or of a station that cannot be read."""
    if KINDS[kind].dimension != "length":
        return None
    if (match := _FEET_AND_INCHES.fullmatch(text.strip())) is not None:
        top, bottom = match["top"] or "0", match["bottom"] or "1"
        if int(bottom) != 0:
            inches = float(match["inches"]) + int(top) / int(bottom)
            feet = f"{float(match['feet']) + inches / 12:.4f}".rstrip("0").rstrip(".")
            return Wrong(f"'{text}' is in feet and inches. Write {feet} ft.")
    if kind == "station" and "+" in text:
        return Wrong(
            f"'{text}' is not a station. A station is hundreds of feet, a plus and two digits. "
            "Write it like 1+40."
        )
    return None


def _is_number(text: str) -> bool:
    return re.fullmatch(r"[+-]?\d+(\.\d+)?", text) is not None


def as_typed(raw: Any) -> str:
    """A value of TOML as a person would have typed it."""
    if isinstance(raw, bool):
        return "true" if raw else "false"
    if isinstance(raw, dict):
        return "a table"
    return f"'{raw}'"

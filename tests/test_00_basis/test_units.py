# SPDX-License-Identifier: Apache-2.0
"""Reading and printing quantities: factors against pint, spellings, digits, messages."""

import math

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewater.basis.errors import UnitMismatch, UnknownName
from tilewater.basis.unit_table import KINDS, UNITS, Unit
from tilewater.basis.units import (
    BASE,
    DOCSTRING_UNITS,
    base_unit,
    did_you_mean,
    format_quantity,
    from_si,
    join_or,
    parse_quantity,
    to_si,
    unit_label,
)
from tilewater.basis.unknown import Unknown

# Our name of a unit, where pint spells it otherwise. pint's own acre is the one of survey feet.
PINT = {
    "degC-day": "kelvin * day",
    "degF-day": "delta_degree_Fahrenheit * day",
    "in": "inch",
    "survey ft": "survey_foot",
    "acre": "43560 * foot**2",
    "survey acre": "acre",
    "ft2": "foot**2",
    "yd2": "yard**2",
    "in2": "inch**2",
    "mi2": "mile**2",
    "m2": "meter**2",
    "ha": "hectare",
    "km2": "kilometer**2",
    "CY": "yard**3",
    "ft3": "foot**3",
    "gal": "gallon",
    "acre-ft": "43560 * foot**3",
    "acre-in": "43560 * foot**2 * inch",
    "m3": "meter**3",
    "cfs": "foot**3 / second",
    "gpm": "gallon / minute",
    "MGD": "1e6 * gallon / day",
    "acre-in/day": "43560 * foot**2 * inch / day",
    "ft3/day": "foot**3 / day",
    "m3/s": "meter**3 / second",
    "m3/h": "meter**3 / hour",
    "m3/day": "meter**3 / day",
    "in/day": "inch / day",
    "in/h": "inch / hour",
    "ft/day": "foot / day",
    "ft/s": "foot / second",
    "in/yr": "inch / year",
    "um/s": "micrometer / second",
    "mm/yr": "mm / year",
    "mph": "mile / hour",
    "km/h": "kilometer / hour",
    "MJ/m2/day": "megajoule / meter**2 / day",
    "W/m2": "watt / meter**2",
    "kWh/m2/day": "kilowatt_hour / meter**2 / day",
    "langley/day": "langley / day",
    "lb": "pound",
    "tonne": "metric_ton",
    "lb/ft3": "pound / foot**3",
    "lb/CY": "pound / yard**3",
    "kg/m3": "kilogram / meter**3",
    "g/cm3": "gram / cm**3",
    "psf": "pound_force / foot**2",
    "psi": "pound_force / inch**2",
    "g/m3": "gram / meter**3",
    "ug/L": "microgram / liter",
    "mg/L as NO3": "mg / liter * 14.007 / (14.007 + 3 * 15.999)",
    "g/m3/day": "gram / meter**3 / day",
    "lb/CY/day": "pound / yard**3 / day",
    "lb/yr": "pound / year",
    "kg/yr": "kilogram / year",
    "yr": "year",
    "%": "percent",
    "ft/ft": "foot / foot",
    ":1": "dimensionless",
    "ft/100 ft": "foot / (100 * foot)",
    "in/100 ft": "inch / (100 * foot)",
}
PINT_BASE = {
    "-": "dimensionless",
    "m2": "meter**2",
    "m3": "meter**3",
    "m3/s": "meter**3 / second",
    "kg/m3": "kilogram / meter**3",
    "kg/yr": "kilogram / year",
    "g/m3/day": "gram / meter**3 / day",
    "degC-day": "kelvin * day",
    "MJ/m2/day": "megajoule / meter**2 / day",
}

# Two double roundings at most lie between an exact fraction and pint's floats.
LAST_BITS = 4e-15

REGISTRY = pint.UnitRegistry()
PHYSICAL = [
    u for u in UNITS if u.dimension not in ("money", "yearly cost", "unit price", "temperature")
]


def in_pint(unit: Unit) -> float:
    quantity = REGISTRY(PINT.get(unit.name, unit.name))
    base = BASE[unit.dimension]
    return float(REGISTRY.Quantity(quantity).to(PINT_BASE.get(base, base)).magnitude)


@pytest.mark.oracle("pint 0.25", of=(parse_quantity, to_si, Unit))
@pytest.mark.parametrize("unit", PHYSICAL, ids=lambda u: f"{u.dimension}-{u.name}")
def test_every_factor_is_that_of_pint(unit: Unit) -> None:
    assert math.isclose(in_pint(unit), float(unit.factor), rel_tol=LAST_BITS)


@pytest.mark.oracle("pint 0.25", of=(parse_quantity,))
@pytest.mark.parametrize("fahrenheit", [-40.0, 0.0, 32.0, 46.4, 68.0])
def test_fahrenheit_is_that_of_pint(fahrenheit: float) -> None:
    expected = REGISTRY.Quantity(fahrenheit, "degF").to("degC").magnitude

    # pint passes through kelvin, which costs it the last digits near zero
    assert math.isclose(
        expected, parse_quantity(f"{fahrenheit} degF", "temperature"), abs_tol=1e-12
    )


@pytest.mark.by_hand(of=(parse_quantity,))
def test_unit_prices_divide_by_the_unit_they_are_bought_by() -> None:
    assert 39 / (3 * 0.3048) ** 3 == pytest.approx(parse_quantity("$39/CY", "unit_price"))
    assert 5 / 0.3048 == pytest.approx(parse_quantity("5 USD/ft", "unit_price"))
    assert 600.0 == parse_quantity("$600 each", "unit_price")
    assert 90 / 3600 == pytest.approx(parse_quantity("90 USD/hr", "unit_price"))


@pytest.mark.by_hand(of=(parse_quantity,))
def test_survey_feet_are_longer_by_two_parts_in_a_million() -> None:
    # 4,843,520 ft east on a grid of survey feet: 9.69 ft apart
    international = parse_quantity("4843520 ft", "station")
    survey = parse_quantity("4843520 ft", "station", foot="us survey foot")

    assert 4843520 * (1200 / 3937 - 0.3048) == pytest.approx(survey - international)
    assert "4843520.0" == f"{from_si(survey, 'survey ft'):.1f}"


@pytest.mark.works(of=(parse_quantity,))
def test_only_elevations_and_stations_follow_the_foot_of_the_grid() -> None:
    def read(kind: str) -> float:
        return parse_quantity("1000 ft", kind, foot="us survey foot")

    assert read("elevation") == read("station") == 1000 * 1200 / 3937
    assert read("length") == 304.8


@pytest.mark.works(of=(parse_quantity,))
@pytest.mark.parametrize(
    ("us", "si", "kind"),
    [
        ("60 ft", "18.288 m", "length"),
        ("1,200 feet", "365.76 metres", "length"),
        ("1184.20 ft", "360.94416 m", "elevation"),
        (".5 in", "12.7 mm", "size"),
        ('10"', "254 mm", "size"),
        ("5 1/2 in", "13.97 cm", "size"),
        ("3/8 in/day", "9.525 mm/d", "depth_rate"),
        ("0.375 inches per day", "9.525 mm / day", "depth_rate"),
        ("2+90", "88.392 m", "station"),
        ("2+90.5 ft", "88.5444 m", "station"),
        ("1 acre", "0.40468564224 ha", "area"),
        ("1 cfs", "28.316846592 L/s", "flow"),
        ("1 ft^3/s", "0.028316846592 m³/s", "flow"),
        ("27 ft3", "1 cu yd", "volume"),
        ("1 in/hr", "25.4 mm/h", "depth_rate"),
        ("25 pcf", "25 lb/ft³", "density"),
        ("68 degF", "20 °C", "temperature"),
        ("-3 degC", "−3 C", "temperature"),
        ("9.0 µm/s", "9e-6 m/s", "conductivity"),
        ("2,000 lb", "907.18474 kg", "mass"),
        ("0.18 %", "0.0018 m/m", "slope"),
        ("0.18 ft/100 ft", "0.18 %", "slope"),
        ("14.2 mg/L as N", "14.2 g/m3", "concentration"),
        ("2.5 g N/m3/d", "2.5 g/m3/day", "rate"),
        ("4 %/yr", "4%", "ratio"),
        ("$1,250", "1250 USD", "money"),
        ("9.25 years", "9.25", "years"),
        ("1.5:1", "1.5", "side_slope"),
        ("250 USD/yr", "250", "yearly_cost"),
    ],
)
def test_either_system_and_spelling_give_the_same_float(us: str, si: str, kind: str) -> None:
    assert parse_quantity(us, kind) == parse_quantity(si, kind)


@pytest.mark.works(of=(Unit,))
def test_every_spelling_of_a_unit_is_read() -> None:
    kind_of = {kind.dimension: kind.name for kind in KINDS.values()}
    for unit in UNITS:
        for spelling in (unit.name, unit.name.upper(), *unit.also):
            expected = float(unit.factor + unit.zero)
            assert expected == parse_quantity(f"1 {spelling}", kind_of[unit.dimension]), spelling


@pytest.mark.works(of=(Unit,))
def test_no_spelling_means_two_units_of_one_dimension() -> None:
    spellings = [
        (unit.dimension, spelling.casefold())
        for unit in UNITS
        for spelling in {s.casefold() for s in (unit.name, *unit.also)}
    ]

    assert len(spellings) == len(set(spellings))


@pytest.mark.works(of=(parse_quantity,))
@pytest.mark.parametrize(
    ("text", "kind", "message"),
    [
        ("60", "length", "'60' has no unit. Write 60 ft or 18.3 m."),
        ("1,184.20", "elevation", "'1,184.20' has no unit. Write 1184.2 ft or 361 m."),
        ("62", "area", "'62' has no unit. Write 62 acre or 25.1 ha."),
        ("0.0018", "slope", "'0.0018' has no unit. Write 0.0018 % or 0.0018 ft/ft."),
        ("10", "ratio", "'10' has no unit. Write 10 %."),
        ("8", "temperature", "'8' has no unit. Write 8 degC."),
        (
            "60 foots",
            "length",
            "No unit called 'foots' for a length. Known: ft, in, yd, mi, survey ft, m, cm, mm, km."
            " Did you mean foot?",
        ),
        (
            "62 ft",
            "area",
            "'62 ft' is a length; asked for is an area. Write it in acre, survey acre, ft2, yd2,"
            " in2, mi2, m2, ha or km2.",
        ),
        ("3 ft", "number", "'3 ft' is a length; asked for is a number. Write the number alone."),
        (
            "about 60 ft",
            "length",
            "'about 60 ft' is not a number with a unit. Write it like 60 ft or 18.3 m.",
        ),
        (
            "1,5 m",
            "length",
            "'1,5 m' is not a number with a unit. Write it like 60 ft or 18.3 m.",
        ),
        ("", "money", "'' is not a number with a unit. Write it like 60 USD."),
        ("1/0 in", "size", "'1/0 in' divides by zero. Write a number with its unit."),
    ],
)
def test_messages_say_what_to_write(text: str, kind: str, message: str) -> None:
    with pytest.raises(UnitMismatch) as raised:
        parse_quantity(text, kind)

    assert message == str(raised.value)


@pytest.mark.works(of=(parse_quantity,))
def test_a_bare_number_passes_only_where_it_is_meant() -> None:
    assert parse_quantity("0.61", "ratio", bare=True) == 0.61
    assert parse_quantity("61 %", "ratio", bare=True) == 0.61
    assert parse_quantity("10", "years") == 10.0


@pytest.mark.works(of=(base_unit, to_si))
def test_unknown_kinds_and_units_are_named() -> None:
    with pytest.raises(UnknownName, match=r"No kind of quantity called 'lenght'\. Known: length,"):
        base_unit("lenght")
    with pytest.raises(UnknownName, match=r"No unit called 'gpmm'\. .* Did you mean gpm\?"):
        to_si(1.0, "gpmm")


@pytest.mark.works(of=(format_quantity,))
@pytest.mark.parametrize(
    ("typed", "kind", "us", "si"),
    [
        ("1184.2 ft", "elevation", "1184.20 ft", "360.944 m"),
        ("1200 ft", "length", "1,200.00 ft", "365.760 m"),
        ("10 in", "size", "10 in", "254 mm"),
        ("33.6 in", "size", "33.6 in", "853 mm"),
        ("2+90", "station", "2+90", "88.39 m"),
        ("1405.5 ft", "station", "14+05.5", "428.40 m"),
        ("0.93 cfs", "flow", "0.930 cfs", "26.3 L/s"),
        ("0.0044 cfs", "flow", "0.00440 cfs", "0.125 L/s"),
        ("62 acre", "area", "62.0 acre", "25.09 ha"),
        ("3/8 in/day", "depth_rate", "0.375 in/day", "9.5 mm/day"),
        ("9 um/s", "conductivity", "2.55 ft/day", "9 um/s"),
        ("9.5 cm/s", "media_conductivity", "9.5 cm/s", "9.5 cm/s"),
        ("434.8 CY", "volume", "434.8 CY", "332.4 m3"),
        ("9584 ft3", "water_volume", "9,584 ft3", "271.4 m3"),
        ("2095 lb/yr", "load", "2,095 lb/yr", "950 kg/yr"),
        ("17.36 %", "ratio", "17.4 %", "17.4 %"),
        ("0.18 %", "slope", "0.18 %", "0.18 %"),
        ("4.62 h", "time", "4.6 h", "4.6 h"),
        ("14.2 mg/L", "concentration", "14.2 mg/L", "14.2 mg/L"),
        ("8 degC", "temperature", "8 degC", "8 degC"),
        ("$12,250", "money", "$12,250", "$12,250"),
        ("$39/CY", "unit_price", "$39.00/CY", "$51.01/m3"),
        ("1.5:1", "side_slope", "1.5:1", "1.5:1"),
        ("2.5 g/m3/day", "rate", "2.5 g/m3/day", "2.5 g/m3/day"),
        ("2024", "number", "2,020", "2,020"),
        ("25 pcf", "density", "25 lb/ft3", "400 kg/m3"),
        ("93.6 psf", "pressure", "93.6 psf", "4.48 kPa"),
    ],
)
def test_each_kind_has_the_digits_of_the_trade(typed: str, kind: str, us: str, si: str) -> None:
    value = parse_quantity(typed, kind)

    assert (us, si) == (format_quantity(value, kind), format_quantity(value, kind, system="si"))


@pytest.mark.works(of=(format_quantity,))
def test_two_figures_for_what_rests_on_kinetics() -> None:
    load = parse_quantity("2095 lb/yr", "load")

    assert format_quantity(load, "load", style="two figures") == "2,100 lb/yr"
    assert format_quantity(1250.0, "money", style="two figures") == "$1,300"
    assert format_quantity(0.0996, "ratio", style="two figures") == "10 %"


@pytest.mark.works(of=(format_quantity, unit_label))
def test_unit_names_and_columns() -> None:
    assert format_quantity(0.3048, "in") == "12 in"
    assert format_quantity(-5.25, "USD/kg") == "-$5.25/kg"
    assert format_quantity(0.3048, "length", unit=False) == "1.00"
    assert (unit_label("flow"), unit_label("flow", "si")) == ("cfs", "L/s")


@pytest.mark.works(of=(format_quantity,))
def test_what_has_no_digits_is_said_in_words() -> None:
    assert format_quantity(Unknown("not given"), "length") == "not known"
    assert format_quantity(math.inf, "length") == "no limit"
    assert format_quantity(-1e-9, "length") == "0.00 ft"


@pytest.mark.works(of=(to_si, from_si))
def test_conversion_broadcasts() -> None:
    feet = np.array([1.0, 2.0])

    assert to_si(feet, "ft").tolist() == [0.3048, 0.6096]
    assert from_si(to_si(feet, "ft"), "ft").tolist() == [1.0, 2.0]


@pytest.mark.law(of=(parse_quantity, format_quantity))
@given(st.sampled_from(sorted(KINDS)), st.floats(0.01, 9e5), st.sampled_from(["us", "si"]))
def test_what_is_printed_can_be_read_back(kind: str, value: float, system: str) -> None:
    text = format_quantity(value, kind, system=system)  # type: ignore[arg-type]
    again = format_quantity(parse_quantity(text, kind), kind, system=system)  # type: ignore[arg-type]

    assert text == again


@pytest.mark.works(of=(did_you_mean, join_or))
def test_choices_and_near_words() -> None:
    assert did_you_mean("concret", ["concrete", "clay"]) == " Did you mean concrete?"
    assert did_you_mean("xyz", ["concrete", "clay"]) == ""
    assert join_or(["a", "b", "c"]) == "a, b or c"
    assert join_or(["a"]) == "a"


@pytest.mark.works(of=(base_unit,))
def test_every_base_unit_may_stand_in_a_docstring_but_the_yearly_and_mixed_ones() -> None:
    assert {"kg/yr", "USD/yr", "USD per SI unit"} == set(BASE.values()) - DOCSTRING_UNITS

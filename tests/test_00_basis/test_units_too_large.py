# SPDX-License-Identifier: Apache-2.0
"""Numbers that nothing can be counted with are a fault, as any other wrong quantity is."""

import pytest

from tilewater.basis.errors import UnitMismatch
from tilewater.basis.units import parse_quantity


@pytest.mark.works(of=(parse_quantity,))
@pytest.mark.parametrize(
    ("typed", "kind"),
    [
        ("1e400 ft", "length"),
        ("1e400", "length"),
        ("1e400", "number"),
        ("1e308 mi", "length"),
        ("9" * 400 + " ft", "length"),
        ("9" * 9999, "number"),
        ("1" * 400 + "+40", "station"),
    ],
)
def test_a_number_larger_than_any_is_refused(typed: str, kind: str):
    with pytest.raises(UnitMismatch, match="no number that can be counted with"):
        parse_quantity(typed, kind)


@pytest.mark.works(of=(parse_quantity,))
def test_a_power_of_ten_with_more_than_three_digits_is_no_number():
    with pytest.raises(UnitMismatch):
        parse_quantity("1e999999999 ft", "length")
    assert parse_quantity("1e3 ft", "length") == 304.8

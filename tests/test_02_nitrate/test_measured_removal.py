# SPDX-License-Identifier: Apache-2.0
"""The warning above what beds have measured."""

import pytest

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.tables import read_table
from tilewater.nitrate.measured_removal import removal_above_measured
from tilewater.nitrate.removal import published_rates


@pytest.mark.works(of=(removal_above_measured,))
def test_what_beds_have_done_is_passed_in_silence() -> None:
    assert removal_above_measured() == ()
    assert removal_above_measured(rate_g_per_m3_day=22.0, bed_percent=89.0, site_percent=40.0) == ()


@pytest.mark.works(of=(removal_above_measured,))
@pytest.mark.parametrize(
    ("given", "code", "severity", "limit", "source"),
    [
        ({"rate_g_per_m3_day": 23.0}, "rate", "caution", 22.0, "schipper2010"),
        ({"rate_g_per_m3_day": 60.0}, "rate", "caution", 44.0, "david2016"),
        ({"bed_percent": 95.0}, "bed", "caution", 89.0, "southdakota2022"),
        ({"site_percent": 50.0}, "site", "note", 40.0, "christianson2021"),
        ({"site_percent": 70.0}, "site", "caution", 66.0, "christianson2021"),
    ],
)
def test_the_highest_line_passed_is_told(given, code, severity, limit, source) -> None:
    (finding,) = removal_above_measured(**given)

    assert finding.code == f"removal-above-measured-{code}"
    assert (finding.severity, finding.limit, finding.source) == (severity, limit, source)
    assert finding.value == next(iter(given.values()))


@pytest.mark.works(of=(removal_above_measured,))
def test_message_names_value_line_source_and_what_to_do() -> None:
    (finding,) = removal_above_measured(site_percent=71.3)

    assert finding.message == (
        "The share removed of the load of the site is 71 %, above 66: mean of 15 values and their "
        "standard deviation: 40 +/- 26 (christianson2021, abstract). Look again at the rate, the "
        "retention and the bypass."
    )


@pytest.mark.by_hand(of=(removal_above_measured,))
def test_lines_are_those_of_the_published_figures() -> None:
    most = {
        row.text("slug"): row.number("most")
        for row in read_table("tilewater.nitrate", "measured_removal").rows
    }

    assert most["rate-review"] == published_rates().row("beds-review").number("high")
    assert most["rate-first-year"] == published_rates().row("illinois-year-1").number("high")
    assert most["site-literature"] == 40 + 26


@pytest.mark.works(of=(removal_above_measured,))
def test_negative_removal_is_refused() -> None:
    with pytest.raises(OutOfDomain, match=r"bed_percent is -1 %. It cannot be negative."):
        removal_above_measured(bed_percent=-1.0)

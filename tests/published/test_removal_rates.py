# SPDX-License-Identifier: Apache-2.0
"""Published volumetric removal rates, cell by cell as the abstracts print them."""

import pytest

from tests.digits import printed
from tilewater.nitrate.removal import published_rates

ABSTRACT = "abstract"


def rate(slug: str, column: str) -> float:
    return published_rates().row(slug).number(column)


@pytest.mark.published("schipper2010", ABSTRACT, of=(published_rates,))
def test_review() -> None:
    assert (printed("2"), printed("22")) == (
        rate("beds-review", "low"),
        rate("beds-review", "high"),
    )
    assert printed("0.01") == rate("walls-review", "low")
    assert printed("3.6") == rate("walls-review", "high")


@pytest.mark.published("labscale-pathways", "quotes a meta-analysis", of=(published_rates,))
def test_meta_analysis() -> None:
    assert printed("0.3") == rate("all-meta-analysis", "low")
    assert printed("30") == rate("all-meta-analysis", "high")


@pytest.mark.published("christianson2021", ABSTRACT, of=(published_rates,))
def test_median_of_the_literature() -> None:
    assert printed("5.1") == rate("literature-since-2018", "typical")


@pytest.mark.published("martin2019", ABSTRACT, of=(published_rates,))
def test_pilot_beds() -> None:
    assert printed("9.0") == rate("ames-2-hours", "typical")
    assert printed("7.4") == rate("ames-16-hours", "typical")


@pytest.mark.published("david2016", ABSTRACT, of=(published_rates,))
def test_one_bed_by_year() -> None:
    assert (23, 44) == (rate("illinois-year-1", "low"), rate("illinois-year-1", "high"))
    assert (1.2, 11) == (rate("illinois-years-2-3", "low"), rate("illinois-years-2-3", "high"))


@pytest.mark.published("christianson2013", ABSTRACT, of=(published_rates,))
def test_northeast_iowa() -> None:
    assert (0.38, 1.06) == (rate("northeast-iowa", "low"), rate("northeast-iowa", "high"))


@pytest.mark.published("southdakota2022", ABSTRACT, of=(published_rates,))
def test_south_dakota() -> None:
    assert (5, 27) == (rate("south-dakota", "low"), rate("south-dakota", "high"))


@pytest.mark.published("plauborg2023", ABSTRACT, of=(published_rates,))
def test_denmark() -> None:
    cells = tuple(rate("denmark", column) for column in ("low", "typical", "high"))

    assert (1.49, 2.90, 5.37) == cells


@pytest.mark.published("maryland-ditch", ABSTRACT, of=(published_rates,))
def test_maryland() -> None:
    assert printed("0.97") == rate("maryland-ditch", "typical")


@pytest.mark.published("manca2021", ABSTRACT, of=(published_rates,))
def test_queensland() -> None:
    assert (2.5, 7.1) == (rate("queensland-beds", "low"), rate("queensland-beds", "high"))
    assert printed("0.15") == rate("queensland-wall", "typical")


@pytest.mark.published("karaka", "page of the case study", of=(published_rates,))
def test_karaka() -> None:
    assert (4.6, 11.2) == (rate("karaka", "low"), rate("karaka", "high"))


@pytest.mark.published("maxwell2018", "rates by day, author manuscript", of=(published_rates,))
def test_columns() -> None:
    assert (4.5, 8.9, 21.4) == tuple(
        rate("columns-saturated", column) for column in ("low", "typical", "high")
    )
    assert (4.4, 12.3, 23.1) == tuple(
        rate("columns-drained-weekly", column) for column in ("low", "typical", "high")
    )

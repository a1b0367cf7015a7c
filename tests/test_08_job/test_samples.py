# SPDX-License-Identifier: Apache-2.0
"""Nitrate results: the detection limit, nitrogen or the ion, bottles of one day."""

import tomllib
from pathlib import Path

import pytest

from tests.digits import printed
from tilewater.basis.errors import BadInputFile, OutOfDomain
from tilewater.job.samples import NitrateMean, SampleFile, read_samples
from tools.package import ROOT

FARM = ROOT / "examples" / "corbel-farm"
HEAD = "date,sample,place,nitrate [mg/L as N]\n"


def write(tmp_path: Path, *rows: str, head: str = HEAD) -> Path:
    path = tmp_path / "nitrate.csv"
    path.write_text(head + "".join(f"{row}\n" for row in rows), encoding="utf-8")
    return path


def faults_of(path: Path) -> str:
    with pytest.raises(BadInputFile) as raised:
        read_samples(path)
    return str(raised.value)


@pytest.mark.by_hand(of=SampleFile.mean)
def test_mean_of_the_main_is_the_one_of_the_job() -> None:
    mean = read_samples(FARM / "nitrate.csv").mean("main")
    others = 12.6 + 15.1 + 17.9 + (18.4 + 18.0) / 2 + 16.8 + 13.9 + 9.7 + 13.8 + 16.4 + 18.3 + 17.6
    assert mean.with_zero == pytest.approx(others / 12)
    assert mean.with_half == pytest.approx((others + 0.1) / 12)
    assert mean.with_limit == pytest.approx((others + 0.2) / 12)
    assert (mean.days, mean.below) == (12, 1)
    stated = tomllib.loads((FARM / "job.toml").read_text(encoding="utf-8"))["nitrate"]["mean"]
    assert printed(stated.removesuffix(" mg/L")) == mean.with_half


@pytest.mark.works(of=read_samples)
def test_findings_of_the_example() -> None:
    file = read_samples(FARM / "nitrate.csv")
    assert file.places == ("main", "ditch upstream")
    assert [finding.message for finding in file.findings] == [
        "main has 2 bottles of 2025-05-20: 18.4 and 18 mg/L as N. "
        "They count as one day with their mean.",
        "2 of 15 results are below the detection limit: main 2025-08-19 (<0.2), "
        "ditch upstream 2025-08-19 (<0.2). "
        "Means are given with zero, half and the whole limit in their place.",
        "nitrate.csv has no flow beside its results, so a mean is not weighted by flow. "
        "Measure flow with each sample; most of the load comes on few days.",
    ]


@pytest.mark.by_hand(of=read_samples)
def test_ion_is_converted_only_where_the_unit_says_so(tmp_path: Path) -> None:
    """62.004 g of the ion hold 14.007 g of nitrogen: 44.27 mg/L of it are 10.0 mg/L as N."""
    ion = write(tmp_path, "2026-05-01,1,main,44.27", head=HEAD.replace("as N", "as NO3"))
    assert printed("10.00") == read_samples(ion).samples[0].nitrate_mg_per_l
    assert read_samples(ion).samples[0].nitrate_mg_per_l == pytest.approx(44.27 * 14.007 / 62.004)
    nitrogen = write(tmp_path, "2026-05-01,1,main,44.27")
    assert read_samples(nitrogen).samples[0].nitrate_mg_per_l == 44.27


@pytest.mark.works(of=read_samples)
def test_unit_may_stand_in_each_row(tmp_path: Path) -> None:
    path = write(
        tmp_path,
        "2026-05-01,1,main,10,mg/L NO3-N",
        "2026-05-02,2,main,<44.27,mg/L as NO3",
        head="date,sample,place,nitrate,unit\n",
    )
    first, second = read_samples(path).samples
    assert first.nitrate_mg_per_l == 10.0
    assert second.is_below
    assert printed("10.00") == second.nitrate_mg_per_l


@pytest.mark.works(of=read_samples)
@pytest.mark.parametrize(
    ("head", "said"),
    [("nitrate [mg/L]", "unit 'mg/L' does not say"), ("nitrate", "nothing says")],
)
def test_unit_that_does_not_say_what_it_means_is_refused(
    tmp_path: Path, head: str, said: str
) -> None:
    path = write(tmp_path, "2026-05-01,1,main,10", head=f"date,sample,place,{head}\n")
    assert faults_of(path) == (
        f"nitrate.csv line 1: {said} whether nitrate is given as nitrogen or as the ion, which is "
        "4.43 times as much. Write mg/L as N or mg/L as NO3 behind the name of the column, or in a "
        "column unit."
    )


@pytest.mark.works(of=read_samples)
def test_every_fault_is_named_at_once(tmp_path: Path) -> None:
    path = write(
        tmp_path,
        "5/1/2026,1,main,10",
        "2026-05-02,2,main,ND",
        "2026-05-03,3,main,-1",
        "2026-05-04,4,,ten",
    )
    assert faults_of(path) == (
        "nitrate.csv line 2: date '5/1/2026' is not a date. "
        "Write year-month-day, like 2026-05-14.\n"
        "nitrate.csv line 3: nitrate 'ND' has no limit. "
        "Write < with the detection limit, like <0.2.\n"
        "nitrate.csv line 4: nitrate '-1' is not a result. "
        "Write it like 12.6, or <0.2 below the limit.\n"
        "nitrate.csv line 5: the sample has no place. Write where it was taken.\n"
        "nitrate.csv line 5: nitrate 'ten' is not a result. "
        "Write it like 12.6, or <0.2 below the limit."
    )


@pytest.mark.law(of=(SampleFile.mean, NitrateMean))
def test_substitution_makes_no_difference_without_results_below_the_limit(tmp_path: Path) -> None:
    path = write(tmp_path, "2026-05-01,1,main,10", "2026-05-02,2,main,20")
    mean = read_samples(path).mean("main")
    assert mean == NitrateMean(15.0, 15.0, 15.0, 2, 0)


@pytest.mark.works(of=SampleFile.mean)
def test_unknown_place_is_answered_with_the_known_ones() -> None:
    with pytest.raises(OutOfDomain) as raised:
        read_samples(FARM / "nitrate.csv").mean("mains")
    assert str(raised.value) == (
        "nitrate.csv has no sample of 'mains'. Its places are main or ditch upstream. "
        "Did you mean main?"
    )

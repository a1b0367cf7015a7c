# SPDX-License-Identifier: Apache-2.0
"""What shots and bore holes add for the plan, and what is at fault when a shot is named."""

import shutil
from pathlib import Path

import pytest

from tilewater.basis.errors import BadInputFile
from tilewater.tasks.checking import check_job
from tilewater.tasks.plan_inputs import borings_given, named_shots_given, shots_given
from tools.package import ROOT

FARM = ROOT / "examples" / "corbel-farm"
FOOT = 0.3048


@pytest.fixture
def farm(tmp_path: Path) -> Path:
    folder = tmp_path / "corbel-farm"
    shutil.copytree(FARM, folder, ignore=shutil.ignore_patterns("results"))
    return folder


def edit(folder: Path, name: str, old: str, new: str) -> None:
    file = folder / name
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")


@pytest.mark.works(of=(shots_given, borings_given, named_shots_given))
def test_shots_and_holes_are_inputs_by_name() -> None:
    job = check_job(FARM)
    points, used = (job.value(f"inputs.shots.{name}") for name in ("point", "is_used"))
    assert isinstance(points, tuple)
    assert isinstance(used, tuple)
    assert ["112", "113"] == [p for p, good in zip(points, used, strict=True) if not good]
    assert 3 == len(job.value("inputs.shot_places.line.bank-top.north_m"))  # type: ignore[arg-type]
    assert job.value("inputs.boring.B-1.station_m") == pytest.approx(62.0 * FOOT)
    assert job.value("inputs.boring.B-1.water_m") == pytest.approx((1186.02 - 5.55) * FOOT)


@pytest.mark.works(of=(borings_given,))
def test_a_dry_hole_has_no_water_and_leaves_nothing_open(farm: Path) -> None:
    edit(farm, "borings.csv", "none,5.50,dark", "none,dry,dark")
    job = check_job(farm)
    assert job.value("inputs.boring.B-2.water_m") is None
    assert not [each.key for each in job.unknown if each.key.startswith("inputs.boring")]


@pytest.mark.works(of=(named_shots_given,))
@pytest.mark.parametrize(
    ("named", "said"),
    [
        ("999", "shots.csv has no point 999. Correct the number."),
        (
            "112",
            "point 112 of shots.csv has no fixed position and is not used. Shoot it again, or "
            "name another shot.",
        ),
        (
            "131",
            "point 131 stands 2 times in shots.csv. Give each shot its own number, or name "
            "another shot.",
        ),
    ],
)
def test_a_shot_that_cannot_be_taken_is_at_fault(farm: Path, named: str, said: str) -> None:
    edit(farm, "job.toml", '["103", "106", "109"]', f'["103", "{named}", "109"]')
    with pytest.raises(BadInputFile) as raised:
        check_job(farm)
    assert str(raised.value) == f"job.toml: line.bank-top.shots: {said}"

# SPDX-License-Identifier: Apache-2.0
"""Tables of the job file about a buffer, and that the steps of a buffer read what they write."""

from pathlib import Path

import pytest

from tests.buffers import MERRIDEW, hole_inputs
from tests.jobs import FARM, FOOT, INCH
from tilewater.basis.errors import BadInputFile
from tilewater.basis.trace import Trace
from tilewater.job.reading import job_of_text
from tilewater.job.schema import JobFile, asks, trace_key
from tilewater.practices.buffer.givens import DEFAULTS
from tilewater.practices.buffer.soil_steps import add_soil

TABLES = """
[buffer]
width = "55 ft"
branches = ["550 ft", "550 ft"]
length_available = "1100 ft"
tree_length = "140 ft"
pipe_diameter = "4 in"
line_invert = "742.3 ft"
barrier = "735.0 ft"
envelope = "soil"
vegetation = "perennial"
head_boards = "0 in"

[buffer_soil]
conductivity_survey = "9 um/s"
organic_carbon = "1.9 %"
oxygen_uptake = "2 mg/L"
cohesion_low = "3 kPa"

[auger_hole.a1]
radius = "2 in"
depth = "8 ft"
water_table = "4 ft"
depths = ["5.05 ft", "4.95 ft"]
times = ["0 s", "30 s"]
by = "R. Lindqvist"
date = "2026-04-12"

[slug_test.s1]
casing_radius = "1 in"
screen_radius = "2 in"
screen_length = "3 ft"
displacements = ["20 in", "10 in"]
times = ["0 min", "5 min"]
by = "R. Lindqvist"
date = "2026-04-12"

[soil_layer.upper]
top = "745.6 ft"
conductivity = "3 ft/day"
"""


def keys_asked() -> set[str]:
    named = {"auger_hole": {"a1": {}}, "slug_test": {"s1": {}}, "soil_layer": {"upper": {}}}
    return {trace_key(path, ask) for path, _, ask in asks(JobFile, named)}


def job_with(text: str, folder: Path):
    farm = (FARM / "job.toml").read_text(encoding="utf-8")
    for name in ("borings.csv", "nitrate.csv", "prices.csv", "weather.csv"):
        (folder / name).write_text("")
    (folder / "survey").mkdir(exist_ok=True)
    (folder / "survey" / "shots.csv").write_text("")
    return job_of_text(farm + text, folder)


@pytest.mark.works(of=(asks,))
def test_every_key_that_a_buffer_reads_can_be_answered_in_the_job() -> None:
    read = {key for key in (*MERRIDEW, *hole_inputs("a1", 1.0), *DEFAULTS) if "inputs." in key}
    assert read - keys_asked() == set()


@pytest.mark.works(of=(job_of_text, add_soil))
def test_tables_of_a_buffer_become_inputs_of_its_steps(tmp_path: Path) -> None:
    job = job_with(TABLES, tmp_path)
    given = {each.key: each.value for each in job.givens}
    assert given["inputs.buffer.branches_m"] == (pytest.approx(550 * FOOT),) * 2
    assert given["inputs.buffer.pipe_diameter_m"] == pytest.approx(4 * INCH)
    assert given["inputs.buffer_soil.organic_carbon"] == pytest.approx(0.019)
    assert given["inputs.buffer_soil.cohesion_low_pa"] == pytest.approx(3000)
    assert given["inputs.slug_test.s1.times_s"] == (0, 300)
    trace = Trace.start(each for each in job.givens if not each.key.startswith("inputs.season"))
    trace.constant("boards.inlet-design.crest_m", 742.5 * FOOT, "Crest", unit="m", source="derived")
    add_soil(trace)
    assert trace.known("buffer.hole.a1.conductivity_m_s", "buffer.hole.s1.conductivity_m_s")
    assert trace.value("buffer.conductivity_from") == "auger holes"


@pytest.mark.works(of=(job_of_text,))
def test_a_bed_needs_none_of_it(tmp_path: Path) -> None:
    keys = [each.key for each in job_with("", tmp_path).givens]
    tables = ("inputs.buffer", "inputs.auger_hole", "inputs.slug_test", "inputs.soil_layer")
    assert [key for key in keys if key.startswith(tables)] == []


@pytest.mark.works(of=(job_of_text,))
def test_a_hole_without_its_radius_is_a_fault(tmp_path: Path) -> None:
    with pytest.raises(BadInputFile, match="radius"):
        job_with(TABLES.replace('radius = "2 in"\ndepth', "depth", 1), tmp_path)

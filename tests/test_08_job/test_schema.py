# SPDX-License-Identifier: Apache-2.0
"""The declaration of the job file: examples, sources, keys, and the pages made from it."""

import tomllib
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from tilewater.basis.units import BASE
from tilewater.job.fields import Ask, Quantity, Setting
from tilewater.job.pages import job_file_page, job_schema, job_schema_text
from tilewater.job.schema import JobFile, asks, member_at, trace_key
from tilewater.job.template import SAMPLE_NAMES
from tilewater.job.words import FileName

DOCS = Path(__file__).parents[2] / "docs"
SOURCES = Path(__file__).parents[2] / "src/tilewater/basis/sources.toml"
EXAMPLES = Path(__file__).parents[2] / "examples"
NAMED: dict[str, Any] = {group: {name: {}} for group, name in SAMPLE_NAMES.items()}
ALL = {".".join(path): ask for path, _, ask in asks(JobFile, NAMED)}


@pytest.mark.works(of=(Ask,))
def test_every_example_and_default_can_be_read() -> None:
    for path, ask in ALL.items():
        example = tomllib.loads(f"v = {ask.sample}")["v"]

        assert ask.read(example, Setting()) is not None, path
        assert not ask.default or ask.read(ask.default, Setting()) is not None, path


@pytest.mark.works(of=(Ask,))
def test_every_default_has_a_source_that_exists() -> None:
    sources = tomllib.loads(SOURCES.read_text(encoding="utf-8"))
    defaults = {path: ask.source for path, ask in ALL.items() if ask.default}

    assert len(defaults) > 20
    assert [] == [path for path, source in defaults.items() if source not in sources]
    assert [] == [path for path, ask in ALL.items() if ask.source and not ask.default]


@pytest.mark.works(of=(Ask,))
def test_what_may_be_measured_says_how() -> None:
    assert [] == [path for path, ask in ALL.items() if ask.need == "may" and not ask.how]


@pytest.mark.works(of=(Quantity,))
def test_keys_wear_the_unit_of_the_value() -> None:
    bases = {"m": "_m", "m2": "_m2", "m3": "_m3", "m3/s": "_m3_s", "m/s": "_m_s", "kg": "_kg"}
    bases |= {"degC": "_c", "mg/L": "_mg_per_l", "kg/m3": "_kg_per_m3", "s": "_s", "USD": "_usd"}
    bases |= {
        "g/m3/day": "_g_per_m3_day",
        "degC-day": "_c_days",
        "deg": "_deg",
        "Pa": "_pa",
        "-": "",
        "years": "",
        "days": "",
        "USD/yr": "",
    }
    quantities = [ask for ask in ALL.values() if isinstance(ask, Quantity)]

    assert set(bases) <= set(BASE.values())
    assert [] == [ask.title for ask in quantities if ask.suffix != bases[ask.unit]]


@pytest.mark.works(of=(trace_key, member_at))
def test_paths_lead_to_fields_and_keys() -> None:
    path = ("spot", "low-1", "ground")
    member = member_at(path)

    assert member is not None
    assert member.ask is not None
    assert trace_key(path, member.ask) == "inputs.spot.low-1.ground_m"
    assert member_at(("main", "diametr")) is None


@pytest.mark.oracle("jsonschema 4.26", of=(job_schema,))
@pytest.mark.parametrize(
    "folder", [Path(__file__).parents[1] / "files/format-1", EXAMPLES / "corbel-farm"]
)
def test_job_files_keep_to_the_json_schema(folder: Path) -> None:
    data = tomllib.loads((folder / "job.toml").read_text(encoding="utf-8"))
    validator = jsonschema.Draft202012Validator(job_schema())
    validator.check_schema(job_schema())

    assert [] == [error.message for error in validator.iter_errors(data)]


@pytest.mark.oracle("jsonschema 4.26", of=(job_schema,))
@pytest.mark.parametrize(
    ("path", "value"),
    [("main.diameter", 10), ("main.material", "copper"), ("boards.heights", "8 in")],
)
def test_the_json_schema_sees_a_wrong_type(path: str, value: Any) -> None:
    folder = EXAMPLES / "corbel-farm"
    data = tomllib.loads((folder / "job.toml").read_text(encoding="utf-8"))
    table, key = path.split(".")
    data[table][key] = value
    errors = list(jsonschema.Draft202012Validator(job_schema()).iter_errors(data))

    assert [[table, key]] == [list(error.absolute_path) for error in errors]


@pytest.mark.oracle("jsonschema 4.26", of=(job_schema,))
def test_the_json_schema_asks_for_what_must_be_answered() -> None:
    schema = job_schema()
    must = [m.key for m in JobFile.members() if m.is_required()]

    assert schema["required"] == ["format", *must]
    assert "n" not in schema["$defs"]["Main"]["required"]
    assert "slope" in schema["$defs"]["Main"]["required"]


@pytest.mark.works(of=(job_file_page, job_schema_text))
@pytest.mark.parametrize(
    ("name", "page"), [("job-file.md", job_file_page), ("job.schema.json", job_schema_text)]
)
def test_the_pages_are_fresh(name: str, page: Any) -> None:
    assert (DOCS / name).read_text(encoding="utf-8") == page(), "stale; run: python3 dev.py docs"


@pytest.mark.works(of=(job_file_page,))
def test_the_page_has_every_field() -> None:
    page = job_file_page()

    for path, ask in ALL.items():
        assert f"| `{path.split('.')[-1]}`" in page
        assert ask.title in page


@pytest.mark.works(of=(FileName,))
def test_a_file_is_looked_for_only_where_there_is_a_folder(tmp_path: Path) -> None:
    ask = FileName("File", example="a.csv")
    (tmp_path / "a.csv").write_text("")

    assert ask.read("b.csv", Setting()) == "b.csv"
    assert ask.read("a.csv", Setting(tmp_path)) == "a.csv"

# SPDX-License-Identifier: Apache-2.0
"""The table of soil and crops: what is not typed is not there, defaults are told, crops known."""

from pathlib import Path
from typing import Any

import pytest

from tilewater.basis.errors import BadInputFile
from tilewater.job.edits import edited
from tilewater.job.reading import job_of_text
from tilewater.job.schema import JobFile
from tilewater.job.schema_field import FieldTable

pytestmark = pytest.mark.works(of=(FieldTable,))


def inputs(text: str, folder: Path, edits: dict[str, Any]) -> dict[str, Any]:
    return {given.key: given.value for given in job_of_text(edited(text, edits), folder).givens}


def test_values_are_si_under_the_names_of_the_model(whole_text: str, whole_folder: Path) -> None:
    found = inputs(whole_text, whole_folder, {"field.deep_seepage": "36.525 mm/yr"})

    assert found["inputs.field.rotation"] == ("corn", "soybean")
    assert found["inputs.field.first_crop_year"] == 2024
    assert found["inputs.field.root_limit_m"] == pytest.approx(3 * 0.3048)
    assert found["inputs.field.deep_seepage_m_s"] == pytest.approx(1e-4 / 86400)
    assert found["inputs.field.surface_storage_m"] == pytest.approx(0.010)


def test_a_job_without_the_table_has_none_of_its_values(
    whole_text: str, whole_folder: Path
) -> None:
    without = whole_text[: whole_text.index("[field]")]
    assert not any(key.startswith("inputs.field.") for key in inputs(without, whole_folder, {}))


def test_a_crop_that_is_not_known_is_a_fault(whole_text: str, whole_folder: Path) -> None:
    with pytest.raises(BadInputFile, match="'maize' is no crop known here"):
        inputs(whole_text, whole_folder, {"field.rotation": ["corn", "maize"]})


def test_the_default_and_what_it_rests_on_stand_in_the_help() -> None:
    (table,) = (m.model for m in JobFile.members() if m.key == "field")
    helps = {m.key: m.ask.help for m in table.members() if m.ask is not None}

    assert helps["drainable_porosity"] == (
        "0.05 when it is left out; from memory: clay loam and silty clay loam; subsoils measured "
        "0.03 to 0.08; usual 0.03 to 0.12."
    )


def test_the_limit_on_wet_days_is_two_when_nobody_says_more(
    whole_text: str, whole_folder: Path
) -> None:
    without = whole_text.replace("wet_days = 2\n", "\n")
    given = next(
        g for g in job_of_text(without, whole_folder).givens if g.key == "inputs.limits.wet_days"
    )

    assert (given.value, given.origin.source, given.origin.file) == (2.0, "practice", "")

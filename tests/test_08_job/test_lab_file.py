# SPDX-License-Identifier: Apache-2.0
"""Files of laboratories: what is below detection, what is counted, places, pairs and blanks."""

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.digits import printed
from tilewater.basis.errors import BadInputFile
from tilewater.job.lab_columns import columns_of
from tilewater.job.lab_file import LabAsk, read_lab
from tilewater.job.lab_notes import lab_notes
from tilewater.job.lab_rows import LabResults, results_at
from tilewater.job.logger_text import table_of

ASK = LabAsk(time_zone="America/Chicago", species="nitrate as N")
HEAD = "Sample,Place,Date,Time,Nitrate [mg/L]\n"
ROWS = """1,inlet,2028-05-02,09:10,14.2
2,outlet,2028-05-02,09:20,<0.2
3,inlet,2028-05-16,,ND
4,outlet,2028-05-16,10:00,0.05 U
5,outlet,2028-05-30,10:00,
6,inlet,2028-05-30,10:05,11.8 J
"""
RECORD = Path(__file__).parents[1] / "field_data/exchange-record.csv"


def read(text: str, folder: Path, **more: object) -> LabResults:
    path = folder / "lab.csv"
    path.write_text(text, encoding="utf-8")
    return read_lab(path, replace(ASK, **more))  # type: ignore[arg-type]


def faults(text: str, folder: Path, **more: object) -> list[str]:
    with pytest.raises(BadInputFile) as error:
        read(text, folder, **more)
    return [str(fault) for fault in error.value.faults]


def codes(found: LabResults) -> list[str]:
    return [note.code for note in found.notes]


@pytest.mark.works(of=(read_lab,))
def test_results_are_read_with_what_is_below_detection_kept_as_that(tmp_path: Path):
    found = read(HEAD + ROWS, tmp_path, detection=0.1)
    assert [(r.place, r.shown) for r in found.rows] == [
        ("inlet", "14.2"),
        ("outlet", "<0.2"),
        ("inlet", "<0.1"),
        ("outlet", "<0.05"),
        ("inlet", "11.8"),
    ]
    first, third = found.rows[0], found.rows[2]
    assert first.time_s == datetime(2028, 5, 2, 14, 10, tzinfo=UTC).timestamp()
    assert third.time_s == datetime(2028, 5, 16, 17, 0, tzinfo=UTC).timestamp()  # noon
    assert codes(found) == ["lab-read", "lab-below-detection", "lab-marked", "lab-no-hour"]


@pytest.mark.works(of=(read_lab,))
def test_a_limit_that_is_nowhere_is_asked(tmp_path: Path):
    assert faults(HEAD + ROWS, tmp_path) == [
        "lab.csv line 4: 'ND' is below a limit that is not given. Write detection, like "
        '"0.05 mg/L", under [lab], or the limit in the file.'
    ]


@pytest.mark.works(of=(read_lab,))
def test_nothing_that_says_ion_or_nitrogen_is_asked(tmp_path: Path):
    found = faults(HEAD + ROWS, tmp_path, species=None, detection=0.1)
    assert len(found) == 6
    assert found[0] == (
        "lab.csv line 2: nothing says whether nitrate is counted as nitrogen or as the ion, which "
        "is 4.43 times as much. Ask the laboratory, then write species = "
        '"nitrate as N" or "nitrate as ion" under [lab].'
    )
    assert faults(HEAD + ROWS, tmp_path, time_zone=None) == [
        "lab.csv line 1: lab: nothing says in which time zone samples were taken. Write time_zone "
        'under [monitor] or [lab], like "America/Chicago".'
    ]


@pytest.mark.by_hand(of=(read_lab,))
@pytest.mark.parametrize(
    ("head", "species", "expected"),
    [
        ("Nitrate [mg/L as N]", None, 10.0),
        ("NO3-N (mg/L)", None, 10.0),
        ("Nitrate [mg/L as NO3]", None, 10.0 * 14.007 / (14.007 + 3 * 15.999)),
        ("Nitrate [mg/L]", "nitrate as ion", 10.0 * 14.007 / (14.007 + 3 * 15.999)),
        ("Nitrate [ug/L]", "nitrate as N", 0.010),
        ("Nitrate [ppm]", "nitrate as N", 10.0),
        ("Nitrate [umol/L]", None, 10.0 * 14.007 / 1000),
    ],
)
def test_units_and_ways_to_count(head: str, species: str | None, expected: float, tmp_path: Path):
    text = f"Place,Date,{head}\ninlet,2028-05-02,10\n"
    found = read(text, tmp_path, species=species)
    assert found.rows[0].nitrate_mg_per_l == pytest.approx(expected, rel=1e-12)


@pytest.mark.works(of=(read_lab, lab_notes))
def test_results_that_look_as_if_the_other_way_to_count_were_meant_are_told(tmp_path: Path):
    rows = "".join(f"inlet,2028-05-{day:02d},{60 + day}\n" for day in range(1, 9))
    found = read("Place,Date,Nitrate [mg/L]\n" + rows, tmp_path)
    note = next(n for n in found.notes if n.code == "lab-species-doubtful")
    assert note.message == (
        "Results of lab.csv at the inlet are read as nitrate as N and give 64.5 mg/L as N in the "
        "middle, as if the whole ion were meant; as N they would be a fourth of that. Ask the "
        "laboratory."
    )
    small = rows.replace(",6", ",1")
    found = read("Place,Date,Nitrate [mg/L]\n" + small, tmp_path, species="nitrate as ion")
    assert "lab-species-doubtful" in codes(found)
    assert "lab-species-doubtful" not in codes(read(HEAD + ROWS, tmp_path, detection=0.1))


@pytest.mark.works(of=(read_lab,))
def test_places_of_the_laboratory_are_mapped(tmp_path: Path):
    text = HEAD + "1,CF-IN,2028-05-02,09:10,14.2\n2,CF-X,2028-05-02,09:20,3.0\n"
    found = read(text, tmp_path, places={"inlet": "CF-IN"})
    assert [row.place for row in found.rows] == ["inlet", ""]
    assert found.notes[1].message == (
        "lab.csv has places that the job does not name and leaves out: CF-X. Name them under "
        "[lab.places] if they are of this practice."
    )
    assert [row.line for row in results_at(found, "inlet")] == [2]
    assert faults(text, tmp_path) == [
        "lab.csv line 2: none of its places is one of the job: 'CF-IN', 'CF-X'. Write what the "
        'laboratory calls each under [lab.places], like inlet = "CF-IN".'
    ]


@pytest.mark.works(of=(read_lab, lab_notes))
def test_pairs_blanks_and_late_samples_are_told(tmp_path: Path):
    text = (
        "Sample,Place,Date,Nitrate [mg/L as N],Analyzed\n"
        "1,inlet,2028-05-02 09:10,14.0,2028-05-03 10:00\n"
        "2,inlet DUP,2028-05-02 09:12,10.0,2028-05-03 10:00\n"
        "3,blank,2028-05-02 09:00,0.3,2028-05-06 09:00\n"
    )
    found = read(text, tmp_path, holding=48 * 3600.0)
    assert [row.is_duplicate for row in found.rows] == [False, True, False]
    messages = {note.code: note.message for note in found.notes}
    assert messages["lab-pair-apart"].startswith(
        "Two bottles of one sample at the inlet, lines 2 and 3, have 14 and 10 mg/L, 33% apart."
    )
    assert messages["lab-blank-not-clean"].startswith("The blank on line 4 has 0.3 mg/L")
    assert messages["lab-held-long"].startswith(
        "1 samples were analysed later than 48 h after they were taken, the first on line 4 after "
        "96 h."
    )


@pytest.mark.works(of=(read_lab,))
def test_a_composite_has_start_and_end(tmp_path: Path):
    text = "Place,From,To,Nitrate [mg/L as N]\ninlet,2028-05-01 08:00,2028-05-02 08:00,9.0\n"
    (row,) = read(text, tmp_path).rows
    assert row.is_composite
    assert row.time_s - row.start_s == 86400.0
    turned = text.replace("05-01", "05-03")
    assert faults(turned, tmp_path) == [
        "lab.csv line 2: the composite starts after its end. Correct one of them."
    ]


@pytest.mark.works(of=(read_lab,))
@pytest.mark.parametrize(
    ("result", "told"),
    [
        ("-0.1", "'-0.1' is below zero. Write < and the limit of detection."),
        ("see note", "'see note' is no result. Write it like 12.6, <0.05 or ND."),
        ("1e999", "'1e999' is no result. Write it like 12.6, <0.05 or ND."),
    ],
)
def test_a_result_that_is_none_is_at_fault(result: str, told: str, tmp_path: Path):
    assert faults(f"{HEAD}1,inlet,2028-05-02,09:10,{result}\n", tmp_path) == [
        f"lab.csv line 2: {told}"
    ]


@pytest.mark.works(of=(read_lab,))
def test_a_pdf_is_refused_in_words(tmp_path: Path):
    (tmp_path / "lab.csv").write_bytes(b"%PDF-1.7 and so on")
    with pytest.raises(BadInputFile) as error:
        read_lab(tmp_path / "lab.csv", ASK)
    assert str(error.value) == (
        "lab.csv: a PDF is not read. Ask the laboratory for the results as CSV, or type them."
    )


@pytest.mark.works(of=(columns_of,))
def test_our_columns_are_found_by_usual_headings():
    table = table_of("Lab ID;Site;Collected;Result;MDL\n1;inlet;2028-05-02;3.0;0.05\n", "lab.csv")
    found = columns_of(table, {})
    assert dict(found.numbers) == {"sample": 0, "place": 1, "date": 2, "result": 3, "detection": 4}


def record(species: str | None) -> LabResults:
    columns = {
        "sample": "Activity_ActivityIdentifier",
        "place": "Location_Identifier",
        "date": "Activity_StartDate",
        "time": "Activity_StartTime",
        "result": "Result_Measure",
        "unit": "Result_MeasureUnit",
        "analyte": "Result_Characteristic",
        "species": "Result_MethodSpeciation",
        "detection": "DetectionLimit_MeasureB",
        "condition": "Result_ResultDetectionCondition",
    }
    ask = LabAsk(columns, {"ditch": "USGS-05406500"}, species, time_zone="America/Chicago")
    return read_lab(RECORD, ask)


@pytest.mark.published("usgs-black-earth-2023", "rows of nitrate", of=(read_lab,))
def test_a_public_exchange_record_gives_its_own_nitrogen_from_its_ion():
    as_n, as_ion = record("nitrate as N"), record("nitrate as ion")
    assert [row.nitrate_mg_per_l for row in results_at(as_n, "ditch")] == [2.89, 2.72, 2.94]
    # the record prints the ion to three figures, so the nitrogen is good to half of its last
    for row, shown in zip(results_at(as_ion, "ditch"), ("12.8", "12.0", "13.0"), strict=True):
        assert printed(shown) == (row.nitrate_mg_per_l or 0.0) * (14.007 + 3 * 15.999) / 14.007
    for ion, nitrogen in zip(results_at(as_ion, "ditch"), results_at(as_n, "ditch"), strict=True):
        assert ion.nitrate_mg_per_l == pytest.approx(nitrogen.nitrate_mg_per_l, abs=0.05 / 4.43)


@pytest.mark.published("usgs-black-earth-2023", "rows of nitrate and nitrite", of=(read_lab,))
def test_the_sum_with_nitrite_is_another_way_to_count():
    both = record("nitrate and nitrite as N")
    assert [row.nitrate_mg_per_l for row in results_at(both, "ditch")] == [2.91, 2.73, 2.96]
    assert [row.detection_mg_per_l for row in results_at(both, "ditch")] == [0.04, 0.04, 0.04]
    plain = record(None)
    assert [row.species for row in plain.rows] == ["nitrate as N"] * 3
    assert "lab-nitrite-in-it" in codes(both)


@pytest.mark.law(of=(read_lab,))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(results=st.lists(st.tuples(st.booleans(), st.integers(0, 40000)), min_size=1, max_size=30))
def test_results_that_are_written_are_read_back(results: list[tuple[bool, int]], tmp_path: Path):
    lines = [
        f"{i},inlet,2028-05-{1 + i % 28:02d},{i % 24:02d}:00,{'<' if below else ''}{n / 1000}\n"
        for i, (below, n) in enumerate(results)
    ]
    found = read(HEAD + "".join(lines), tmp_path)
    for row, (below, n) in zip(found.rows, results, strict=True):
        value = row.detection_mg_per_l if below else row.nitrate_mg_per_l
        assert value == n / 1000
        assert (row.nitrate_mg_per_l is None) == below


@pytest.mark.law(of=(read_lab,))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(text=st.text(alphabet='0123456789-/:,;.<>NDUmg" \tinlet\nµ', max_size=300))
def test_no_text_breaks_the_reader_of_results(text: str, tmp_path: Path):
    try:
        found = read(HEAD + ROWS + text, tmp_path, detection=0.1)
    except BadInputFile:
        return
    assert all(row.nitrate_mg_per_l is None or row.nitrate_mg_per_l >= 0 for row in found.rows)

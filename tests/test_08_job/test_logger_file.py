# SPDX-License-Identifier: Apache-2.0
"""Files of loggers as they come: separators, headings, dates, units, and what is at fault."""

import re
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.digits import printed
from tilewater.basis.errors import BadInputFile
from tilewater.job.logger_file import LoggerAsk, Readings, read_logger
from tilewater.job.logger_text import name_and_unit, read_table, table_of
from tilewater.job.logger_times import Place, read_clock
from tilewater.job.logger_values import numbers_of, unit_of
from tilewater.job.rows import LONGEST_LINE

INLET = LoggerAsk("inlet", "stage", time_zone="-6 h")
FOOT = 0.3048
FIRST = datetime(2028, 3, 13, 6, 0, tzinfo=UTC).timestamp()
"""Midnight of 13 March at -6 h."""
PLAIN = """Time,Level [ft]
2028-03-13 00:00,1.00
2028-03-13 00:15,1.10
2028-03-13 00:30,1.25
2028-03-13 00:45,1.20
"""


def read(text: str | bytes, folder: Path, **more: str) -> Readings:
    path = folder / "inlet.csv"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return read_logger(path, replace(INLET, **more))


def faults(text: str | bytes, folder: Path, **more: str) -> list[str]:
    with pytest.raises(BadInputFile) as error:
        read(text, folder, **more)
    return [str(fault) for fault in error.value.faults]


@pytest.mark.works(of=(read_logger,))
def test_a_plain_file_is_read_into_metres_and_universal_time(tmp_path: Path):
    found = read(PLAIN, tmp_path)
    assert found.time_s.tolist() == [FIRST + i * 900 for i in range(4)]
    assert found.value.tolist() == [FOOT * each for each in (1.0, 1.1, 1.25, 1.2)]
    assert found.notes[0].message == ("inlet.csv, 4 rows: Stage is the column 'Level [ft]'.")


DIRTY = {
    "lines about the instrument": "Model: L-3\nSerial, 00417\nStarted, 2028-03-01 10:00\n" + PLAIN,
    "semicolons and decimal commas": PLAIN.replace(",", ";").replace(".", ","),
    "tabs": PLAIN.replace(",", "\t"),
    "bars": PLAIN.replace(",", "|"),
    "spaces": "Date Time Level_ft\n" + PLAIN.split("\n", 1)[1].replace(",", "   "),
    "a byte order mark": "\ufeff" + PLAIN,
    "lines that end as elsewhere": PLAIN.replace("\n", "\r\n"),
    "quotes": re.sub(r"([^,\n]+)", r'"\1"', PLAIN),
    "blank lines": PLAIN.replace("\n", "\n\n"),
    "a line of units below the names": PLAIN.replace("Level [ft]", "Level\nyyyy-mm-dd hh:mm,ft"),
    "a last word": PLAIN + "End of data\n",
    "its heading again": PLAIN[:60] + PLAIN.split("\n")[0] + "\n" + PLAIN[60:],
    "two files one behind the other": "\n".join(PLAIN.split("\n")[:3])
    + "\nModel: L-3\nStarted, 2028-03-13 00:30\n"
    + "\n".join([PLAIN.split("\n")[0], *PLAIN.split("\n")[2:5]]),
    "a comment": PLAIN.replace("2028-03-13 00:30", "# battery changed\n2028-03-13 00:30"),
    "a count and a battery": "#,Time,Level (ft),Battery (V)\n"
    + "".join(f"{i},{line},3.6\n" for i, line in enumerate(PLAIN.split("\n")[1:5], 1)),
    "newest first": "\n".join([PLAIN.split("\n")[0], *reversed(PLAIN.split("\n")[1:5])]),
    "the days of America": PLAIN.replace("2028-03-13", "3/13/2028"),
    "two digits of a year": PLAIN.replace("2028-03-13", "03/13/28"),
    "the days of Europe": PLAIN.replace("2028-03-13", "13.03.2028"),
    "months by name": PLAIN.replace("2028-03-13", "13-Mar-2028"),
    "seconds": re.sub(r"(:\d\d),", r"\1:00,", PLAIN),
    "halves of the day": re.sub(r"(00):(\d\d),", r"12:\2:00 AM,", PLAIN),
    "the letter between": PLAIN.replace("13 00", "13T00"),
    "its own distance": re.sub(r"(:\d\d),", r"\1-06:00,", PLAIN),
    "date and time apart": PLAIN.replace("Time,", "Date,Hour,").replace("13 00", "13,00"),
    "rows twice": PLAIN + PLAIN.split("\n")[2] + "\n",
    "rows in disorder": "\n".join(PLAIN.split("\n")[i] for i in (0, 1, 3, 2, 4)),
}


@pytest.mark.works(of=(read_logger, read_table))
@pytest.mark.parametrize("sort", DIRTY)
def test_a_dirty_file_gives_the_same_readings(sort: str, tmp_path: Path):
    clean, found = read(PLAIN, tmp_path), read(DIRTY[sort], tmp_path)
    assert np.array_equal(found.time_s, clean.time_s)
    assert np.array_equal(found.value, clean.value)
    assert not found.doubtful.any()


@pytest.mark.works(of=(read_table,))
@pytest.mark.parametrize("encoding", ["utf-16", "cp1252", "utf-8-sig"])
def test_letters_of_other_computers_are_read(encoding: str, tmp_path: Path):
    head = "Time,Level [ft],Temperature (°F)\n"
    text = head + "".join(f"{line},50.0\n" for line in PLAIN.split("\n")[1:5])
    found = read(text.encode(encoding), tmp_path)
    assert found.temperature is not None
    assert printed("10.0") == found.temperature[0]
    assert ("Windows-1252" in found.notes[0].message) == (encoding == "cp1252")


@pytest.mark.works(of=(read_clock,))
def test_month_and_day_that_cannot_be_told_are_asked(tmp_path: Path):
    text = PLAIN.replace("2028-03-13", "03/04/2028")
    (fault,) = faults(text, tmp_path)
    assert fault == (
        "inlet.csv line 2: '03/04/2028' may be 2028-03-04 (month-day-year) or 2028-04-03 "
        "(day-month-year), and no date of the file tells which. Read month-day-year its days "
        'follow each other. Write date_order = "month-day-year", or the other, under '
        "[logger.inlet] in job.toml."
    )
    found = read(text, tmp_path, date_order="day-month-year")
    assert found.time_s[0] == datetime(2028, 4, 3, 6, 0, tzinfo=UTC).timestamp()
    same = read(PLAIN.replace("2028-03-13", "03/03/2028"), tmp_path)
    assert same.time_s[0] == datetime(2028, 3, 3, 6, 0, tzinfo=UTC).timestamp()


@pytest.mark.works(of=(read_clock,))
def test_a_date_that_breaks_the_order_is_told_by_line(tmp_path: Path):
    text = PLAIN.replace("2028-03-13", "3/13/2028").replace("3/13/2028 00:30", "13/3/2028 00:30")
    assert faults(text, tmp_path) == [
        "inlet.csv line 4: '13/3/2028' is no date in the order month-day-year, which the others "
        "have. Correct it, or write all dates year-month-day."
    ]
    assert faults(PLAIN, tmp_path, date_order="month-day-year") == [
        "inlet.csv line 2: '2028-03-13' is no date in the order month-day-year. That is what "
        "date_order of [logger.inlet] in job.toml says; correct one of them."
    ]
    assert faults(PLAIN.replace("00:30", "25:30"), tmp_path) == [
        "inlet.csv line 4: '25:30' is not a time of day. Write it like 13:45, or 1:45 PM."
    ]


@pytest.mark.works(of=(read_clock,))
def test_noon_and_midnight_of_halves_of_the_day():
    place = Place("f", (1, 2, 3, 4), "logger.x")
    clock = read_clock(
        ["2028-03-13 12:00 AM", "2028-03-13 12:00 PM", "2028-03-13 11:59 p.m.", "2028-03-13 24:00"],
        place,
    )
    hours = (clock.local_s - clock.local_s[0]) / 3600
    assert hours.tolist() == [0.0, 12.0, 23 + 59 / 60, 24.0]


@pytest.mark.works(of=(read_logger,))
def test_every_question_of_a_file_is_asked_at_once(tmp_path: Path):
    text = PLAIN.replace("Level [ft]", "Level").replace("1.10", "x1")
    found = faults(text, tmp_path, time_zone=None)
    assert found == [
        "inlet.csv line 1: logger.inlet: nothing says in which time zone its times are. Write "
        'time_zone under it or under [monitor], like "-6 h", which stays the same all year, or '
        'like "America/Chicago".',
        "inlet.csv line 1: logger.inlet: the column 'Level' has no unit of a stage. Write it "
        'under the logger, like unit = "ft". Known: ft, in, m, cm, mm, kPa, psi, mbar, cm of '
        "water.",
        "inlet.csv line 3: Level: 'x1' is not a number. Leave it blank where nothing was read.",
    ]


@pytest.mark.works(of=(read_logger,))
def test_a_column_is_named_where_several_can_be_meant(tmp_path: Path):
    text = "Time,Level A [ft],Level B [ft]\n" + "".join(
        f"{line},2.0\n" for line in PLAIN.split("\n")[1:5]
    )
    (fault,) = faults(text, tmp_path)
    assert fault.endswith(
        "2 of its columns can be the stage: Time, Level A [ft], Level B [ft]. "
        'Name it, like value_column = "Level A [ft]".'
    )
    assert read(text, tmp_path, value_column="Level B").value[0] == 2 * FOOT
    assert read(text, tmp_path, value_column="3").value[0] == 2 * FOOT
    (fault,) = faults(text, tmp_path, value_column="Level C")
    assert "there is no column 'Level C'. The columns are Time, Level A, Level B." in fault


@pytest.mark.works(of=(read_logger,))
def test_blank_cells_and_numbers_for_nothing_are_left_out_and_told(tmp_path: Path):
    found = read(PLAIN.replace("1.10", "").replace("1.25", "-9999"), tmp_path)
    assert found.value.tolist() == [FOOT, 1.2 * FOOT]
    assert found.notes[1].message == "2 rows of inlet have no value and are left out."


@pytest.mark.works(of=(read_logger,))
def test_one_time_with_two_values_keeps_the_first_and_doubts_it(tmp_path: Path):
    found = read(PLAIN + "2028-03-13 00:15,9.0\n", tmp_path)
    assert found.value[1] == 1.1 * FOOT
    assert found.doubtful.tolist() == [False, True, False, False]
    assert [note.code for note in found.notes] == [
        "logger-read",
        "logger-order",
        "logger-twice-differs",
    ]


@pytest.mark.works(of=(read_logger,))
def test_a_fast_clock_is_set_back(tmp_path: Path):
    found = read_logger(
        (tmp_path / "inlet.csv") if read(PLAIN, tmp_path) else Path(),
        replace(INLET, clock_ahead=240.0),
    )
    assert found.time_s[0] == FIRST - 240
    assert "4 min are taken off its clock as stated." in found.notes[0].message


@pytest.mark.works(of=(numbers_of, read_logger))
def test_a_comma_may_be_asked_for(tmp_path: Path):
    text = PLAIN.replace(",", ";").replace("1.00", "1,000").replace("1.10", "1,100")
    text = text.replace("1.25", "1,250").replace("1.20", "1,200")
    (fault,) = faults(text, tmp_path)
    assert fault.endswith(
        "'1,000' may be a number of thousands or one with three decimals. Write decimals = "
        '"comma" or decimals = "point" under the logger in job.toml.'
    )
    assert read(text, tmp_path, decimals="comma").value[0] == FOOT
    assert read(text, tmp_path, decimals="point").value[0] == 1000 * FOOT


@pytest.mark.works(of=(read_table,))
def test_a_decimal_comma_between_commas_is_at_fault(tmp_path: Path):
    found = faults(PLAIN.replace("1.", "1,"), tmp_path)
    assert found[0] == (
        "inlet.csv line 2: the row has 3 cells below 2 headings. A comma in a number or text "
        "makes one cell two. Export with semicolons, or with points in numbers."
    )


HOSTILE = {
    "nothing": b"",
    "zeros": b"\x00" * 500,
    "a picture": bytes(range(256)) * 20,
    "one long line": b"2028-03-13 00:00," + b"1" * (LONGEST_LINE + 1),
    "no date": b"a,b\n1,2\n3,4\n",
    "an open quote": b'Time,Level [ft]\n2028-03-13 00:00,"1.0\n2028-03-13 00:15,1.1\n',
    "words for numbers": PLAIN.replace("1.10", "inf").replace("1.25", "1_0").encode(),
    "a number without end": PLAIN.replace("1.10", "1" * 60).encode(),
    "a year of five digits": PLAIN.replace("2028", "20288").encode(),
    "the thirtieth of February": PLAIN.replace("03-13 00:30", "02-30 00:30").encode(),
    "rows without order": b"2028-03-13 00:00,1\n2028-03-13 00:15,1,2\n2028-03-13,1,2,3\n",
}


@pytest.mark.works(of=(read_logger,))
@pytest.mark.parametrize("sort", HOSTILE)
def test_what_is_no_file_of_a_logger_is_at_fault_in_words(sort: str, tmp_path: Path):
    found = faults(HOSTILE[sort], tmp_path)
    assert found
    assert all(fault.startswith("inlet.csv") and fault.endswith(".") for fault in found)


@pytest.mark.law(of=(read_logger,))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(text=st.text(alphabet='0123456789-/:,;. "\tAPMft\n\r#éµ', max_size=400))
def test_no_text_breaks_the_reader(text: str, tmp_path: Path):
    try:
        found = read(PLAIN + text, tmp_path)
    except BadInputFile:
        return
    assert np.all(np.diff(found.time_s) > 0)
    assert np.all(np.isfinite(found.value))


FORMS = {
    "%Y-%m-%d %H:%M": "year-month-day",
    "%m/%d/%Y %I:%M:%S %p": "month-day-year",
    "%d.%m.%y %H:%M": "day-month-year",
}


@pytest.mark.law(of=(read_logger,))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    values=st.lists(st.integers(-5000, 9000), min_size=3, max_size=60),
    separator=st.sampled_from(",;\t|"),
    form=st.sampled_from(list(FORMS)),
    lines=st.integers(0, 20),
)
def test_what_is_written_is_read_back(
    values: list[int], separator: str, form: str, lines: int, tmp_path: Path
):
    start = datetime(2028, 3, 14)
    times = [start.timestamp() + i * 7200 for i in range(len(values))]
    rows = [
        f"{datetime.fromtimestamp(t).strftime(form)}{separator}{v / 1000:.3f}"
        for t, v in zip(times, values, strict=True)
    ]
    head = [f"Instrument line {i}" for i in range(lines)]
    text = "\n".join([*head, f"Time{separator}Level (m)", *rows])
    found = read(text, tmp_path, unit="m", date_order=FORMS[form])
    assert found.value.tolist() == [v / 1000 for v in values]
    assert np.allclose(np.diff(found.time_s), 7200.0)


@pytest.mark.works(of=(table_of,))
def test_the_quick_way_and_the_careful_way_agree():
    quick = table_of(PLAIN, "f")
    careful = table_of(PLAIN.replace("1.00", '"1.00"'), "f")
    assert quick == careful
    assert quick.row(1) == ["2028-03-13 00:15", "1.10"]


@pytest.mark.works(of=(name_and_unit,))
def test_a_heading_is_a_name_and_a_unit():
    assert name_and_unit("Level [ft]") == ("Level", "ft")
    assert name_and_unit("Abs pres, kPa") == ("Abs pres", "kPa")
    assert name_and_unit("Depth") == ("Depth", "")


@pytest.mark.by_hand(of=(unit_of,))
def test_units_of_pressure_by_their_definitions():
    assert printed("98.0665") == unit_of("stage", "cm of water", "").factor
    assert printed("6894.757") == unit_of("stage", "psi", "").factor
    assert printed("133.322") == unit_of("stage", "mmHg", "").factor
    assert unit_of("stage", None, "Abs pressure (kPa)").is_absolute is True
    assert unit_of("stage", "psig", "").is_absolute is False
    assert unit_of("conductivity", None, "Specific conductance (µS/cm)").factor == 1e-4

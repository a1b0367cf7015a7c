# SPDX-License-Identifier: Apache-2.0
"""Data files and job files of any content are answered in words, and in bounded time."""

from collections.abc import Callable
from pathlib import Path
from time import perf_counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewater.basis.errors import BadInputFile, TilewaterError
from tilewater.job.borings import read_borings
from tilewater.job.ditch_record import read_stage_record
from tilewater.job.flow_record import read_flow_record
from tilewater.job.points import MOST_ROWS, read_points
from tilewater.job.prices import read_prices
from tilewater.job.reading import job_of_text, read_text
from tilewater.job.rows import LONGEST_LINE, file_text, plain_number
from tilewater.job.samples import read_samples
from tilewater.job.shots import MANY_TWICE
from tilewater.job.toml_text import MOST_BYTES, MOST_VALUES, tables_of

LONG_ENOUGH_S = 20.0
"""A text that takes longer is one that its reader goes over again and again."""
HEADS = {"point": "p", "north": "n", "east": "e", "height": "h"}


def points(path: Path) -> object:
    return read_points(path, HEADS, foot="international foot", vertical_datum="NAVD88")


READERS: dict[str, tuple[Callable[[Path], object], str, str]] = {
    "samples": (read_samples, "date,place,nitrate [mg/L as N]", "2025-01-01,main,{}"),
    "prices": (lambda path: read_prices(path, year=None), "item,unit,usd", "woodchips,CY,{}"),
    "flow": (
        lambda path: read_flow_record(path, only={}, area=None),
        "date,flow [mm/day]",
        "2025-01-01,{}",
    ),
    "stage": (
        lambda path: read_stage_record(path, gauge_zero=0.0),
        "date,stage [ft]",
        "2025-01-01,{}",
    ),
    "shots": (points, "p,n,e,h", "1,{},2,3"),
    "borings": (
        lambda path: read_borings(path, foot="international foot"),
        "hole,ground [ft],from [ft],to [ft],soil",
        "B-1,10,0,{},clay",
    ),
}


@pytest.fixture(params=sorted(READERS))
def reader(request: pytest.FixtureRequest) -> tuple[Callable[[Path], object], str, str]:
    return READERS[request.param]


@pytest.mark.works(of=(file_text,))
@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"\x00" * 1000,
        bytes(range(256)) * 40,
        b"\n" * 100_000,
        b"," * (LONGEST_LINE - 1),
        b"x" * (LONGEST_LINE + 1),
        b"\xff\xfe" + "date".encode("utf-16-le"),
    ],
    ids=["empty", "nul", "binary", "blank", "commas", "one line", "wide letters"],
)
def test_what_is_no_data_file_is_said_in_words(
    tmp_path: Path, reader: tuple[Callable[[Path], object], str, str], content: bytes
) -> None:
    file = tmp_path / "file.csv"
    file.write_bytes(content)
    with pytest.raises(BadInputFile, match=r"file\.csv"):
        reader[0](file)


@pytest.mark.works(of=(plain_number, file_text))
@pytest.mark.parametrize(
    "cell",
    [
        "nan",
        "inf",
        "1e999",
        "-1e308",
        "9" * 400,
        "=1+1",
        '=HYPERLINK("x")',
        "<script>",
        "12 parsec",
    ],
)
def test_a_cell_that_is_no_number_is_a_fault(
    tmp_path: Path, reader: tuple[Callable[[Path], object], str, str], cell: str
) -> None:
    read, head, row = reader
    file = tmp_path / "file.csv"
    file.write_text(f"{head}\n{row.format(cell)}\n", encoding="utf-8")
    with pytest.raises(BadInputFile, match=r"file\.csv"):
        read(file)


@pytest.mark.works(of=(file_text,))
def test_a_quote_that_is_never_closed_is_told_with_its_line(tmp_path: Path) -> None:
    file = tmp_path / "samples.csv"
    file.write_text("date,place,nitrate\n" + '"' + "a,b\n" * 50_000, encoding="utf-8")
    with pytest.raises(BadInputFile) as told:
        read_samples(file)
    assert str(told.value) == (
        "samples.csv line 2: a cell does not end. Look for a double quote that is not closed."
    )


@pytest.mark.works(of=(file_text,))
def test_a_line_of_any_length_is_told_with_its_number(tmp_path: Path) -> None:
    file = tmp_path / "samples.csv"
    file.write_text("date,place,nitrate\n" + "9" * 300_000, encoding="utf-8")
    with pytest.raises(BadInputFile) as told:
        read_samples(file)
    assert str(told.value) == (
        "samples.csv line 2: the line is longer than 5,000 letters. Export the file again."
    )


@pytest.mark.works(of=(read_points,))
def test_more_shots_than_a_site_has_are_refused(tmp_path: Path) -> None:
    file = tmp_path / "shots.csv"
    file.write_text("p,n,e,h\n" + "1,2,3,4\n" * (MOST_ROWS + 1), encoding="utf-8")
    with pytest.raises(BadInputFile, match="at most 20,000 are read as shots"):
        points(file)


@pytest.mark.works(of=(read_points,))
def test_one_number_on_all_lines_is_told_once(tmp_path: Path) -> None:
    file = tmp_path / "shots.csv"
    file.write_text("p,n,e,h\n" + "7,2,3,4\n" * (MANY_TWICE + 1), encoding="utf-8")
    (told,) = [f for f in points(file).findings if f.code == "point-number-twice"]  # type: ignore[attr-defined]
    assert told.message == (
        "Point 7 stands on 51 lines, first on 2. The column of the numbers may be another. "
        "All are kept."
    )


@pytest.mark.law(of=(plain_number,))
@given(st.text(max_size=60))
def test_no_text_is_an_endless_number(text: str) -> None:
    value = plain_number(text)
    assert value is None or abs(value) <= 1e12


HOSTILE = {
    "lists": "a = " + "[" * 20_000 + "]" * 20_000,
    "tables": "a = " + "{a = " * 3000 + "1" + "}" * 3000,
    "dotted": "a." * 100_000 + "a = 1",
    "dotted table": "[" + "a." * 100_000 + "a]",
    "quoted": '"a".' * 100_000 + "a = 1",
    "digits": "format = " + "9" * 5000,
    "many": "format = 1\n" + "".join(f"k{n} = 1\n" for n in range(MOST_VALUES + 1)),
    "large": "#" * (MOST_BYTES + 1),
    "half lists": "a = " + "[" * 500_000,
    "word": "a" * 500_000,
    "string": 'a = "' + "x" * 500_000,
}


@pytest.mark.works(of=(tables_of, job_of_text))
@pytest.mark.parametrize("text", list(HOSTILE.values()), ids=list(HOSTILE))
def test_a_text_that_is_no_job_file_is_refused_soon(tmp_path: Path, text: str) -> None:
    begun = perf_counter()
    with pytest.raises(BadInputFile, match=r"job\.toml"):
        job_of_text(text, tmp_path)
    assert perf_counter() - begun < LONG_ENOUGH_S


@pytest.mark.works(of=(job_of_text,))
@pytest.mark.parametrize("table", ["spot", "season", "cell", "line", "pipe", "nowhere"])
def test_very_many_tables_are_answered_soon(tmp_path: Path, table: str) -> None:
    text = "format = 1\n" + "".join(f"[{table}.x-{n}]\nkin = 1\n" for n in range(1200))
    begun = perf_counter()
    with pytest.raises(TilewaterError):
        job_of_text(text, tmp_path)
    assert perf_counter() - begun < LONG_ENOUGH_S


@pytest.mark.works(of=(read_text,))
def test_a_job_file_larger_than_any_is_not_read(tmp_path: Path) -> None:
    file = tmp_path / "job.toml"
    file.write_bytes(b"#" * (MOST_BYTES + 1))
    with pytest.raises(BadInputFile) as told:
        read_text(file)
    assert str(told.value) == ("job.toml: it is larger than 1,048,576 bytes, which is no job file.")


@pytest.mark.law(of=(tables_of, job_of_text))
@given(
    st.recursive(
        st.sampled_from(["1", '"x"', "nan", "1979-05-27", "0x10", "'", "\\u0000", "true", "1e400"]),
        lambda inner: st.one_of(
            st.lists(inner, max_size=3).map(lambda each: f"[{', '.join(each)}]"),
            inner.map(lambda each: f"{{a = {each}}}"),
        ),
        max_leaves=8,
    ),
    st.sampled_from(["job.title", "format", "main", "spot.low-1.kind", "season", "boards.heights"]),
)
def test_any_value_anywhere_is_read_or_told(value: str, key: str) -> None:
    with pytest.raises(BadInputFile, match=r"job\.toml"):  # most of a job is missing at least
        job_of_text(f"format = 1\n{key} = {value}\n", Path("here"))

# SPDX-License-Identifier: Apache-2.0
"""Places of keys in TOML texts, against tomllib on random documents."""

import tomllib
from typing import Any

import pytest
import tomlkit
from hypothesis import assume, given
from hypothesis import strategies as st

from tilewater.job.lines import Path, Place, comments, key_lines, key_places, nearest_line

SAMPLE = '''format = 1
# head
[main] # the main
diameter = "10 in"   # inside
"odd key" . deep = 'x = 1 # no comment'

[season.spring]
note = """
[not.a.table]
key = "no"
"""
heights = [
  "8 in",  # tall, ]
  "6 in",
]
inline = { a = 1, b.c = [1, 2] }
[[shot]]
n = 1
[[shot]]
n = 2
[shot.sub]
m = 1979-05-27 07:32:00 # a date with a space
'''


@pytest.mark.works(of=(key_lines,))
def test_lines_of_a_file_with_every_sort_of_value() -> None:
    assert {
        ("format",): 1,
        ("main",): 3,
        ("main", "diameter"): 4,
        ("main", "odd key", "deep"): 5,
        ("season", "spring"): 7,
        ("season", "spring", "note"): 8,
        ("season", "spring", "heights"): 12,
        ("season", "spring", "inline"): 16,
        ("season", "spring", "inline", "a"): 16,
        ("season", "spring", "inline", "b", "c"): 16,
        ("shot", 0): 17,
        ("shot", 0, "n"): 18,
        ("shot", 1): 19,
        ("shot", 1, "n"): 20,
        ("shot", 1, "sub"): 21,
        ("shot", 1, "sub", "m"): 22,
    } == key_lines(SAMPLE)


@pytest.mark.works(of=(comments,))
def test_comments_are_those_outside_strings() -> None:
    expected = ("# head", "# the main", "# inside", "# tall, ]", "# a date with a space")

    assert expected == comments(SAMPLE)


@pytest.mark.works(of=(nearest_line,))
def test_a_missing_key_is_reported_at_its_table() -> None:
    lines = key_lines(SAMPLE)

    assert nearest_line(lines, ("main", "slope")) == 3
    assert nearest_line(lines, ("ditch", "bottom")) is None


@pytest.mark.works(of=(key_lines,))
def test_windows_line_ends_count_once() -> None:
    assert key_lines("a = 1\r\n[b]\r\nc = 2\r\n") == {("a",): 1, ("b",): 2, ("b", "c"): 3}


scalars = (
    st.text("ab\"'\\\n\t#=é€ []{},.", max_size=12)
    | st.integers(-(2**40), 2**40)
    | st.floats(allow_nan=False)
    | st.booleans()
    | st.dates()
    | st.datetimes()
)
names = st.text("ab-1_ .#=[]\"'é\n", min_size=1, max_size=4)
values = st.recursive(scalars, lambda v: st.lists(v, max_size=3), max_leaves=4)
documents = st.recursive(
    st.dictionaries(names, values, max_size=3),
    lambda table: st.dictionaries(names, values | table, max_size=4),
    max_leaves=8,
)


def leaves(data: dict[str, Any], above: Path = ()) -> dict[Path, Any]:
    found: dict[Path, Any] = {}
    for key, value in data.items():
        if isinstance(value, dict):
            found |= leaves(value, (*above, key))
        else:
            found[(*above, key)] = value
    return found


def value_at(text: str, place: Place) -> Any:
    return tomllib.loads(f"v = {text[place.start : place.end]}")["v"]


@pytest.mark.oracle("tomllib of Python 3.11", of=(key_places,))
@given(documents)
def test_every_value_stands_where_the_scanner_says(document: dict[str, Any]) -> None:
    text = tomlkit.dumps(document)
    expected = leaves(tomllib.loads(text))
    places = {path: p for path, p in key_places(text).items() if not p.is_table}

    assert {path for path in places if path in expected} == set(expected)
    for path, value in expected.items():
        assert value_at(text, places[path]) == value


@pytest.mark.oracle("tomllib of Python 3.11", of=(key_lines,))
@given(documents)
def test_a_file_cut_before_the_line_of_a_key_does_not_have_it(document: dict[str, Any]) -> None:
    text = tomlkit.dumps(document)
    lines = text.split("\n")
    for path, line in key_lines(text).items():
        before = leaves(tomllib.loads("\n".join(lines[: line - 1])))

        assert path not in before


@pytest.mark.oracle("tomllib of Python 3.11", of=(key_places,))
@given(st.text("a\"'\\\n#=[ ", max_size=15), st.sampled_from(['"""', "'''"]))
def test_strings_of_many_lines_are_passed_over(inside: str, quotes: str) -> None:
    text = f"a = {quotes}{inside}{quotes} # why\nb = 1\n"
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        assume(False)
    assume(set(document) == {"a", "b"})
    places = key_places(text)

    assert text.count("\n") == places["b",].line
    assert document["a"] == value_at(text, places["a",])

# SPDX-License-Identifier: Apache-2.0
"""What must hold for any sequence of edits to a job file: nothing else changes, nothing is lost."""

import tomllib
from collections import Counter
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewater.basis.errors import BadInputFile
from tilewater.job.edits import Edit, edited
from tilewater.job.lines import comments

COMMENTED = """\
# About this job
format = 1   # always the first

[main] # rebuilt 1958
diameter = "10 in"   # measured at the pothole, the stub is 12
slope = '0.18 %' # two inverts
  # indented, on the side
n = 0.013

# Ditch cleaned in 2019
[ditch]
bottom = "1178.2 ft"
note = \"\"\"
two # lines
\"\"\" # behind a long text

[boards]
heights = [
  "8 in", # on the shelf
  "6 in",
  # none of 4 in left
]
# after the list

[season.spring]
from = "03-20"
[season.fall] # short
from = "10-01"
to = "11-30"
# the end
"""

PATHS = [
    "format",
    "title",
    "main.diameter",
    "main.slope",
    "main.n",
    "main.material",
    "ditch.note",
    "ditch.bottom",
    "boards.heights",
    "boards.inlet",
    "season.spring.from",
    "season.spring.to",
    "season.summer.from",
    "season.summer.to",
    "season.fall",
    "overrule.bed-length.key",
    "overrule.bed-length.reason",
    "overrule.bed-length",
    "season.spring",
]
TABLES = ["season.fall", "season.spring", "overrule.bed-length"]

values = (
    st.text("ab \"'\\#=[]é\n", max_size=8)
    | st.integers(-999, 999)
    | st.floats(-1e6, 1e6)
    | st.booleans()
    | st.lists(st.sampled_from(["8 in", "6 # in"]), max_size=3)
)
edits = st.lists(
    st.sampled_from(PATHS).flatmap(
        lambda path: st.tuples(st.just(path), st.none() if path in TABLES else st.none() | values)
    ),
    max_size=8,
)


def leaves(data: dict[str, Any], above: str = "") -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in data.items():
        path = f"{above}.{key}" if above else key
        found |= leaves(value, path) if isinstance(value, dict) else {path: value}
    return found


@pytest.mark.law(of=(edited,))
@given(edits, st.sampled_from(["\n", "\r\n"]))
def test_edits_change_what_they_name_and_nothing_else(
    sequence: list[tuple[str, Edit]], line_end: str
) -> None:
    text = COMMENTED.replace("\n", line_end)
    expected = leaves(tomllib.loads(text))
    for path, value in sequence:
        text = edited(text, {path: value})
        expected = {k: v for k, v in expected.items() if f"{k}.".startswith(f"{path}.") is False}
        if value is not None:
            expected[path] = value

    assert expected == leaves(tomllib.loads(text))


@pytest.mark.law(of=(edited,))
@given(edits)
def test_no_comment_is_ever_lost(sequence: list[tuple[str, Edit]]) -> None:
    text = COMMENTED
    for path, value in sequence:
        text = edited(text, {path: value})

    assert Counter(comments(COMMENTED)) == Counter(comments(text))


@pytest.mark.law(of=(edited,))
@given(edits)
def test_several_edits_at_once_are_the_same_as_one_by_one(
    sequence: list[tuple[str, Edit]],
) -> None:
    together = dict(sequence)
    one_by_one = COMMENTED
    for path, value in together.items():
        one_by_one = edited(one_by_one, {path: value})

    assert one_by_one == edited(COMMENTED, together)


@pytest.mark.law(of=(edited,))
@given(st.sampled_from(["\n", "\r\n"]))
def test_no_edit_leaves_every_byte(line_end: str) -> None:
    text = COMMENTED.replace("\n", line_end)

    assert text == edited(text, {})


@pytest.mark.works(of=(edited,))
def test_an_edit_touches_one_line() -> None:
    new = edited(COMMENTED, {"main.diameter": "12 in"})
    changed = [
        (a, b) for a, b in zip(COMMENTED.splitlines(), new.splitlines(), strict=True) if a != b
    ]

    assert [
        (
            'diameter = "10 in"   # measured at the pothole, the stub is 12',
            'diameter = "12 in"   # measured at the pothole, the stub is 12',
        )
    ] == changed


@pytest.mark.works(of=(edited,))
def test_a_new_key_stays_above_the_heading_of_the_next_table() -> None:
    new = edited(COMMENTED, {"main.material": "clay"})

    assert 'n = 0.013\nmaterial = "clay"\n\n# Ditch cleaned in 2019\n[ditch]' in new


@pytest.mark.works(of=(edited,))
def test_a_new_table_stands_with_its_group() -> None:
    new = edited(COMMENTED, {"season.winter.from": "12-01", "season.winter.to": "03-19"})

    assert 'to = "11-30"\n\n[season.winter]\nfrom = "12-01"\nto = "03-19"\n# the end\n' in new


@pytest.mark.works(of=(edited,))
def test_comments_inside_a_list_move_above_it() -> None:
    new = edited(COMMENTED, {"boards.heights": ["4 in"]})

    assert (
        '[boards]\n# on the shelf\n# none of 4 in left\nheights = ["4 in"]\n# after the list\n'
        in new
    )


@pytest.mark.works(of=(edited,))
def test_inline_tables_and_dotted_keys_are_edited_in_place() -> None:
    text = 'main = { diameter = "10 in" } # short\nditch.bottom = "3 ft"\n'

    assert (
        'main = { diameter = "12 in", n = 0.013 } # short\n'
        'ditch.bottom = "3 ft"\nditch.top = "9 ft"\n'
    ) == edited(text, {"main.diameter": "12 in", "main.n": 0.013, "ditch.top": "9 ft"})


@pytest.mark.works(of=(edited,))
@pytest.mark.parametrize("path", ["main", "main.diameter.wall", "main.dia meter", "a..b"])
def test_what_cannot_be_edited_is_refused(path: str) -> None:
    with pytest.raises(BadInputFile) as raised:
        edited(COMMENTED, {path: "10 in"})

    assert (
        f"{path} cannot be changed in the file as it is written. Change it by hand."
        == raised.value.faults[0].message
    )

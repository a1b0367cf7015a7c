# SPDX-License-Identifier: Apache-2.0
"""Tables of coefficients: what is read, what is refused, in which words."""

import dataclasses
import re

import numpy as np
import pytest

from tilewater.basis.errors import BadInputFile, UnknownName
from tilewater.basis.tables import (
    Row,
    Table,
    parse_table,
    read_table,
    slug_faults,
    table_names,
)

GOOD = """\
# title: Roughness of pipe
# source: someone1959
# place: table 2, p. 7
# units: slug=text, low=-
# units: n=-
# range: new pipe
# read: typed from the page
# note: row 2 is smudged
# note: no third row
slug,low,n
clay-tile,0.011,0.013
"steel",,1.2e-2
"""
PLACE = "tilewater.hydraulics"


@pytest.mark.works(of=(parse_table, Table))
def test_head_is_kept_beside_the_rows():
    table = parse_table(GOOD, "pipe")
    assert table.name == "pipe"
    assert table.title == "Roughness of pipe"
    assert table.source == "someone1959"
    assert table.place == "table 2, p. 7"
    assert table.range == "new pipe"
    assert table.read == "typed from the page"
    assert table.notes == ("row 2 is smudged", "no third row")
    assert dict(table.units) == {"slug": "text", "low": "-", "n": "-"}


@pytest.mark.works(of=(parse_table, Row))
def test_cells_are_words_numbers_or_empty_by_the_unit_of_their_column():
    clay, steel = parse_table(GOOD, "pipe").rows
    assert clay.text("slug") == "clay-tile"
    assert clay.number("n") == 0.013
    assert steel.number("n") == 0.012
    assert clay.is_given("low")
    assert not steel.is_given("low")


@pytest.mark.works(of=(Table,))
def test_columns_come_whole_and_cannot_be_written_to():
    table = parse_table(GOOD, "pipe")
    column = table.numbers("n")
    assert np.array_equal(column, [0.013, 0.012])
    with pytest.raises(ValueError, match="read-only"):
        column[0] = 1.0
    assert table.texts("slug") == ("clay-tile", "steel")


@pytest.mark.works(of=(Table, Row))
def test_table_and_rows_are_frozen():
    table = parse_table(GOOD, "pipe")
    with pytest.raises(dataclasses.FrozenInstanceError):
        table.title = "other"  # type: ignore[misc]
    with pytest.raises(TypeError):
        table.rows[0].cells["n"] = 1.0  # type: ignore[index]
    with pytest.raises(TypeError):
        table.units["n"] = "m"  # type: ignore[index]


@pytest.mark.works(of=(Table,))
def test_row_is_found_by_its_slug():
    assert parse_table(GOOD, "pipe").row("steel").number("n") == 0.012


@pytest.mark.works(of=(Table,))
def test_a_slug_that_is_not_there_lists_those_that_are():
    message = "No 'lead' in the table 'Roughness of pipe'. Known: clay-tile, steel."
    with pytest.raises(UnknownName, match=f"^{re.escape(message)}$"):
        parse_table(GOOD, "pipe").row("lead")


@pytest.mark.works(of=(Row,))
@pytest.mark.parametrize(
    ("ask", "message"),
    [
        (lambda row: row.number("high"), "No column called 'high'. Known: slug, low, n."),
        (
            lambda row: row.number("low"),
            "Column 'low' is empty in this row. A number is needed. Use another row or column.",
        ),
        (
            lambda row: row.number("slug"),
            "Column 'slug' is the text 'steel' in this row. A number is needed. "
            "Use another row or column.",
        ),
        (
            lambda row: row.text("n"),
            "Column 'n' holds numbers. Text is needed. Use `number`.",
        ),
    ],
)
def test_a_cell_that_is_not_there_is_refused_in_words(ask, message):
    with pytest.raises(UnknownName, match=f"^{re.escape(message)}$"):
        ask(parse_table(GOOD, "pipe").rows[1])


@pytest.mark.works(of=(parse_table,))
@pytest.mark.parametrize(
    ("before", "after", "message"),
    [
        (
            "# range: new pipe",
            "# rnage: new pipe",
            "pipe.csv line 6: 'rnage' is no key of the head. "
            "Known: title, source, place, units, read, range, note.",
        ),
        (
            "# range: new pipe",
            "# source: other",
            "pipe.csv line 6: 'source' stands twice. Keep one of them.",
        ),
        (
            "# source: someone1959\n",
            "",
            "pipe.csv: The head has no 'source'. Add a line '# source: ...'.",
        ),
        (
            "# units: n=-",
            "# units: n",
            "pipe.csv: 'n' gives no unit. Write column=unit.\n"
            "pipe.csv: Column 'n' has no unit. Add 'n=...' to units.",
        ),
        (
            "# units: n=-",
            "# units: n=-, high=-",
            "pipe.csv: There is a unit for 'high' but no such column. Remove it.",
        ),
        (
            "slug,low,n",
            "slug,n,n",
            "pipe.csv: There is a unit for 'low' but no such column. Remove it.\n"
            "pipe.csv: Two columns have the same name. Rename one.",
        ),
        (
            "0.011,0.013",
            "0.011,0.013,7",
            "pipe.csv line 11: 4 cells where 3 columns are named. Quote a comma.",
        ),
        (
            "0.011,0.013",
            "nan,1_3",
            "pipe.csv line 11: 'nan' in column 'low' is no number.\n"
            "pipe.csv line 11: '1_3' in column 'n' is no number.",
        ),
        (
            'clay-tile,0.011,0.013\n"steel",,1.2e-2\n',
            "",
            "pipe.csv: There are no rows. Add the names of the columns and a row.",
        ),
    ],
)
def test_a_fault_is_named_with_its_line(before, after, message):
    assert before in GOOD
    with pytest.raises(BadInputFile, match=f"^{re.escape(message)}$"):
        parse_table(GOOD.replace(before, after), "pipe")


@pytest.mark.works(of=(slug_faults,))
def test_slugs_have_one_form_and_stand_once():
    assert slug_faults(parse_table(GOOD, "pipe")) == ()
    bad = parse_table(GOOD + "Clay_tile,,1\nsteel,,1\n", "pipe")
    assert slug_faults(bad) == (
        "'Clay_tile' is no slug. Use lower-case letters, digits and single hyphens.",
        "'steel' stands 2 times. A slug names one row.",
    )


@pytest.mark.works(of=(parse_table,))
def test_any_edit_changes_the_digest():
    edited = parse_table(GOOD.replace("0.013", "0.014"), "pipe")
    assert edited.digest != parse_table(GOOD, "pipe").digest


@pytest.mark.works(of=(read_table, table_names))
def test_tables_of_a_package_are_read_once():
    names = table_names(PLACE)
    assert list(names) == sorted(set(names))
    assert names
    for name in names:
        assert read_table(PLACE, name) is read_table(PLACE, name)


@pytest.mark.works(of=(read_table,))
def test_a_table_that_is_not_there_lists_those_that_are():
    message = "No table called 'bread' in tilewater.job. Known: none."
    with pytest.raises(UnknownName, match=f"^{re.escape(message)}$"):
        read_table("tilewater.job", "bread")
    known = ", ".join(table_names(PLACE))
    with pytest.raises(UnknownName, match=f"Known: {known}"):
        read_table(PLACE, "bread")

# SPDX-License-Identifier: Apache-2.0
"""Boxes of the desk: one for every value of the job file, and what is typed in them."""

import tomllib
from collections.abc import Iterator, Mapping
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest

from tests.desks import EXAMPLES, copy_of, desk_of, version_of
from tilewater.desk.boxes import Box, Filled
from tilewater.desk.forms import NEW, ROWS, TABLES, question_of, sections_of
from tilewater.desk.forms_paste import read_rows
from tilewater.desk.forms_posted import Sent, group_of, read_form
from tilewater.desk.forms_typed import Shown, edit_of, shown_of, split, usual_unit
from tilewater.desk.questions import QUESTIONS
from tilewater.desk.table_titles import TITLES, table_title
from tilewater.job.fields import Wrong
from tilewater.job.schema import JobFile, member_at
from tilewater.job.tables import Table
from tilewater.job.template import template_text

FARMS = ("corbel-farm", "merridew-farm", "verling-farm", "sorrel-farm")


def data_of(farm: str) -> dict[str, Any]:
    return tomllib.loads((EXAMPLES / farm / "job.toml").read_text(encoding="utf-8"))


def boxes_of(filled: Filled) -> Iterator[Box]:
    for question in QUESTIONS:
        for section in sections_of(question.slug, filled):
            yield from section.boxes


def box(path: str, data: Mapping[str, Any], **filled: Any) -> Box:
    return next(one for one in boxes_of(Filled(data, **filled)) if one.path == path)


def paths(table: type[Table], above: str = "") -> Iterator[str]:
    """Paths of all that the schema asks for; an entry under a name as one that is new."""
    for member in table.members():
        begin = NEW if member.is_named else ""
        if member.ask is not None:
            yield f"{above}{member.key}"
        else:
            yield from paths(member.model, f"{begin}{above}{member.key}.")


def typed(path: str, text: str, unit: str = "") -> Any:
    member = member_at(tuple(path.split(".")))
    assert member is not None
    assert member.ask is not None
    return edit_of(member.ask, text, unit)


def sent(fields: Mapping[str, str] | list[tuple[str, str]], data: Mapping[str, Any]) -> Sent:
    pairs = list(fields.items()) if isinstance(fields, Mapping) else fields
    return read_form(pairs, data, "us")


@pytest.mark.works(of=(sections_of,))
def test_every_key_of_the_schema_has_a_box_under_one_question():
    asked = list(paths(JobFile))
    shown = [one.path for one in boxes_of(Filled({}))]
    assert len(asked) > 300
    assert set(asked) - set(shown) == set()
    assert len(shown) == len(set(shown))
    tables = [table for tables in TABLES.values() for table in tables]
    assert sorted(tables) == sorted(m.key for m in JobFile.members() if m.ask is None)


@pytest.mark.works(of=(question_of,))
def test_a_path_a_key_and_a_new_entry_belong_to_the_same_question():
    for path in ("spot.low-1.ground", "inputs.spot.low-1.ground_m", "+spot.ground"):
        assert question_of(path) == "field"
    assert question_of("nothing.like-it") == ""


@pytest.mark.law(of=(shown_of, edit_of, read_form))
@pytest.mark.parametrize("farm", FARMS)
@pytest.mark.parametrize("system", ["us", "si"])
def test_boxes_that_nobody_touched_change_nothing(farm: str, system: Any):
    data = data_of(farm)
    boxes = list(boxes_of(Filled(data, system)))
    fields = [(one.path, one.text) for one in boxes]
    fields += [("unknown", one.path) for one in boxes if one.is_unknown]
    result = read_form(fields, data, system)
    assert result.edits == {}
    assert result.faults == {}


@pytest.mark.law(of=(template_text, read_form))
def test_boxes_of_a_file_with_nothing_in_it_change_nothing():
    data = tomllib.loads(template_text())
    boxes = list(boxes_of(Filled(data)))
    fields = [(one.path, one.text) for one in boxes]
    fields += [("unknown", one.path) for one in boxes if one.is_unknown]
    assert sent(fields, data).edits == {}


@pytest.mark.works(of=(split, shown_of))
def test_a_quantity_stands_as_a_number_beside_its_unit():
    assert split("3/8 in/day") == ("3/8", "in/day")
    assert split("1,200.5 ft") == ("1,200.5", "ft")
    assert split("-3 degC") == ("-3", "degC")
    assert split("1+40") == ("1+40", "")
    assert split("1.5:1") == ("1.5:1", "")
    assert split("some words") == ("some words", "")
    data = data_of("corbel-farm")
    slope = box("main.slope", data)
    assert (slope.text, slope.unit) == ("0.18", "%")
    heights = box("boards.heights", data)
    assert (heights.text, heights.unit) == ("8, 6, 4", "in")
    assert box("pipe.return.points", data).text == "0+21.5, 36 ft\n-0.5 ft, 36 ft"


@pytest.mark.works(of=(edit_of,))
def test_a_bare_number_takes_the_unit_beside_the_box_and_any_unit_may_be_typed():
    assert typed("main.diameter", "12", "in") == "12 in"
    assert typed("main.diameter", " 300  mm ", "in") == "300 mm"
    assert typed("main.station_outlet", "2+90", "ft") == "2+90"
    assert typed("boards.heights", "8, 6 in; 5 cm", "in") == ["8 in", "6 in", "5 cm"]
    assert typed("drainage.flow_days", "200", "") == 200
    assert typed("media.porosity_effective", "0.61", "") == 0.61
    assert typed("main.diameter", "Not known", "in") == "unknown"
    assert typed("main.diameter", "", "in") is None
    assert typed("survey.drop_fix", "float, single") == ["float", "single"]
    assert typed("practice.kind", "bed, buffer") == ["bed", "buffer"]
    assert typed("estimate.price_year", "2026") == 2026


@pytest.mark.works(of=(edit_of,))
def test_pairs_are_typed_one_to_a_line():
    text = "1+62, 0 ft\n1+41\t3 ft"
    assert typed("pipe.a.points", text) == [["1+62", "0 ft"], ["1+41", "3 ft"]]
    with pytest.raises(Wrong) as wrong:
        typed("pipe.a.points", "1+62, 0 ft\n1+41")
    assert str(wrong.value).startswith("line 2 is '1+41'. A line is ")


@pytest.mark.works(of=(usual_unit, shown_of))
def test_an_empty_box_shows_the_unit_of_the_reader():
    member = member_at(("site", "widest_cut"))
    assert member is not None
    assert member.ask is not None
    assert shown_of(member.ask, None, "us") == Shown("", "ft")
    assert shown_of(member.ask, None, "si") == Shown("", "m")


@pytest.mark.works(of=(sections_of,))
def test_what_is_taken_in_place_of_an_answer_says_from_where():
    lap = box("estimate.lap", data_of("corbel-farm"))
    assert (lap.text, lap.shadow, lap.unit) == ("", "2", "ft")
    assert lap.taken == "taken as 2 ft: common practice, no source"
    assert box("people.easements", data_of("corbel-farm")).is_unknown
    assert box("people.owner", {}).taken == "not answered yet"


@pytest.mark.works(of=(read_form,))
def test_not_known_is_an_answer_of_its_own():
    data = data_of("corbel-farm")
    ticked = [("main.slope", "0.18"), ("unknown", "main.slope")]
    assert sent(ticked, data).edits == {"main.slope": "unknown"}
    assert sent({"bed.lining": "unknown"}, data).edits == {"bed.lining": "unknown"}
    still = [("people.easements", ""), ("unknown", "people.easements")]
    assert sent(still, data).edits == {}
    assert sent({"people.easements": "none"}, data).edits == {"people.easements": "none"}
    both = [("main.slope", "0.2"), ("unknown", "main.slope")]
    assert sent(both, data).edits == {"main.slope": "0.2 %"}


@pytest.mark.works(of=(read_form,))
def test_a_blank_box_takes_the_value_out_or_is_refused_where_one_must_answer():
    data = data_of("corbel-farm")
    assert sent({"main.stub_diameter": ""}, data).edits == {"main.stub_diameter": None}
    assert sent({"estimate.contingency": ""}, data).edits == {"estimate.contingency": None}
    refused = sent({"main.diameter": " "}, data)
    assert refused.edits == {}
    assert refused.faults == {
        "main.diameter": "It is blank. Type a value, or say that it is not known."
    }


@pytest.mark.works(of=(read_form, group_of))
def test_an_entry_is_added_under_a_name():
    data = data_of("corbel-farm")
    fields = {f"{NEW}spot": "low-3", f"{NEW}spot.kind": "low spot", f"{NEW}spot.ground": "1187.1"}
    assert sent(fields, data).edits == {
        "spot.low-3.kind": "low spot",
        "spot.low-3.station": "unknown",
        "spot.low-3.ground": "1187.1 ft",
    }
    for name, words in (
        ("", "It has no name."),
        ("Low 3", "'Low 3' cannot be a name. Write small letters, digits and hyphens, like low-3."),
        ("low-1", "There is a 'low-1' already."),
    ):
        fault = sent({**fields, f"{NEW}spot": name}, data).faults[f"{NEW}spot"]
        assert fault.startswith(words)
    assert sent({f"{NEW}spot": "", f"{NEW}spot.kind": ""}, data).edits == {}
    assert group_of("main") is None


@pytest.mark.works(of=(read_form,))
def test_a_judgement_is_kept_only_when_it_is_whole():
    begin = f"{NEW}overrule"
    fields = {begin: "a", f"{begin}.key": "bed.length_m", f"{begin}.value": "30 m"}
    faults = sent(fields, {}).faults
    assert set(faults) == {f"{begin}.by", f"{begin}.date", f"{begin}.reason"}


@pytest.mark.works(of=(read_form,))
def test_an_entry_is_taken_out_and_nothing_else_is_kept_with_it():
    fields = {"take-out": "spot.low-1", "main.diameter": "99"}
    assert sent(fields, data_of("corbel-farm")).edits == {"spot.low-1": None}


@pytest.mark.works(of=(read_rows, read_form))
def test_rows_of_a_spreadsheet_become_entries():
    data, member = data_of("corbel-farm"), group_of("spot")
    assert member is not None
    text = (
        "Name\tkind\tStation along the main from its outlet\tground [m]\n"
        "Low 3\tlow spot\t7+10\t362.05\n"
        "low-1\t\t\t1187.05 ft\n"
    )
    text = text.replace("Station along the main from its outlet", "station")
    pasted = read_rows(member, text, data, "us")
    assert pasted.told == ""
    assert [(row.name, row.is_new) for row in pasted.rows] == [("low-3", True), ("low-1", False)]
    assert pasted.edits == {
        "spot.low-3.kind": "low spot",
        "spot.low-3.station": "7+10",
        "spot.low-3.ground": "362.05 m",
        "spot.low-1.ground": "1187.05 ft",
    }
    assert sent({f"{ROWS}spot": text}, data).edits == pasted.edits


@pytest.mark.works(of=(read_rows, read_form))
def test_what_is_wrong_with_a_row_is_said_at_the_row():
    data, member = data_of("corbel-farm"), group_of("spot")
    assert member is not None
    text = "name,kind,station,ground\na,puddle,1+00,1187\na,low spot,1+0x,1187,5\n,low spot,,"
    pasted = read_rows(member, text, data, "us")
    assert [row.number for row in pasted.rows if row.faults] == [1, 2, 3]
    assert pasted.rows[0].faults[0].startswith("kind: 'puddle' is not one of the choices.")
    assert any("is not a station" in fault for fault in pasted.rows[1].faults)
    assert "'a' stands above already. Give it another name." in pasted.rows[1].faults
    assert "it has 5 cells, and there are 4 columns." in pasted.rows[1].faults
    assert pasted.rows[2].faults[0] == "it has no name."
    kept = sent({f"{ROWS}spot": text}, data)
    assert kept.edits == {}
    assert "Row 1: kind: 'puddle'" in kept.faults[f"{ROWS}spot"]


@pytest.mark.works(of=(read_rows,))
def test_a_column_that_is_not_known_stops_the_rows():
    member = group_of("spot")
    assert member is not None
    pasted = read_rows(member, "name\tgrund\na\t1187 ft", {}, "us")
    assert pasted.rows == ()
    assert pasted.told.endswith("Did you mean ground?")
    assert read_rows(member, "kind\nlow spot", {}, "us").told.startswith("No column is called name")
    assert read_rows(member, "name", {}, "us").told.startswith("There are no rows.")


class Page(HTMLParser):
    """Labels, boxes and descriptions of a page."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.labels: set[str] = set()
        self.ids: list[str] = []
        self.boxes: list[dict[str, str | None]] = []
        self.scripts: list[str | None] = []
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = dict(attrs)
        if "id" in found:
            self.ids.append(str(found["id"]))
        if tag == "label" and "for" in found:
            self.labels.add(str(found["for"]))
        if tag in ("input", "select", "textarea") and found.get("type") not in (
            "hidden",
            "checkbox",
        ):
            self.boxes.append(found)
        if tag == "script":
            self.scripts.append(found.get("src"))


@pytest.mark.works(of=(sections_of,))
def test_every_box_has_its_label_and_its_words(tmp_path: Path):
    copy_of("corbel-farm", tmp_path)
    desk = desk_of(tmp_path)
    for question in QUESTIONS:
        page = Page(desk.get(f"/job/corbel-farm/ask/{question.slug}").text)
        assert page.boxes
        for one in page.boxes:
            assert one["id"] in page.labels
            assert one["aria-describedby"] in page.ids
        assert len(page.ids) == len(set(page.ids))


HOSTILE = "\"><script>alert(1)</script><!-- 'onfocus=x"


@pytest.mark.works(of=(sections_of, read_form))
def test_hostile_text_stands_in_its_box_as_text(tmp_path: Path):
    folder = copy_of("corbel-farm", tmp_path)
    desk = desk_of(tmp_path)
    scripts = Page(desk.get("/job/corbel-farm/ask/unknown").text).scripts
    fields = {
        "version": version_of(desk, "corbel-farm"),
        "question": "unknown",
        "job.county": HOSTILE,
        "job.date": HOSTILE,
    }
    refused = desk.post("/job/corbel-farm/keep", data=fields)
    assert refused.status_code == 422
    page = Page(refused.text)
    assert {b["id"]: b.get("value") for b in page.boxes}["job.date"] == HOSTILE
    assert page.scripts == scripts
    del fields["job.date"]
    assert desk.post("/job/corbel-farm/keep", data=fields).status_code == 303
    assert tomllib.loads((folder / "job.toml").read_text())["job"]["county"] == HOSTILE
    kept = Page(desk.get("/job/corbel-farm/ask/unknown").text)
    assert {b["id"]: b.get("value") for b in kept.boxes}["job.county"] == HOSTILE
    assert kept.scripts == scripts


@pytest.mark.works(of=(read_rows,))
def test_pasted_rows_are_shown_before_they_are_kept(tmp_path: Path):
    folder = copy_of("corbel-farm", tmp_path)
    before = (folder / "job.toml").read_bytes()
    desk = desk_of(tmp_path)
    sending = {"rows.spot": "name\tkind\tstation\tground\nx\t<b>\t1+00\t1187", "units": "us"}
    shown = desk.post("/job/corbel-farm/paste/spot", data=sending, headers={"hx-request": "true"})
    assert "Nothing is kept while a row is wrong." in shown.text
    assert "&lt;b&gt;" in shown.text
    assert "<b>" not in shown.text
    sending["rows.spot"] = sending["rows.spot"].replace("<b>", "low spot")
    assert "Keep this row" in desk.post("/job/corbel-farm/paste/spot", data=sending).text
    assert desk.post("/job/corbel-farm/paste/main", data=sending).status_code == 404
    assert (folder / "job.toml").read_bytes() == before


@pytest.mark.works(of=(table_title,))
def test_tables_are_called_in_plain_words() -> None:
    keys = {member.key for member in JobFile.members()}
    assert set(TITLES) <= keys
    assert table_title("operate") == "Owner's dates"
    assert table_title("ditch") == "Ditch"
    titles = [table_title(key) for key in keys]
    assert len(set(titles)) == len(titles)

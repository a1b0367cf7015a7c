# SPDX-License-Identifier: Apache-2.0
"""Reading a job: values, origins, unknown values, judgements, and every message in full."""

import tomllib
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from tilewater.basis.errors import BadInputFile, NewerFile
from tilewater.basis.trace import Assumption, Given, Overrule, Trace
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.job.edits import Edit, edited
from tilewater.job.fields import Quantities, Quantity
from tilewater.job.givens import value_of_key
from tilewater.job.reading import Job, job_of_text, migrated, read_job
from tilewater.job.schema import JUDGEMENTS, JobFile, asks

FILES = Path(__file__).parents[1] / "files"
EXAMPLES = Path(__file__).parents[2] / "examples"


def job_with(text: str, folder: Path, edits: dict[str, Edit]) -> Job:
    return job_of_text(edited(text, edits), folder)


def given_of(job: Job, key: str) -> Given:
    return next(g for g in job.givens if g.key == key)


def listed(value: Any) -> tuple[Any, ...]:
    return value if isinstance(value, tuple) else (value,)


def value_of(job: Job, key: str) -> Any:
    return given_of(job, key).value


@pytest.mark.works(of=(read_job,))
@pytest.mark.parametrize("folder", sorted(p.name for p in FILES.iterdir() if p.is_dir()))
def test_files_of_every_format_open_for_ever(folder: str) -> None:
    assert len(read_job(FILES / folder).givens) > 100


@pytest.mark.works(of=(read_job,))
@pytest.mark.parametrize("folder", sorted(p.parent.name for p in EXAMPLES.glob("*/job.toml")))
def test_examples_open_without_a_note(folder: str) -> None:
    assert () == read_job(EXAMPLES / folder).notes


@pytest.mark.works(of=(read_job,))
def test_the_folder_or_its_job_file_may_be_named(whole_folder: Path) -> None:
    assert read_job(whole_folder) == read_job(str(whole_folder / "job.toml"))


@pytest.mark.by_hand(of=(read_job,))
def test_values_are_si_under_the_keys_of_the_trace(whole_folder: Path) -> None:
    job = read_job(whole_folder)

    assert value_of(job, "inputs.main.diameter_m") == 10 * 0.0254
    assert value_of(job, "inputs.main.slope") == 0.18 / 100
    assert value_of(job, "inputs.main.station_diversion_m") == pytest.approx(140 * 0.3048)
    assert value_of(job, "inputs.boards.heights_m") == pytest.approx((0.2032, 0.1524, 0.1016))
    assert value_of(job, "inputs.spot.low-1.ground_m") == pytest.approx(1187 * 0.3048)
    assert value_of(job, "inputs.season.spring.from") == "03-20"
    assert value_of(job, "inputs.estimate.price_year") == 2026
    assert value_of(job, "inputs.media.rate_mid_g_per_m3_day") == 6.0


@pytest.mark.works(of=(read_job,))
def test_a_given_leads_to_its_line_and_to_what_was_typed(whole_folder: Path) -> None:
    given = given_of(read_job(whole_folder), "inputs.main.diameter_m")
    lines = (whole_folder / "job.toml").read_text(encoding="utf-8").splitlines()

    assert lines[(given.origin.line or 0) - 1] == 'diameter = "10 in"'
    assert (given.unit, given.title, given.origin.text, str(given.origin)) == (
        "m",
        "Inside diameter of the main",
        "10 in",
        f"job.toml line {given.origin.line}",
    )


@pytest.mark.works(of=(read_job,))
def test_a_default_leads_to_its_source(whole_text: str, whole_folder: Path) -> None:
    job = job_with(whole_text, whole_folder, {"drainage.effective_radius": None})
    given = given_of(job, "inputs.drainage.effective_radius_m")

    assert (given.value, given.origin.text, str(given.origin)) == (
        0.0051,
        "5.1 mm",
        "default of the program (skaggs1978)",
    )


@pytest.mark.works(of=(read_job,))
def test_what_may_be_given_is_unknown_when_absent_and_says_how_to_measure(
    whole_text: str, whole_folder: Path
) -> None:
    job = job_with(whole_text, whole_folder, {"nitrate.mean": None, "main.n": None})

    assert value_of(job, "inputs.nitrate.mean_mg_per_l") == Unknown(
        "not given", "grab samples through a whole flow season, weighted by flow"
    )
    assert "inputs.main.n" not in [g.key for g in job.givens]


@pytest.mark.works(of=(read_job,))
def test_conductivity_above_the_drains_is_that_below_unless_given(
    whole_text: str, whole_folder: Path
) -> None:
    key = "inputs.drainage.conductivity_above_m_s"
    copied = job_with(whole_text, whole_folder, {"drainage.conductivity_above": None})
    stated = job_with(whole_text, whole_folder, {"drainage.conductivity_above": "2 ft/day"})

    assert given_of(copied, key).origin.note == (
        "not given; taken as conductivity of the soil below the laterals"
    )
    assert value_of(copied, key) == 9e-6
    assert value_of(stated, key) == pytest.approx(2 * 0.3048 / 86400)


@pytest.mark.works(of=(read_job,))
def test_any_value_may_be_unknown(whole_text: str, whole_folder: Path) -> None:
    data = tomllib.loads(whole_text)
    for path, _, ask in asks(JobFile, data):
        job = job_with(whole_text, whole_folder, {".".join(path): "unknown"})
        if path[0] not in JUDGEMENTS:
            key = ".".join(("inputs", *path)) + ask.suffix
            assert is_unknown(value_of(job, key)), key
            assert value_of(job, key).measure == ask.how


@pytest.mark.works(of=(read_job,))
def test_the_trace_finds_the_groups_by_name(whole_folder: Path) -> None:
    job = read_job(EXAMPLES / "corbel-farm")
    trace = Trace.start(job.givens, job.overrules, job.assumptions)

    assert trace.names("inputs.season") == ("winter", "spring", "summer", "autumn")
    assert trace.names("inputs.structure") == ("inlet", "outlet")
    assert "low-1" in trace.names("inputs.spot")


@pytest.mark.law(of=(read_job,))
@pytest.mark.parametrize(("shift", "length"), [(0, "m"), (2, "cm"), (3, "mm"), (-3, "km")])
def test_any_unit_gives_the_same_job(
    shift: int, length: str, whole_text: str, whole_folder: Path
) -> None:
    values = {g.key: g.value for g in job_of_text(whole_text, whole_folder).givens}
    changes: dict[str, Edit] = {}
    for path, _, ask in asks(JobFile, tomllib.loads(whole_text)):
        value = values.get(".".join(("inputs", *path)) + ask.suffix)
        if not isinstance(ask, Quantity) or ask.unit not in ("m", "m2", "m3/s", "m/s", "kg"):
            continue
        if value is None:  # left out
            continue
        unit, power = (length, shift) if ask.unit == "m" else (ask.unit, 0)
        typed = [f"{Decimal(repr(one)).scaleb(power)} {unit}" for one in listed(value)]
        changes[".".join(path)] = typed if isinstance(ask, Quantities) else typed[0]
    job = job_with(whole_text, whole_folder, changes)

    assert len(changes) > 50
    assert values == {g.key: g.value for g in job.givens}


@pytest.mark.works(of=(read_job,))
def test_elevations_are_in_the_foot_of_the_grid(whole_text: str, whole_folder: Path) -> None:
    survey = job_with(whole_text, whole_folder, {"site.foot": "US survey foot"})

    assert value_of(survey, "inputs.main.invert_outlet_m") == pytest.approx(
        1180.95 * 1200 / 3937, rel=1e-15
    )
    assert value_of(survey, "inputs.drainage.lateral_depth_m") == 4 * 0.3048


@pytest.mark.works(of=(read_job,))
def test_an_unknown_foot_is_said(whole_text: str, whole_folder: Path) -> None:
    job = job_with(whole_text, whole_folder, {"site.foot": "unknown"})

    assert job.notes[0].message == (
        "The foot of the grid is not known; elevations are read as international feet. "
        "In US survey feet each would be 2 parts in a million higher, 0.002 ft at 1,000 ft."
    )


FAULTS: list[tuple[dict[str, Edit], str]] = [
    (
        {"main.diameter": 10},
        "job.toml line 63: main.diameter: '10' has no unit. Write 10 in or 254 mm.",
    ),
    (
        {"drainage.lateral_spacing": "60"},
        "job.toml line 48: drainage.lateral_spacing: '60' has no unit. Write 60 ft or 18.3 m.",
    ),
    (
        {"drainage.area": "62 ft"},
        "job.toml line 45: drainage.area: '62 ft' is a length; asked for is an area. "
        "Write it in acre, survey acre, ft2, yd2, in2, mi2, m2, ha or km2.",
    ),
    (
        {"main.diameter": "10 ft"},
        "job.toml line 63: main.diameter: '10 ft' is outside what makes sense here "
        "(2 in to 96 in). Check the number and its unit.",
    ),
    (
        {"main.diameter": True},
        'job.toml line 63: main.diameter: true is not a quantity. Write it like "10 in".',
    ),
    (
        {"main.slope": None},
        "job.toml line 62: main.slope is missing: slope of the main. "
        'Write slope = "0.18 %", or slope = "unknown".',
    ),
    (
        {"media.aged_years": None},
        "job.toml line 169: media.aged_years is missing: age of the aged media. "
        'Write aged_years = 9.25, or aged_years = "unknown".',
    ),
    (
        {"money": None},
        "job.toml: the table [money] is missing: what the yearly cost is made with. Write [money] "
        "with rate, years, media_years, upkeep_usd_per_year; "
        'what is not known may be "unknown".',
    ),
    (
        {"structure.outlet": None},
        "job.toml: the table [structure.outlet] is missing: a structure with stop boards. "
        "Write [structure.outlet] with sill, rim, ground, floor, crest_width, box_length, "
        'box_width, box_weight; what is not known may be "unknown".',
    ),
    (
        {"main.material": "concret"},
        "job.toml line 64: main.material: 'concret' is not one of the choices. "
        "Write concrete, clay, corrugated plastic or smooth plastic. Did you mean concrete?",
    ),
    (
        {"people.owner": " "},
        'job.toml line 15: people.owner: it is blank. Write it like "J. Corbel", or "unknown".',
    ),
    (
        {"boards.heights": ["8 in", "6"]},
        "job.toml line 140: boards.heights: number 2 of the list: '6' has no unit. "
        "Write 6 in or 152 mm.",
    ),
    (
        {"boards.heights": "8 in"},
        "job.toml line 140: boards.heights: '8 in' is not a list of quantities. "
        'Write it like ["8 in", "6 in", "4 in"].',
    ),
    (
        {"season.spring.from": "20 March"},
        "job.toml line 88: season.spring.from: '20 March' is not a day of the year. "
        'Write month-day, like "03-20".',
    ),
    (
        {"job.date": "2026-02-30"},
        "job.toml line 11: job.date: '2026-02-30' is not a date. "
        'Write year-month-day, like "2026-03-02".',
    ),
    (
        {"estimate.price_year": "last"},
        "job.toml line 235: estimate.price_year: 'last' is not a year. Write it like 2026.",
    ),
    (
        {"estimate.prices": "price.csv"},
        "job.toml line 234: estimate.prices: there is no file 'price.csv' in the job folder. "
        "Put it there, or correct the name. Did you mean prices.csv?",
    ),
    (
        {"overrule.design-conductivity.value": "3.5"},
        "job.toml line 221: overrule.design-conductivity.value: '3.5' has no unit. Write 3.5 cm/s.",
    ),
    (
        {"overrule.design-conductivity.key": "inputs.main.slope"},
        "job.toml line 220: overrule.design-conductivity.key: 'inputs.main.slope' is an input. "
        "Correct it where it is given; an unknown one can be assumed.",
    ),
    (
        {"assume.conductivity.key": "drainage.conductivty"},
        "job.toml line 227: assume.conductivity.key: no input called 'drainage.conductivty'. "
        "Write it as in this file, table and key, like drainage.conductivity. "
        "Did you mean drainage.conductivity?",
    ),
    (
        {"assume.conductivity.value": "9"},
        "job.toml line 228: assume.conductivity.value: '9' has no unit. "
        "Write 9 ft/day or 31.8 um/s.",
    ),
]


@pytest.mark.works(of=(read_job,))
@pytest.mark.parametrize(("edits", "message"), FAULTS)
def test_faults_say_where_what_and_what_to_do(
    edits: dict[str, Edit], message: str, whole_text: str, whole_folder: Path
) -> None:
    with pytest.raises(BadInputFile) as raised:
        job_with(whole_text, whole_folder, edits)

    assert str(raised.value) == message


TEXTS = [
    (
        'format = 1\n[main\ndiameter = "10 in"\n',
        "job.toml line 2: it cannot be read as TOML: expected ']' at the end of a table "
        "declaration. Look for a missing quote, bracket or equals sign on this line or just "
        "above.",
    ),
    (
        'format = 1\n[main]\ndiameter = "10 in',
        "job.toml line 3: it cannot be read as TOML: unterminated string. "
        "Look for a missing quote, bracket or equals sign on this line or just above.",
    ),
    ("", "job.toml line 1: format is missing. Write format = 1 on the first line."),
    ('format = "1"', "job.toml line 1: format is '1'. Write format = 1 on the first line."),
]


@pytest.mark.works(of=(job_of_text,))
@pytest.mark.parametrize(("text", "message"), TEXTS)
def test_what_is_no_job_file_is_said(text: str, message: str, tmp_path: Path) -> None:
    with pytest.raises(BadInputFile) as raised:
        job_of_text(text, tmp_path)

    assert str(raised.value) == message


@pytest.mark.works(of=(job_of_text,))
def test_tables_of_a_wrong_sort_are_said(whole_text: str, whole_folder: Path) -> None:
    text = edited(whole_text, {"spot": None, "ditch": None})
    text = f"format = 1\nditch = 3\n{text.removeprefix('format = 1')}"
    text += '\n[[spot]]\nkind = "low spot"\n[season."High Water"]\nfrom = "01-01"\n'
    with pytest.raises(BadInputFile) as raised:
        job_of_text(text, whole_folder)
    messages = {fault.where: fault.message for fault in raised.value.faults}

    assert messages["ditch"] == "ditch is '3', not a table. Write [ditch] on a line of its own."
    assert messages["spot"] == (
        "spot is written as a list. Give each a table with a name, like [spot.low-1]."
    )
    assert messages["season.High Water"] == (
        "season.High Water: 'High Water' cannot be the name of a table. "
        "Use small letters, digits and hyphens, like high-water."
    )


@pytest.mark.works(of=(read_job,))
def test_all_faults_come_at_once_in_the_order_of_the_file(
    whole_text: str, whole_folder: Path
) -> None:
    wrong: dict[str, Edit] = {
        "assume.conductivity.value": "9",
        "drainage.area": "62",
        "main.slope": None,
        "people.owner": "",
    }
    with pytest.raises(BadInputFile) as raised:
        job_with(whole_text, whole_folder, wrong)

    assert [fault.where for fault in raised.value.faults] == [
        "people.owner",
        "drainage.area",
        "main.slope",
        "assume.conductivity.value",
    ]


@pytest.mark.works(of=(job_of_text,))
def test_a_newer_file_is_left_alone(whole_text: str, whole_folder: Path) -> None:
    with pytest.raises(NewerFile) as raised:
        job_with(whole_text, whole_folder, {"format": 2})

    assert str(raised.value) == (
        "job.toml: it was written in format 2; this version reads up to format 1. "
        "Nothing was changed. Update the program to open it."
    )


@pytest.mark.works(of=(read_job,))
def test_a_folder_without_a_job_file_is_said(tmp_path: Path) -> None:
    with pytest.raises(BadInputFile) as raised:
        read_job(tmp_path)

    assert str(raised.value) == (
        f"job.toml: there is no job.toml in {tmp_path}. "
        "Name a job folder, or make one with tilewater start."
    )


@pytest.mark.works(of=(read_job,))
def test_a_file_in_another_encoding_is_said(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_bytes("format = 1\n# caf\u00e9\n".encode("latin-1"))
    with pytest.raises(BadInputFile) as raised:
        read_job(tmp_path)

    assert str(raised.value) == (
        "job.toml line 2: a letter is not in UTF-8. Save the file as UTF-8."
    )


@pytest.mark.works(of=(read_job,))
def test_windows_files_read_the_same(whole_text: str, whole_folder: Path) -> None:
    windows = job_of_text("\ufeff" + whole_text.replace("\n", "\r\n"), whole_folder)

    assert windows.givens == read_job(whole_folder).givens


@pytest.mark.works(of=(read_job,))
def test_unknown_keys_are_kept_and_reported(whole_text: str, whole_folder: Path) -> None:
    text = edited(
        whole_text, {"main.diametr": "10 in", "radar.file": "r.csv", "spot.low-1.grond": 1}
    )
    job = job_of_text(text, whole_folder)
    notes = [note.message for note in job.notes if note.code == "unknown-key"]

    assert [
        "job.toml line 428: there is no table or key 'radar'. It is kept and not used.",
        "job.toml line 75: [main] has no 'diametr'. It is kept and not used. "
        "Did you mean diameter?",
        "job.toml line 107: [spot.low-1] has no 'grond'. It is kept and not used. "
        "Did you mean ground?",
    ] == notes
    assert job.file.main.model_extra == {"diametr": "10 in"}


@pytest.mark.works(of=(read_job,))
def test_judgements_are_read_in_the_unit_of_their_key(whole_text: str, whole_folder: Path) -> None:
    job = job_with(whole_text, whole_folder, {"drainage.conductivity": "unknown"})
    overrule, assumption, confirmation = job.overrules[0], job.assumptions[0], job.confirmations[0]

    assert (overrule.key, overrule.value) == ("capacity.criterion.conductivity_20_m_s", 0.035)
    assert isinstance(overrule, Overrule)
    assert isinstance(assumption, Assumption)
    assert (assumption.key, assumption.value, assumption.by, assumption.date) == (
        "inputs.drainage.conductivity_m_s",
        9e-6,
        "R. Lindqvist",
        "2026-03-02",
    )
    assert (confirmation.row, confirmation.edition, confirmation.limit) == (
        "retention",
        "September 2020",
        3.0,
    )
    assert [note.code for note in job.notes] == ["season-gap", "line-placed-twice"]


@pytest.mark.works(of=(read_job,))
def test_an_assumed_conductivity_holds_above_the_drains_too(
    whole_text: str, whole_folder: Path
) -> None:
    open_values: dict[str, Edit] = {
        "drainage.conductivity": "unknown",
        "drainage.conductivity_above": None,
    }
    job = job_with(whole_text, whole_folder, open_values)
    trace = Trace.start(job.givens, job.overrules, job.assumptions)

    assert trace.value("inputs.drainage.conductivity_above_m_s") == 9e-6


@pytest.mark.works(of=(read_job,))
@pytest.mark.parametrize("part", ["key", "value", "by", "date", "reason"])
def test_an_overrule_with_an_open_part_is_not_applied(
    part: str, whole_text: str, whole_folder: Path
) -> None:
    job = job_with(whole_text, whole_folder, {f"overrule.design-conductivity.{part}": "unknown"})

    assert job.overrules == ()
    assert job.notes[0].message == (
        "job.toml line 219: overrule.design-conductivity is not applied, since a part of it is "
        "unknown. It needs key, value, by, date and reason."
    )


@pytest.mark.works(of=(read_job,))
def test_an_assumption_for_a_known_value_is_said(whole_folder: Path) -> None:
    assert [note.message for note in read_job(whole_folder).notes] == [
        "job.toml line 226: assume.conductivity is not used, since drainage.conductivity is given. "
        "Remove one of them.",
        "job.toml line 87: no season has the days 06-16 to 03-19. "
        "Let each season begin the day after the one before it ends.",
        "job.toml line 371: line.bank-top is given by shots and by points; the points are used. "
        "Take out one of them.",
    ]


@pytest.mark.by_hand(of=(value_of_key,))
@pytest.mark.parametrize(
    ("key", "typed", "value"),
    [
        ("capacity.criterion.flow_m3_s", "0.16 cfs", 0.16 * 0.3048**3),
        ("capacity.criterion.retention_h", "4.5 h", 4.5),
        ("boards.inlet.stack_in", "36 in", 36.0),
        ("drain_flow.mean_annual_depth_mm", "10 in", 254.0),
        ("elevations.inlet_crest_m", "1184.2 ft", 1184.2 * 0.3048),
        ("removal.removed_kg", "200 lb", 200 * 0.45359237),
        ("cost.total_usd", "$35,000", 35000.0),
        ("capacity.criterion.share_of_peak", "15 %", 0.15),
        ("capacity.criterion.porosity", 0.61, 0.61),
        ("drain_flow.controlled_by", "main", "main"),
    ],
)
def test_an_overruled_value_takes_the_unit_at_the_end_of_its_key(
    key: str, typed: Any, value: Any, whole_text: str, whole_folder: Path
) -> None:
    edits: dict[str, Edit] = {
        "overrule.design-conductivity.key": key,
        "overrule.design-conductivity.value": typed,
    }
    job = job_with(whole_text, whole_folder, edits)

    assert job.overrules[0].value == (
        value if isinstance(value, str) else pytest.approx(value, rel=1e-14)
    )


@pytest.mark.works(of=(migrated,))
def test_old_formats_are_brought_up_step_by_step() -> None:
    steps = {
        1: lambda data: {**data, "pipe": data["main"]},
        2: lambda data: {key: value for key, value in data.items() if key != "main"},
    }
    old = {"format": 1, "main": 10}

    assert migrated(old, to=3, steps=steps) == {"format": 3, "pipe": 10}
    assert migrated(old) == old == {"format": 1, "main": 10}

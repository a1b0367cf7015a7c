# SPDX-License-Identifier: Apache-2.0
"""The report of the built farm: from its loggers to loads, record, page and papers."""

import json
import shutil

import numpy as np
import pytest

from tests.pdf import Paper
from tilewater.basis.errors import BadInputFile
from tilewater.basis.trace import Trace
from tilewater.chain.explain import explain
from tilewater.chain.monitor_steps import give
from tilewater.documents.measured import measured_pdf
from tilewater.documents.pages.monitor_page import headline, monitor_page
from tilewater.documents.pages.said import Block
from tilewater.documents.words import Words
from tilewater.tasks.built_levels import as_it_stands
from tilewater.tasks.checking import check_job
from tilewater.tasks.monitor_record import charted, monitor_record
from tilewater.tasks.monitoring import (
    has_loggers,
    loads_csv,
    monitor_checked,
    write_monitored,
)
from tools.package import ROOT

BUILT, FARM = ROOT / "examples" / "corbel-built", ROOT / "examples" / "corbel-farm"


@pytest.fixture(scope="module")
def built():
    return monitor_checked(check_job(BUILT), by_days=False)


@pytest.mark.works(of=(monitor_checked, has_loggers))
def test_built_farm_has_a_report(built):
    monitor = built.record["monitor"]
    assert has_loggers(built.job)
    assert monitor["removed_kg"]["p10"] < monitor["removed_kg"]["p50"]
    assert monitor["removed_kg"]["p50"] < monitor["removed_kg"]["p90"]
    assert monitor["treated_share"]["value"] < 1.0
    assert built.trace.value("monitor.first_day") == "2028-03-01"
    assert built.trace.value("monitor.last_day") == "2028-03-28"
    assert built.tracer is not None


@pytest.mark.by_hand(of=(monitor_checked, as_it_stands))
def test_flow_goes_over_the_crest_that_stands(built):
    # sill of the inlet boards as built 1181.26 ft, 36 in of boards by the log of March 2028;
    # outlet 1180.702 ft and 24 in
    for structure, crest in (("inlet", 1181.26 + 3.0), ("outlet", 1180.702 + 2.0)):
        first = built.trace.value(f"monitor.boards.{structure}")[0]
        assert first.boards.crest == pytest.approx(crest * 0.3048)
        assert np.isfinite(first.from_s)
    told = "The sill of the inlet boards is taken as built, 1181.26 ft (design 1181.20 ft)."
    assert told in [note.message for note in built.notes]


@pytest.mark.works(of=(monitor_checked,))
def test_flow_before_the_first_stack_of_the_log_is_a_gap(tmp_path):
    job = tmp_path / "job"
    shutil.copytree(BUILT, job, ignore=shutil.ignore_patterns("results"))
    log = "time,set,stack [in]\n2028-03-10 09:00,inlet,36\n2028-03-10 09:00,outlet,24\n"
    (job / "boards-log.csv").write_text(log, encoding="utf-8")
    late = monitor_checked(check_job(job), by_days=False)
    first = late.trace.value("monitor.boards.outlet")[0].from_s
    record = late.trace.value("monitor.rated.treated").flow
    assert np.isnan(record.value[record.time_s < first]).all()
    assert not np.isnan(record.value[record.time_s >= first]).all()
    assert {"inlet boards", "outlet boards"} == {
        note.subject for note in late.notes if note.code == "monitor-before-log"
    }


@pytest.mark.law(of=(monitor_checked,))
def test_loads_of_the_record_add_up(built):
    loads = built.record["monitor"]["loads"]
    assert loads["total_in_kg"] == pytest.approx(loads["bed_in_kg"] + loads["bypass_kg"])
    assert loads["removed_kg"] == pytest.approx(loads["bed_in_kg"] - loads["bed_out_kg"])
    rows = built.record["intervals"]
    for name in ("bed_in_kg", "bypass_kg", "removed_kg"):
        assert sum(row[name] for row in rows) == pytest.approx(loads[name])


@pytest.mark.works(of=(monitor_record, explain))
def test_every_headline_number_opens(built):
    for key in (
        "monitor.removed_kg.p50",
        "monitor.site_percent.p10",
        "monitor.bed_percent.p90",
        "monitor.treated_share.value",
        "monitor.loads.removed_kg",
        "monitor.rate.wet_g_per_m3_day",
        "monitor.error.flow_kg",
    ):
        (told,) = explain(built.trace, key)
        assert told.equation or told.summary, key
        assert told.sources, key


@pytest.mark.works(of=(monitor_page,))
@pytest.mark.parametrize("system", ["us", "si"])
def test_page_answers_first(built, system):
    parts = list(monitor_page(built.job.title, built.trace, Words(system)))
    titles = [part.title for part in parts if isinstance(part, Block)]
    assert titles[:3] == ["What did it remove?", "Loads", "Does the water add up?"]
    assert "By interval" in titles
    # Four weeks are not held against the years of a design.
    assert "Against the design" not in titles
    assert "monitor-part-of-a-year" in {note.code for note in built.notes}


@pytest.mark.works(of=(headline,))
def test_a_time_that_is_not_like_others_has_no_percent_in_its_headline(built):
    trace = Trace(dict(built.trace.steps), list(built.trace.findings))
    give(trace, "year.is_representative", False, "", "Whether the time had days enough")
    shown = headline(trace, Words("us"))
    (table,) = shown.body
    labels = [line[0].plain for line in table.lines]
    assert "of the site's nitrate" not in labels
    assert "percent" in labels
    assert "of the site's nitrate" in [
        line[0].plain for line in headline(built.trace, Words("us")).body[0].lines
    ]


@pytest.mark.works(of=(measured_pdf,))
def test_report_is_two_to_four_pages_and_the_same_each_time(built):
    words = built.words(None)
    first, second = (
        measured_pdf(built.job.title, built.trace, words, built.notes) for _ in range(2)
    )
    paper = Paper(first)
    assert first == second
    assert 2 <= paper.length <= 4
    text = " ".join(paper.pages)
    for words_of in ("How it was worked out", "What to keep in mind", "no removal"):
        assert words_of in text


@pytest.mark.works(of=(write_monitored, loads_csv))
def test_files_are_written(built, tmp_path):
    written = write_monitored(built, out=tmp_path)
    assert not written.troubles
    record = json.loads((tmp_path / "monitor.json").read_text(encoding="utf-8"))
    assert record["monitor"]["from"] == "2028-03-01T06:00Z"
    lines = (tmp_path / "loads.csv").read_text(encoding="utf-8").splitlines()
    assert lines[0].startswith("from,to,treated_m3,bypass_m3,bed_in_kg")
    assert len(lines) == 1 + len(record["intervals"])
    assert (tmp_path / "monitor.pdf").read_bytes()[:4] == b"%PDF"


@pytest.mark.works(of=(charted,))
def test_charts_have_a_value_for_each_day(built):
    record = charted(built.trace, Words("us"))
    flow, nitrate = record["groups"]
    assert flow["unit"] == "cfs"
    for group in (flow, nitrate):
        for series in group["series"]:
            assert len(series["values"]) == len(record["day"])
    inlet = nitrate["series"][0]["values"]
    assert 3 <= sum(value is not None for value in inlet) <= 6


@pytest.mark.works(of=(monitor_checked,))
def test_a_job_without_loggers_is_told_what_to_write():
    with pytest.raises(BadInputFile) as told:
        monitor_checked(check_job(FARM), by_days=False)
    messages = [fault.message for fault in told.value.faults]
    assert messages[0] == (
        "the job has no logger of a flow or a level. A load needs the flow through the practice. "
        'Add [logger.NAME] with file, measures = "stage" and place = "outlet".'
    )
    assert messages[1].startswith("the job has no samples of the inlet and the outlet.")


@pytest.mark.works(of=(monitor_checked,))
def test_a_stage_without_its_zero_is_no_elevation(tmp_path):
    folder = tmp_path / "built"
    shutil.copytree(BUILT, folder, ignore=shutil.ignore_patterns("results"))
    job = folder / "job.toml"
    text = job.read_text(encoding="utf-8").replace('zero = "1181.10 ft"\n', "")
    job.write_text(text, encoding="utf-8")
    with pytest.raises(BadInputFile, match=r"readings are water over the sensor"):
        monitor_checked(check_job(folder), by_days=False)


@pytest.mark.works(of=(monitor_checked,))
def test_treated_water_of_a_buffer_is_what_did_not_go_past(tmp_path):
    folder = tmp_path / "merridew"
    shutil.copytree(ROOT / "examples" / "merridew-farm", folder)
    hours = [f"2028-04-{1 + h // 24:02d} {h % 24:02d}:00" for h in range(24 * 20)]
    sill, crest = 737.9, 742.57  # feet, of the head boards and of the bypass boards
    for name, level in (("inlet", sill + 0.2), ("bypass", crest + 0.05)):
        rows = "\n".join(f"{h},{level + 0.01 * (n % 5):.2f}" for n, h in enumerate(hours))
        (folder / f"{name}.csv").write_text(f"Time,Level (ft)\n{rows}\n", encoding="utf-8")
    bottles = [f"2028-04-{day:02d} 10:00" for day in (2, 6, 10, 14, 18)]
    rows = [f"IN,{at},Nitrate as N,12.0,mg/L,0.2" for at in bottles]
    rows += [f"WELL,{at},Nitrate as N,2.0,mg/L,0.2" for at in bottles]
    head = "Client sample,Collected,Parameter,Result,Units,MDL\n"
    (folder / "lab.csv").write_text(head + "\n".join(rows) + "\n", encoding="utf-8")
    tables = '\n[monitor]\ntime_zone = "-6 h"\n' + "".join(
        f'\n[logger.{name}]\nfile = "{name}.csv"\nmeasures = "level"\nplace = "{name}"\n'
        for name in ("inlet", "bypass")
    )
    tables += '\n[lab]\nfile = "lab.csv"\nspecies = "nitrate as N"\n'
    tables += '\n[lab.places]\ninlet = "IN"\noutlet = "WELL"\n'
    job = folder / "job.toml"
    job.write_text(job.read_text(encoding="utf-8") + tables, encoding="utf-8")
    done = monitor_checked(check_job(folder), by_days=False)
    monitor = done.record["monitor"]
    assert monitor["total_m3"] == pytest.approx(monitor["treated_m3"] + monitor["bypass_m3"])
    assert monitor["bed_percent"]["value"] == pytest.approx(100.0 * 10.0 / 12.0)
    assert 0.0 < monitor["treated_share"]["value"] < 1.0

# SPDX-License-Identifier: Apache-2.0
"""The verb monitor: answer on stdout, what to know on stderr, a number opened, both units."""

import json

import pytest
from typer.testing import CliRunner

from tilewater.cli.main import app
from tilewater.cli.monitor_verb import monitor
from tilewater.tasks import monitoring
from tilewater.tasks.checking import check_job
from tools.package import ROOT

BUILT = str(ROOT / "examples" / "corbel-built")


@pytest.fixture(scope="module")
def run(tmp_path_factory):
    """The verb on a design without its days, which are another test's; it is worked out once."""
    done = monitoring.monitor_checked(check_job(BUILT), by_days=False)
    out = tmp_path_factory.mktemp("out")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(monitoring, "monitor_job", lambda job, update=False: done)
        yield lambda *more: CliRunner().invoke(app, ["monitor", BUILT, "--out", str(out), *more])


@pytest.mark.works(of=(monitor,))
def test_answer_stands_on_stdout_and_cautions_beside_it(run):
    shown = run()
    assert shown.exit_code == 0
    assert "What did it remove?" in shown.stdout
    assert "monitor.json" in shown.stderr
    assert "caution" in shown.stderr


@pytest.mark.works(of=(monitor,))
def test_same_numbers_in_both_units_and_as_json(run):
    removed = json.loads(run("--json").stdout)["monitor"]["removed_kg"]["p50"]
    assert f"{removed:.0f} kg" in run("--units", "si").stdout
    assert f"{removed / 0.45359237:.0f} lb" in run("--units", "us").stdout


@pytest.mark.works(of=(monitor,))
def test_a_number_opens_to_its_equation(run):
    shown = run("--explain", "monitor.loads.bypass_kg").stdout
    assert "L_bypass = sum(Q_bypass C dt)" in shown
    assert "Williams" in shown

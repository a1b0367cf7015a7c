# SPDX-License-Identifier: Apache-2.0
"""After the demo one can type the command itself."""

import importlib.util
import os

import pytest

from tools.package import ROOT


@pytest.mark.works
@pytest.mark.skipif(os.name == "nt", reason="the shell of the README is a POSIX one")
def test_demo_ends_with_the_way_to_the_command(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    found = importlib.util.spec_from_file_location("dev_of_demo", ROOT / "dev.py")
    assert found is not None
    assert found.loader is not None
    dev = importlib.util.module_from_spec(found)
    found.loader.exec_module(dev)
    command = ROOT / ".venv-run-abc" / "bin" / "tilewater"
    monkeypatch.setattr(dev, "program", lambda *_: command)
    monkeypatch.setattr(dev, "run", lambda *_: 1)
    assert dev.demo([]) == 1
    assert capsys.readouterr().err == (
        "\ntilewater is installed as .venv-run-abc/bin/tilewater. "
        "To type only tilewater, here in the checkout:\n"
        '    export PATH="$PWD/.venv-run-abc/bin:$PATH"\n'
    )

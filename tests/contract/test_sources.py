# SPDX-License-Identifier: Apache-2.0
"""Every source says what it is and whether it was read; every key that is used has a source."""

import ast
import json
import re
import warnings
from collections.abc import Iterator

import pytest

from tools.checks import REGISTER_FILE, Register
from tools.docstrings import docstrings
from tools.package import ROOT, SOURCES, python_files, sources

NEEDED = {
    "read": {"author", "year", "title", "address"},
    "memory": {"author", "year", "title"},
    "practice": {"title"},
    "derived": {"title"},
}
DATA_KEY = re.compile(r"""^\s*(?:# )?source(?:\s*=\s*|: *)["']?([a-z][a-z0-9_-]*)""", re.MULTILINE)

pytestmark = pytest.mark.works


def keys_in_data() -> Iterator[tuple[str, str]]:
    """Yield (file, key) of the heads of tables and the fields of data files."""
    for file in (ROOT / "src").rglob("data/*"):
        if file.suffix in (".csv", ".toml"):
            text = file.read_text(encoding="utf-8")
            yield from ((file.name, key) for key in DATA_KEY.findall(text))


def keys_in_code() -> Iterator[tuple[str, str]]:
    """Yield (file, key) of every `source="key"` in a call."""
    for file in python_files("src"):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.keyword) and node.arg == "source":
                value = node.value
                if isinstance(value, ast.Constant) and isinstance(value.value, str):
                    yield file.name, value.value


def keys_in_docstrings() -> Iterator[tuple[str, str]]:
    """Yield (function, key) of every source a public function cites."""
    for name, docstring in docstrings().items():
        yield from ((name, key) for key in docstring.cited())


def test_every_source_has_its_fields() -> None:
    assert [] == [
        f"{key}: {sorted(NEEDED[source['seen']] - set(source))}"
        for key, source in sources().items()
        if not NEEDED[source["seen"]] <= set(source)
    ]


def test_every_source_says_whether_it_was_read() -> None:
    assert set(NEEDED) >= {source["seen"] for source in sources().values()}


def test_every_key_used_in_code_and_data_has_a_source() -> None:
    assert [] == [
        f"{place}: {key}"
        for place, key in (*keys_in_data(), *keys_in_code())
        if key and key not in sources()
    ]


def test_every_published_check_names_a_source(register: Register) -> None:
    assert [] == [
        f"{check['test']}: {check.get('source')}"
        for checks in register.values()
        for check in checks
        if check["kind"] == "published" and check.get("source") not in sources()
    ]


@pytest.mark.filterwarnings("default::UserWarning")
def test_unused_sources_are_pointed_out() -> None:
    register: Register = json.loads((ROOT / REGISTER_FILE).read_text(encoding="utf-8"))
    used = {key for _, key in (*keys_in_docstrings(), *keys_in_data(), *keys_in_code())}
    used |= {check.get("source", "") for checks in register.values() for check in checks}
    if unused := sorted(set(sources()) - used):
        warnings.warn(f"in {SOURCES.name} but not used: {', '.join(unused)}", stacklevel=1)
    assert used & set(sources())

# SPDX-License-Identifier: Apache-2.0
"""Lists of checksums are those of `sha256sum`."""

import os
import shutil
import subprocess
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewater.job.checksums import checksum_text, digest_of, digest_of_file, read_checksums

NAMES = ("job.toml", "survey/shots of Käthe.csv", "odd \\ name", "two\nlines")


@pytest.mark.oracle("sha256sum", of=(checksum_text, digest_of, digest_of_file))
@pytest.mark.skipif(shutil.which("sha256sum") is None, reason="sha256sum is not installed")
@pytest.mark.skipif(os.name == "nt", reason="no such names there")
def test_list_is_checked_by_the_program_of_that_name(tmp_path: Path) -> None:
    for name in NAMES:
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(name, encoding="utf-8")
    text = checksum_text({name: digest_of_file(tmp_path / name) for name in NAMES})
    (tmp_path / "checksums.txt").write_text(text, encoding="utf-8")
    check = ["sha256sum", "--check", "--strict", "checksums.txt"]
    assert subprocess.run(check, cwd=tmp_path, capture_output=True, check=False).returncode == 0
    (tmp_path / "job.toml").write_text("another", encoding="utf-8")
    assert subprocess.run(check, cwd=tmp_path, capture_output=True, check=False).returncode == 1


@pytest.mark.law(of=(checksum_text, read_checksums))
@given(st.dictionaries(st.text(min_size=1).filter(str.strip), st.binary(), max_size=4))
def test_list_is_read_as_it_was_written(contents: dict[str, bytes]) -> None:
    digests = {name: digest_of(content) for name, content in contents.items()}
    assert digests == read_checksums(checksum_text(digests))


@pytest.mark.works(of=(read_checksums,))
def test_line_that_is_none_is_named_by_its_number() -> None:
    with pytest.raises(ValueError, match=r"^2$"):
        read_checksums(f"{'a' * 64}  job.toml\nscribbled\n")

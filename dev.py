#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Set up Tilewater in this checkout and do one thing with it.

    python3 dev.py demo            design the bundled example
    python3 dev.py test            style, types, floors, then the default tests
    python3 dev.py test --slow     the same with the slow tests
    python3 dev.py test ARGS       only pytest, with these arguments
    python3 dev.py docs            write the generated pages and the register of checks anew
    python3 dev.py site            build the docs for a browser, into site/
    python3 dev.py bench           run the benchmarks
    python3 dev.py pictures        draw the pictures of the docs anew
    python3 dev.py lock            solve the locks anew (needs uv)

Needs Python 3.11 or later and nothing else. Every environment is a folder of this checkout, named
after its lock: a changed lock makes a new one, a half-made one is made again.
"""

import hashlib
import importlib.util
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import TextIO

OLDEST_PYTHON = (3, 11)
if sys.version_info < OLDEST_PYTHON:  # before anything that an older Python cannot read
    raise SystemExit(
        "Tilewater needs Python {}.{} or later; this is Python {}.{}.\n"
        "Run dev.py with a later one, for example: python3.12 dev.py test".format(
            *OLDEST_PYTHON, *sys.version_info[:2]
        )
    )

ROOT = Path(__file__).resolve().parent
PROJECT = ROOT / "pyproject.toml"

# Environment -> its lock, the groups of pyproject.toml in it, whether Tilewater itself is in it.
ENVIRONMENTS = {
    "run": ("requirements.lock", ["build"], True),
    "dev": ("requirements-dev.lock", ["build", "test", "lint"], True),
    "docs": ("requirements-docs.lock", ["docs"], False),
}

REAL_RECORD = ".real-record"
"""Folder of a weather record that some tests read; they skip where it is empty."""


def main(words: list[str]) -> int:
    """Run the command that the words name; return its exit code."""
    commands = {
        "demo": demo,
        "test": test,
        "docs": docs,
        "site": site,
        "bench": bench,
        "pictures": pictures,
        "lock": lock,
    }
    if not words or words[0] not in commands:
        print(__doc__)
        return 0 if words in (["-h"], ["--help"]) else 2
    return commands[words[0]](words[1:])


def demo(words: list[str]) -> int:
    """Design the bundled example; needs none of the tools for testing."""
    tilewater = program("run", "tilewater")
    result = run(tilewater, "design", ROOT / "examples" / "corbel-farm", *words)
    say(f"\n{how_to_call(tilewater)}")
    return result


def test(words: list[str]) -> int:
    """Run the checks from the quickest to the slowest; stop at the first that fails."""
    python = environment("dev")
    if words and words != ["--slow"]:
        return run(python, "-m", "pytest", *words)
    group = ["-m", ""] if words else []
    if words:
        fetch_real_record(python)
    return (
        run(python, "-m", "ruff", "check", "--quiet")
        or run(python, "-m", "ruff", "format", "--check", "--quiet")
        or run(python, "-m", "mypy")
        or run(program("dev", "lint-imports"), "--no-logo")
        or run(python, "-m", "pytest", "-n", "2", *group)
    )


def docs(words: list[str]) -> int:
    """Write what the docs say about the code anew."""
    return run(environment("dev"), "-m", "tools.pages", *words)


def site(words: list[str]) -> int:
    """Build the docs for a browser."""
    return run(program("docs", "mkdocs"), "build", "--quiet", "--strict", *words)


def bench(words: list[str]) -> int:
    """Run the benchmarks."""
    return run(environment("dev"), "-m", "benchmarks", *words)


def pictures(words: list[str]) -> int:
    """Draw the pictures of the docs anew."""
    return run(environment("dev"), "-m", "tools.pictures", *words)


def lock(words: list[str]) -> int:
    """Solve the locks anew from pyproject.toml; `--upgrade` lets pinned versions move."""
    uv = shutil.which("uv")
    if uv is None:
        raise SystemExit("The locks are solved by uv, which is not on the PATH. Install uv first.")
    for name, (file, groups, with_project) in ENVIRONMENTS.items():
        options = [PROJECT.name] if with_project else []
        options += [f"--group={group}" for group in groups]
        options += ["--constraint=requirements.lock"] if name == "dev" else []
        options += ["--universal", "--python-version=3.11", "--generate-hashes", "--no-header"]
        failed = run(uv, "pip", "compile", "--quiet", *options, *words, "--output-file", file)
        if failed:
            return failed
    return 0


def program(name: str, command: str) -> Path:
    """Return the path of an installed command of the named environment."""
    return environment(name).with_name(command + (".exe" if os.name == "nt" else ""))


def environment(name: str) -> Path:
    """Return the Python of the named environment, made first where it is missing or half made."""
    file, _, with_project = ENVIRONMENTS[name]
    requirements = ROOT / file
    key = digest(requirements.read_bytes(), sys.version.encode(), sys.base_prefix.encode())
    folder = ROOT / f".venv-{name}-{key}"
    python = folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")

    # Written last: without it, or in a checkout that was moved, the folder is not to be trusted.
    made = folder / "made-for.txt"
    if text_of(made) != str(folder):
        say(f"Setting up {folder.name} from {file}; this happens once.")
        make(folder)
        pip_install(python, "--require-hashes", "--only-binary=:all:", "-r", requirements)
        made.write_text(str(folder), encoding="utf-8")

    installed = folder / "installed.txt"
    if with_project and text_of(installed) != digest(PROJECT.read_bytes()):
        pip_install(python, "--no-deps", "--no-build-isolation", "--editable", ROOT)
        installed.write_text(digest(PROJECT.read_bytes()), encoding="utf-8")
    return python


def make(folder: Path) -> None:
    """Make an empty virtual environment, over whatever an interrupted run left there."""
    if importlib.util.find_spec("ensurepip") is None or importlib.util.find_spec("venv") is None:
        raise SystemExit(
            f"{sys.executable} cannot make virtual environments: its venv and ensurepip parts are "
            "missing.\nOn Debian and Ubuntu install python3-venv, then run the same command again."
        )
    if run(sys.executable, "-m", "venv", "--clear", folder):
        raise SystemExit(f"{folder} could not be made. Check the space and rights of that folder.")


def pip_install(python: Path, *options: str | Path) -> None:
    """Install into an environment; what pip says goes to stderr, stdout belongs to the command."""
    quietly = ("--disable-pip-version-check", "--no-input", "--quiet")
    if run(python, "-m", "pip", "install", *quietly, *options, stdout=sys.stderr):
        raise SystemExit(
            "The libraries could not be installed; pip says why above. "
            "Check the way to your package index, then run the same command again."
        )


def fetch_real_record(python: Path) -> None:
    """Download the package whose weather record some tests read; it is not installed."""
    folder = ROOT / REAL_RECORD
    if any(folder.glob("*.whl")):
        return
    only = ("--no-deps", "--require-hashes", "--only-binary=:all:", "--quiet")
    listed = ROOT / "tests" / "real-record.txt"
    pip = (python, "-m", "pip", "download", "--disable-pip-version-check", "--no-input")
    if run(*pip, *only, "--requirement", listed, "--dest", folder, stdout=sys.stderr):
        raise SystemExit(
            "The weather record could not be downloaded; pip says why above. "
            "Check the way to your package index, then run the same command again."
        )


def run(*words: str | Path, stdout: TextIO | None = None) -> int:
    """Run a program in the checkout, the user's Python settings kept out; return its exit code."""
    strange = ("PYTHONPATH", "PYTHONHOME", "VIRTUAL_ENV")
    settings = {name: value for name, value in os.environ.items() if name not in strange}
    settings["PYTHONUTF8"] = "1"
    line = [str(word) for word in words]
    return subprocess.run(line, cwd=ROOT, env=settings, stdout=stdout, check=False).returncode


def how_to_call(command: Path) -> str:
    """Return where in the checkout a command is installed, and what lets one type its name."""
    inside = command.relative_to(ROOT)
    if os.name == "nt":
        return f"tilewater is installed as {inside}. Type that, here in the checkout."
    return (
        f"tilewater is installed as {inside}. To type only tilewater, here in the checkout:\n"
        f'    export PATH="$PWD/{inside.parent}:$PATH"'
    )


def digest(*parts: bytes) -> str:
    """Return a short name for exactly these bytes."""
    return hashlib.sha256(b"\0".join(parts)).hexdigest()[:12]


def text_of(file: Path) -> str | None:
    """Return the text of a file, None where there is none."""
    return file.read_text(encoding="utf-8") if file.is_file() else None


def say(text: str) -> None:
    """Tell the person at the terminal."""
    print(text, file=sys.stderr, flush=True)


if __name__ == "__main__":
    try:
        raise SystemExit(main(sys.argv[1:]))
    except KeyboardInterrupt:
        raise SystemExit(
            "Stopped. Run the same command again; what is half made is made anew."
        ) from None

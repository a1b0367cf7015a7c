# SPDX-License-Identifier: Apache-2.0
"""New job folders: the whole file commented, from a few answers, or a copy of an example.

The commented file is itself a job that can be read: whatever must be answered is "unknown" in it,
and what has a default or may be left out stands there as a comment to be taken in. Nothing
here overwrites what is there.
"""

import shutil
import textwrap
from collections.abc import Iterator, Mapping
from importlib.resources import files
from pathlib import Path

from tilewater.basis.errors import BadInputFile, Fault, UnknownName
from tilewater.basis.unit_table import KINDS
from tilewater.basis.units import did_you_mean
from tilewater.job.edits import Edit, as_toml
from tilewater.job.fields import UNKNOWN, Ask, Quantity
from tilewater.job.reading import Job, job_of_text, read_job
from tilewater.job.schema import FORMAT, JOB_FILE, JobFile
from tilewater.job.tables import Member, Table

FIRST_QUESTIONS = (
    "job.title",
    "people.owner",
    "drainage.area",
    "drainage.coefficient",
    "drainage.lateral_depth",
    "drainage.lateral_spacing",
    "main.diameter",
    "main.material",
    "main.slope",
    "nitrate.mean",
)
"""What a new job is begun with: paths in the job file, in the order of asking."""

SAMPLE_NAMES = {
    "bend": "upper",
    "line": "bank-top",
    "benchmark": "bm-1",
    "segment": "lower",
    "submain": "east",
    "ditch_flow": "two-year",
    "mark": "culvert",
    "season": "spring",
    "spot": "low-1",
    "rating": "bypass",
    "cell": "second",
    "auger_hole": "a1",
    "slug_test": "s1",
    "soil_layer": "upper",
    "pipe": "feed",
    "measure": "nitrate-samples",
    "hub": "bed-lower-near",
    "leg": "p2",
    "logger": "inlet",
    "zero_check": "spring-2028",
    "tracer": "spring-2029",
    "observed": "april-2029",
    "approval": "drainage-district",
    "hold": "floor",
    "sieve_test": "truck-4471",
    "chips_placed": "day-2",
    "bid_item": "field-office",
    "alternate": "geotextile",
    "bidder": "north-earthworks",
    "funding": "state-share",
    "built_pipe": "return",
    "photo": "floor-1",
    "confirm": "retention",
    "overrule": "design-conductivity",
    "assume": "conductivity",
}
WIDTH = 96
HEAD = """\
What was measured and decided for one outlet. Any value may be "unknown": it then stays an open \
item and is never guessed. Every quantity carries its unit, in any system: "62 acre", "3/8 in/day" \
or "18.3 m". Lines that begin with # are comments; take the # away to use one. Comments of your \
own are kept by the program."""


def template_text(answers: Mapping[str, Edit] | None = None) -> str:
    """Text of a job file with every table and field explained, and the answers filled in.

    Parameters
    ----------
    answers : mapping of str to Edit
        Values as typed, by path: `{"main.diameter": "10 in"}`.

    Raises
    ------
    UnknownName
        If an answer has no place in the job file.
    """
    left = dict(answers or {})
    lines = [f"format = {FORMAT}", "", *_comment(HEAD)]
    for member in JobFile.members():
        lines += _table_lines((member.key,), member, left)
    if left:
        path = next(iter(left))
        raise UnknownName(
            f"The job file has no place for '{path}'. Write table and key, like main.diameter."
            f"{did_you_mean(path, _paths(JobFile))}"
        )
    return "\n".join(lines) + "\n"


def start_job(folder: Path | str, answers: Mapping[str, Edit] | None = None) -> Job:
    """Make a new job folder from a few answers; the rest is "unknown".

    Parameters
    ----------
    folder : Path or str
        Made when it does not exist. Files in it are left alone.
    answers : mapping of str to Edit
        Values as typed, by path. Without a title the job is called after its folder.

    Returns
    -------
    Job
        The new job as read.

    Raises
    ------
    BadInputFile
        If the folder has a job file or cannot be made, or an answer cannot be read. Nothing is
        written.
    UnknownName
        If an answer has no place in the job file.
    """
    folder = Path(folder)
    _need_place(folder)
    if (folder / JOB_FILE).exists():
        raise _taken(folder, f"there is a {JOB_FILE} in {folder} already")
    given = {"job.title": folder.resolve().name, **(answers or {})}
    text = template_text(given)
    is_new = not folder.exists()
    _make(folder)
    try:
        job = job_of_text(text, folder)
    except BadInputFile:
        if is_new:
            folder.rmdir()
        raise
    with (folder / JOB_FILE).open("x", encoding="utf-8", newline="") as file:
        file.write(text)
    return job


def example_names() -> tuple[str, ...]:
    """Names of the examples that can be copied."""
    return tuple(sorted(path.parent.name for path in _examples().glob(f"*/{JOB_FILE}")))


def copy_example(name: str, folder: Path | str) -> Job:
    """Copy an example into a new folder.

    Parameters
    ----------
    name : str
        One of `example_names()`.
    folder : Path or str
        Where to; it must not exist yet, or be empty.

    Raises
    ------
    UnknownName
        If there is no such example.
    BadInputFile
        If the folder has something in it or cannot be made. Nothing is written.
    """
    folder = Path(folder)
    names = example_names()
    if name not in names:
        raise UnknownName(
            f"No example called '{name}'. Known: {', '.join(names)}.{did_you_mean(name, names)}"
        )
    _need_place(folder)
    if folder.exists() and any(folder.iterdir()):
        raise _taken(folder, f"{folder} is not empty")
    _make(folder)
    computed = shutil.ignore_patterns("results", "issued")
    shutil.copytree(_examples() / name, folder, ignore=computed, dirs_exist_ok=True)
    return read_job(folder)


def _examples() -> Path:
    """Folder of the examples: in the installed package, else in the checkout."""
    installed = Path(str(files("tilewater"))) / "examples"
    return installed if installed.is_dir() else Path(__file__).parents[3] / "examples"


def _need_place(folder: Path) -> None:
    """Refuse a place where a file stands in the way of the folder."""
    for place in (folder, *folder.parents):
        if place.is_file():
            raise _taken(folder, f"{place} is a file, and a job needs a folder")


def _make(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        raise _taken(folder, f"{folder} cannot be made: {why}") from None


def _taken(folder: Path, what: str) -> BadInputFile:
    message = f"{what}. Nothing was written. Choose another folder."
    return BadInputFile(Fault(JOB_FILE, None, "", message))


def _table_lines(path: tuple[str, ...], member: Member, left: dict[str, Edit]) -> Iterator[str]:
    """Lines of a table: each field, then the tables in it; a group shows a sample first."""
    if member.ask is not None:
        return
    if member.is_named:
        yield from _group_lines(path, member, left)
        return
    table = member.model
    if any(inner.ask is not None for inner in table.members()):
        yield from ("", "", *_comment(table.about()), f"[{'.'.join(path)}]")
        for inner in table.members():
            if inner.ask is not None:
                yield ""
                key = ".".join((*path, inner.key))
                yield from _field_lines(inner.key, inner.ask, key, left)
    for inner in table.members():
        yield from _table_lines((*path, inner.key), inner, left)


def _field_lines(key: str, ask: Ask, path: str, left: dict[str, Edit]) -> Iterator[str]:
    yield from _comment(explanation(ask))
    if path in left:
        yield f"{key} = {as_toml(left.pop(path))}"
    elif ask.default:
        yield f"# {key} = {ask.sample}"
    elif ask.need == "must":
        yield f'{key} = "{UNKNOWN}"'
    else:
        yield f"# {key} = {ask.sample}"


def _group_lines(path: tuple[str, ...], member: Member, left: dict[str, Edit]) -> Iterator[str]:
    group = path[0]
    yield from ("", "", *_comment(f"{member.model.about()} One table each, under a name."))
    answered = dict.fromkeys(p.split(".")[1] for p in left if p.startswith(f"{group}."))
    if not answered:
        yield f"# [{group}.{SAMPLE_NAMES[group]}]"
    for inner in member.model.members():
        if inner.ask is not None:
            yield from _comment(explanation(inner.ask), "#   ")
            if not answered:
                yield f"# {inner.key} = {inner.ask.sample}"
    for name in answered:
        yield from ("", f"[{group}.{name}]")
        for inner in member.model.members():
            key = f"{group}.{name}.{inner.key}"
            if key in left:
                yield f"{inner.key} = {as_toml(left.pop(key))}"
            elif inner.is_required():
                yield f'{inner.key} = "{UNKNOWN}"'


def explanation(ask: Ask) -> str:
    """A field in a few sentences: what it is, its units, what is allowed, how it is found out."""
    parts = [f"{ask.title}{units_of(ask)}."]
    if ask.description:
        parts.append(ask.description)
    if ask.default:
        parts.append(f"Default {ask.default} ({ask.source}).")
    elif ask.need == "leave":
        parts.append("May be left out.")
    elif ask.example and not ask.allowed.startswith('"'):
        parts.append(f"Like {ask.sample}.")
    return " ".join(parts)


def units_of(ask: Ask) -> str:
    """The units of either system that the trade uses for a quantity: `, in ft or m`."""
    if not isinstance(ask, Quantity) or ask.is_plain:
        return ""
    kind = KINDS[ask.kind]
    units = (kind.us.unit, kind.si.unit)
    names = dict.fromkeys("inches" if unit == "in" else unit for unit in units)
    return f", in {' or '.join(names)}"


def _comment(words: str, begin: str = "# ") -> list[str]:
    return textwrap.wrap(
        words,
        WIDTH,
        initial_indent=begin,
        subsequent_indent=begin,
        break_long_words=False,
        break_on_hyphens=False,
    )


def _paths(table: type[Table], above: str = "") -> list[str]:
    found = []
    for member in table.members():
        path = f"{above}{member.key}"
        if member.ask is not None:
            found.append(path)
        else:
            name = f".{SAMPLE_NAMES[member.key]}" if member.is_named else ""
            found += _paths(member.model, f"{path}{name}.")
    return found

# SPDX-License-Identifier: Apache-2.0
"""What the docs say about the job file, taken from its schema: a page to read and a JSON Schema."""

import json
from collections.abc import Iterator
from typing import Any

from tilewater.job.fields import Ask
from tilewater.job.schema import FORMAT, JobFile, trace_key
from tilewater.job.tables import Member, Table
from tilewater.job.template import explanation

HEAD = f"""# The job file

Written by `python3 dev.py docs` from the schema in `tilewater.job`.

`job.toml` holds what was measured and decided for one outlet. It begins with `format = {FORMAT}`.
Every quantity is a text with its unit, in US customary or SI units: `area = "62 acre"`. Any value
may be `"unknown"`; it then stays unknown in everything that depends on it. Fields that must be
answered are marked *; the others have the default stated, or may be absent. Tables under a name,
like `[spot.low-1]`, may be repeated under other names of small letters, digits and hyphens. A
table or key that is not listed here is kept and reported.

`tilewater start --template` prints the whole file commented. A JSON Schema for editors stands in
`job.schema.json`. The key in the last column is that under which the value is found in
results and by `--explain`.
"""


def job_file_page() -> str:
    """The page: every table with its fields."""
    lines = [HEAD]
    for member in JobFile.members():
        lines += _table_section((member.key,), member)
    return "\n".join(lines).rstrip() + "\n"


def job_schema() -> dict[str, Any]:
    """JSON Schema of the job file as it is typed, for editors; the program itself says more."""
    schema = JobFile.model_json_schema()
    schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    schema["title"] = "Tilewater job file"
    schema["properties"]["format"] |= {"const": FORMAT}
    schema["required"] = ["format", *schema["required"]]
    return schema


def job_schema_text() -> str:
    """The JSON Schema as the text of its file."""
    return json.dumps(job_schema(), indent=2, ensure_ascii=False) + "\n"


def _table_section(path: tuple[str, ...], member: Member) -> Iterator[str]:
    if member.ask is not None:
        return
    shown = (*path, "NAME") if member.is_named else path
    fields = [m for m in member.model.members() if m.ask is not None]
    if fields:
        yield from (f"## [{'.'.join(shown)}]", "", member.model.about(), "")
        yield from ("| field | meaning | key |", "| --- | --- | --- |")
        yield from (_row(shown, m.key, m.ask) for m in fields if m.ask is not None)
        yield ""
    yield from _inner_sections(shown, member.model)


def _inner_sections(path: tuple[str, ...], table: type[Table]) -> Iterator[str]:
    for inner in table.members():
        yield from _table_section((*path, inner.key), inner)


def _row(path: tuple[str, ...], key: str, ask: Ask) -> str:
    star = "*" if ask.need == "must" and not ask.default else ""
    words = explanation(ask).replace("|", "\\|")
    return f"| `{key}`{star} | {words} | `{trace_key((*path, key), ask)}` |"

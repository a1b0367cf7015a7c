# SPDX-License-Identifier: Apache-2.0
"""The page of the command line, taken from the commands themselves."""

from collections.abc import Iterator
from typing import Any

from typer.main import get_command

from tilewater.__main__ import app

HEAD = """# Command line

`tilewater VERB JOB [options]`. Written by `python3 dev.py docs` from the help of the program.
"""


def command_line_page() -> str:
    """Return the page: every verb with its help, arguments and options."""
    program: Any = get_command(app)
    parts = [HEAD, *table(program)]
    for name, command in sorted(program.commands.items()):
        if not command.hidden:
            parts += ["", f"## {name}", "", (command.help or "").strip(), "", *table(command)]
    return "\n".join(parts).rstrip() + "\n"


def table(command: Any) -> Iterator[str]:
    """Yield the arguments and options of a command as a table."""
    shown = [each for each in command.params if not getattr(each, "hidden", False)]
    if not shown:
        return
    yield "| argument or option | meaning | default |"
    yield "| --- | --- | --- |"
    for each in shown:
        argument = each.param_type_name == "argument"
        written = [each.name.upper()] if argument else [*each.opts, *each.secondary_opts]
        names = ", ".join(f"`{one}`" for one in written)
        yield f"| {names} | {' '.join((each.help or '').split())} | {default_of(each)} |"


def default_of(parameter: Any) -> str:
    """Return what holds when nothing is said; empty where that goes without saying."""
    default = parameter.default
    plain = isinstance(default, str | int | float) and not isinstance(default, bool)
    return f"`{default}`" if plain and default != "" else ""

# SPDX-License-Identifier: Apache-2.0
"""A console that shows the parts of a page as the terminal does, for tests that read it."""

from typing import Any

from rich.console import Console as RichConsole

from tilewater.cli.page import SHOWN, shown


class Console(RichConsole):
    """A console of rich that can print parts of a page."""

    def print(self, *objects: Any, **options: Any) -> None:
        super().print(*(shown(o) if isinstance(o, SHOWN) else o for o in objects), **options)

# SPDX-License-Identifier: Apache-2.0
"""The verb that opens the desk on this machine."""

import os
import sys
from pathlib import Path
from typing import Annotated

import typer

DONE, AT_FAULT = 0, 2


def desk(
    folder: Annotated[
        Path, typer.Argument(help="A folder of job folders, or one job folder.")
    ] = Path(),
    port: Annotated[
        int, typer.Option(min=0, max=65535, help="Port on this machine; a free one if not said.")
    ] = 0,
    browser: Annotated[
        bool, typer.Option("--browser/--no-browser", help="Open the page, or only say its address.")
    ] = True,
) -> None:
    """Open the desk: a page on this machine to see, change and understand the jobs of a folder."""
    if not folder.is_dir():
        print(
            f"{folder} is no folder. Give a folder of jobs, or make a job with tilewater start.",
            file=sys.stderr,
        )
        raise typer.Exit(AT_FAULT)
    from tilewater.desk.serve import serve

    try:
        serve(folder, port=port, open_browser=browser, tell=_tell, ended=_leave)
    except OSError as error:
        print(f"The desk cannot listen on port {port}: {error.strerror}.", file=sys.stderr)
        print("Give another --port, or none.", file=sys.stderr)
        raise typer.Exit(AT_FAULT) from None


def _tell(address: str) -> None:
    """The address on stdout; what it is and how it ends on stderr."""
    print(address, flush=True)
    print(
        "The desk answers this machine only, by this address. Ctrl-C ends it.",
        file=sys.stderr,
        flush=True,
    )


def _leave() -> None:
    """End the program at once: nobody waits for what threads still compute."""
    sys.stdout.flush()
    sys.stderr.flush()
    os._exit(DONE)

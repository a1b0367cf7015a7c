# SPDX-License-Identifier: Apache-2.0
"""The program put together: the verbs of the command line, and the one that opens the desk.

The two doors do not know each other; here they meet.
"""

from tilewater.cli.main import app, run
from tilewater.desk.verb import desk

__all__ = ["app", "run"]

app.command()(desk)

if __name__ == "__main__":
    run()

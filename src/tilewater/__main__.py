# SPDX-License-Identifier: Apache-2.0
"""The program by another name: `python -m tilewater`."""

from tilewater.cli.main import run

if __name__ == "__main__":
    run()

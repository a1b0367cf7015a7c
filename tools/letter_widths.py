# SPDX-License-Identifier: Apache-2.0
"""Write the table of letter widths, and the checksums, of the typeface that Tilewater brings along.

Run it when a font file is replaced: `python3 -m tools.letter_widths`. The program itself reads the
table only, so that no font library is needed to place a label.
"""

from hashlib import sha256
from pathlib import Path

from tools.package import ROOT

FONTS = ROOT / "src" / "tilewater" / "documents" / "fonts"
WEIGHTS = {"light": "Light", "regular": "Regular", "semibold": "Semibold"}
LETTERS = (
    range(0x0020, 0x007F),  # Latin and its neighbours
    range(0x00A0, 0x0180),
    range(0x0391, 0x03CA),  # Greek
    range(0x2010, 0x2027),  # dashes, quotation marks, dots
    range(0x2030, 0x2034),
    range(0x2070, 0x208F),  # raised and lowered figures
    range(0x2150, 0x215F),  # fractions
    range(0x2190, 0x219A),  # arrows
    range(0x2200, 0x2270),  # mathematics
    range(0x25A0, 0x25D0),  # shapes
)
HEAD = """\
# Widths of letters in thousandths of the em.
# Source: the font files beside this table, Source Sans 3 version 3.052, SIL Open Font License 1.1.
# How read: written by tools/letter_widths.py; do not edit by hand.
"""


def letter_widths(file: Path) -> dict[int, int]:
    """Width of each letter of a font file, in thousandths of the em."""
    from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

    with TTFont(file) as font:
        names, widths = font.getBestCmap(), font["hmtx"]
        em = font["head"].unitsPerEm
        return {
            letter: round(1000 * widths[names[letter]][0] / em)
            for letters in LETTERS
            for letter in letters
            if letter in names
        }


def table() -> str:
    """The table as text."""
    columns = {
        weight: letter_widths(FONTS / f"SourceSans3-{name}.ttf") for weight, name in WEIGHTS.items()
    }
    shared = sorted(set.intersection(*(set(column) for column in columns.values())))
    rows = (
        ",".join([f"{letter:04X}", *(str(column[letter]) for column in columns.values())])
        for letter in shared
    )
    return HEAD + "\n".join((",".join(("letter", *columns)), *rows)) + "\n"


def checksums() -> str:
    """Checksums of the font files and their licence, one a line."""
    files = sorted((*FONTS.glob("*.ttf"), FONTS / "OFL.txt"))
    return "".join(f"{sha256(file.read_bytes()).hexdigest()}  {file.name}\n" for file in files)


def main() -> None:
    """Write both files."""
    (FONTS / "advances.csv").write_text(table(), encoding="utf-8", newline="\n")
    (FONTS / "SHA256SUMS").write_text(checksums(), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()

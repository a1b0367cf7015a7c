# SPDX-License-Identifier: Apache-2.0
"""Write the sketch of Corbel Farm and its point file anew.

python3 -m tools.sites.corbel_farm
"""

from tools.package import ROOT
from tools.sites.corbel_farm.drawing import draw_sketch
from tools.sites.corbel_farm.survey import point_file

PICTURE = ROOT / "docs" / "examples" / "corbel-farm.svg"
SHOTS = ROOT / "examples" / "corbel-farm" / "survey" / "shots.csv"
TITLE = "Corbel Farm: plan, long section and the reach up the main"


def main() -> None:
    """Write both files."""
    for file, text in ((PICTURE, draw_sketch().svg(TITLE)), (SHOTS, point_file())):
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
        print(f"Wrote {file.relative_to(ROOT)}.")


if __name__ == "__main__":
    main()

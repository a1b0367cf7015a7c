# SPDX-License-Identifier: Apache-2.0
"""Write the sketches and point files of the examples with a bed and a buffer anew.

python3 -m tools.sites
"""

from collections.abc import Iterator
from pathlib import Path

from tools.package import ROOT
from tools.sites import merridew_farm, sorrel_farm, verling_farm
from tools.sites.sheet import draw_sketch

FARMS = (merridew_farm, verling_farm, sorrel_farm)


def written() -> Iterator[tuple[Path, str]]:
    """Yield every file with its text."""
    for farm in FARMS:
        site = farm.SITE
        title = f"{site.title}: strip, plan, section and the reach up the main"
        yield ROOT / "docs" / "examples" / f"{site.name}.svg", draw_sketch(site).svg(title)
        yield ROOT / "examples" / site.name / "survey" / "shots.csv", farm.point_file()


def main() -> None:
    """Write them."""
    for file, text in written():
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
        print(f"Wrote {file.relative_to(ROOT)}.")


if __name__ == "__main__":
    main()

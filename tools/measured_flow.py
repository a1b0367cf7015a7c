# SPDX-License-Identifier: Apache-2.0
"""Writes the page on measured drain flow: what fixed capacities and one bed catch of it.

    python -m tools.measured_flow FOLDER

FOLDER holds `drain-flow/daily_drain_flow.csv`, which is not part of this repository. The page is
the same for the same data and program, so a test can tell a stale one.
"""

import csv
import os
import sys
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from tilewater.basis.trace import Given
from tilewater.chain.design import Design, design_bed
from tilewater.chain.inputs import JobInputs
from tilewater.hydrology.drain_flow import treated_share_exponential
from tilewater.hydrology.flow_record import (
    Series,
    capacity_for_share,
    flow_days_per_year,
    mean_annual_depth,
    share_within_capacity,
)
from tilewater.job.reading import read_job
from tools.package import ROOT

PAGE = ROOT / "docs" / "measured-flow.md"
DATA = Path("drain-flow") / "daily_drain_flow.csv"
RECORD = "inputs.record.daily_depth_m_s"

FREE_DRAINAGE = "FD"
LEAST_DAYS = 700
MM_PER_DAY = 0.001 / 86400
CAPACITIES = {
    0.95: "10 % of 3/8",
    1.27: "10 % of 1/2",
    1.43: "15 % of 3/8",
    1.90: "15 % of 1/2",
    2.54: "20 % of 1/2",
}
"""Capacities in mm a day, and the share of which drainage coefficient (in a day) each is."""
ALL_PLOTS = {
    0.95: (0.20, 0.32, 0.50),
    1.27: (0.26, 0.38, 0.60),
    1.43: (0.28, 0.40, 0.65),
    1.90: (0.36, 0.47, 0.75),
    2.54: (0.43, 0.55, 0.85),
}
"""Least, median and largest share of the 17 plots of all twelve sites, by capacity in mm a day."""
SIXTY_PERCENT = (1.26, 2.9, 4.8)
"""Least, median and largest capacity for 60 percent of the water of those plots. [mm/day]"""

HEAD = """\
# Measured drain flow

What a fixed capacity catches of drain flow that was measured, and what the bed of the bundled
example would catch if its field drained like the measured plots. Written by
`python -m tools.measured_flow`; a test compares this page with the data.

## The data

Daily drain flow of plots with free drainage, in mm over the drained area, days without a value left
out; plots with at least 700 recorded days. Repository gioscript/Missing-Drainage-Data, commit
25330b00, Apache-2.0 licence; five of its twelve sites. The data are not part of this repository.
Some Ohio records are flat-topped (a drowned weir or a full pipe), which overstates what a capacity
catches. {negative} days are below 0 as recorded and were kept.

| plot | days | mm a year | flow days a year | largest day, mm |
| --- | --- | --- | --- | --- |
"""

SHARES = """
## Share of the water within a fixed capacity

Sum of the lesser of flow and capacity over the sum of flow. Daily means hide the peaks within a
day, so a practice catches somewhat less than this. The last column is the capacity for 60 percent
of the water. Below the seven plots stand the least, the median and the largest of the 17 plots with
free drainage and as many days that the repository has at its twelve sites, computed once from all
of it; a test fails where a plot leaves them.

"""

BED = """
## The bed of the example on measured water

Corbel Farm as bundled, its stated year replaced by each record: {area} of field, a bed that takes
{flow:.4f} m3/s at its design age, {share:.0%} of the peak. The screening figure assumes that daily
flows are exponentially distributed with the same mean and number of flow days.

| plot | largest day, m3/s | share caught | screening figure | 60 percent of the water |
| --- | --- | --- | --- | --- |
"""

MEANING = """
## What it means

A bed that takes its 15 percent of the peak and one that treats 60 percent of the water are far
apart on measured flow: this one catches {low:.0%} to {high:.0%} of the water, and on {holders} of
{count} plots it reaches 60 percent. The screening figure lies above what the records show by
{least:.0f} to {most:.0f} percent points, because measured flow comes in sharper peaks than an
exponential distribution has. It is therefore printed as a screening figure and satisfies no
criterion; a record of flow takes its place.
"""


@dataclass(frozen=True)
class Plot:
    """A plot with free drainage and its recorded days. [m/s]"""

    site: str
    name: str
    daily_depth: Series

    @property
    def title(self) -> str:
        """Site and plot."""
        return f"{self.site} {self.name}"


def plots(folder: Path) -> tuple[Plot, ...]:
    """Plots with free drainage and enough recorded days, in the order of the file."""
    days: dict[tuple[str, str], list[float]] = defaultdict(list)
    with (folder / DATA).open(encoding="utf-8", newline="") as lines:
        for row in csv.DictReader(lines):
            if row["dwm"] == FREE_DRAINAGE and row["flow"] not in ("", "NA"):
                days[row["siteid"], row["plotid"]].append(float(row["flow"]))
    return tuple(
        Plot(site, name, np.array(flows) * MM_PER_DAY)
        for (site, name), flows in days.items()
        if len(flows) >= LEAST_DAYS
    )


def design_on(plot: Plot) -> Design:
    """Corbel Farm with the record of a plot as its drain flow."""
    job = read_job(ROOT / "examples" / "corbel-farm")
    record = Given(RECORD, plot.daily_depth, "m/s", f"Daily drain flow of {plot.title}")
    return design_bed(JobInputs(job.name, (*job.givens, record), job.overrules, job.assumptions))


def screening_share(design: Design) -> float:
    """Share that the screening figure gives for the mean flow of the same record."""
    return treated_share_exponential(
        float(design.trace.value("capacity.criterion.flow_m3_s")),
        float(design.trace.value("drain_flow.mean_flow_m3_s")),
    )


def page(folder: Path) -> str:
    """Return the page for the data in a folder."""
    found = plots(folder)
    designs = [design_on(plot) for plot in found]
    trace = designs[0].trace
    caught = [float(d.trace.value("capacity.criterion.share_of_annual_flow")) for d in designs]
    above = [100 * (screening_share(d) - c) for d, c in zip(designs, caught, strict=True)]
    bed = BED.format(
        area=f"{float(trace.value('inputs.drainage.area_m2')) / 1e4:.1f} ha",
        flow=float(trace.value("capacity.criterion.flow_m3_s")),
        share=float(trace.value("capacity.criterion.share_of_peak")),
    )
    meaning = MEANING.format(
        low=min(caught),
        high=max(caught),
        holders=sum(share >= 0.60 for share in caught),
        count=len(found),
        least=min(above),
        most=max(above),
    )
    head = HEAD.format(negative=sum(int((plot.daily_depth < 0).sum()) for plot in found))
    lines = [head.rstrip(), *map(_plot_row, found), SHARES.rstrip(), "", *_share_rows(found)]
    lines += [bed.rstrip(), *map(_bed_row, found, designs, caught), meaning.rstrip()]
    return "\n".join(lines) + "\n"


def _plot_row(plot: Plot) -> str:
    flows = plot.daily_depth
    return (
        f"| {plot.title} | {flows.size:,} | {1000 * mean_annual_depth(flows):.0f} "
        f"| {flow_days_per_year(flows):.0f} | {flows.max() / MM_PER_DAY:.1f} |"
    )


def _share_rows(found: tuple[Plot, ...]) -> Iterator[str]:
    yield (
        "| plot | "
        + " | ".join(f"{capacity} mm/day, {words} in" for capacity, words in CAPACITIES.items())
        + " | for 60 %, mm/day |"
    )
    yield "| --- |" + " --- |" * (len(CAPACITIES) + 1)
    for plot in found:
        shares = [
            share_within_capacity(plot.daily_depth, 1.0, capacity * MM_PER_DAY)
            for capacity in CAPACITIES
        ]
        sixty = capacity_for_share(plot.daily_depth, 1.0, 0.60) / MM_PER_DAY
        cells = " | ".join(f"{share:.2f}" for share in shares)
        yield f"| {plot.title} | {cells} | {sixty:.1f} |"
    for place, word in enumerate(("least", "median", "largest")):
        cells = " | ".join(f"{ALL_PLOTS[capacity][place]:.2f}" for capacity in CAPACITIES)
        yield f"| {word} of 17 plots | {cells} | {SIXTY_PERCENT[place]:.1f} |"


def _bed_row(plot: Plot, design: Design, caught: float) -> str:
    peak = float(design.trace.value("drain_flow.candidates_m3_s.measured"))
    status = design.trace.value("criteria.605-share-of-annual-flow.status")
    return (
        f"| {plot.title} | {peak:.3f} | {caught:.2f} | {screening_share(design):.2f} | {status} |"
    )


def main(words: list[str]) -> None:
    """Write the page from the data in the folder that is named, or that the environment names."""
    folder = words[0] if words else os.environ.get("TILEWATER_FIELD_DATA", "")
    if not folder:
        raise SystemExit("Name the folder of the field data, or set TILEWATER_FIELD_DATA to it.")
    PAGE.write_text(page(Path(folder)), encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])

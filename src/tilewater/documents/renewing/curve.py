# SPDX-License-Identifier: Apache-2.0
"""Share of the peak that a bed takes by the age of its chips, with the band of the readings."""

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.trace import Trace
from tilewater.chain.renew import CURVE, LIFE, SEEN
from tilewater.chain.renew_bed import media_like
from tilewater.chain.renew_carbon import AGE
from tilewater.documents.scales import round_step
from tilewater.documents.sheet import (
    BINDS,
    CHIPS,
    CHIPS_FILL,
    INK,
    MUTED,
    PAPER,
    Frame,
    Point,
    Sheet,
)
from tilewater.practices.bed.settings import DESIGN
from tilewater.practices.bed.system import bed_flow_at_diversion
from tilewater.practices.bed.system_steps import path_key

Floats = NDArray[np.float64]

WIDTH, HEIGHT = 620.0, 280.0
LEFT, RIGHT, TOP, BASE = 52.0, 600.0, 22.0, 236.0
SMALL, DOT, LAST = 9.5, 4.0, 25.0
KNOTS = 40


def draw_years(trace: Trace) -> str:
    """Draw the years of a bed as SVG.

    Parameters
    ----------
    trace : Trace
        Of the design with the steps of its renewal.

    Returns
    -------
    str
        The file; numbers carry their key.
    """
    ages = np.linspace(0.0, LAST, 51)
    seen, curve = trace.value(SEEN), trace.value(CURVE)
    share = _Shares(trace)
    draws = np.stack([seen.at(float(age)) for age in ages])
    low, middle, high = (share.of(np.quantile(draws, q, axis=1)) for q in (0.1, 0.5, 0.9))
    alone = share.of(np.array([np.median(curve.at(float(age))) for age in ages]))
    top = 1.1 * float(max(high.max(), alone.max()))
    across, up = (RIGHT - LEFT) / LAST, (BASE - TOP) / top
    sheet = Sheet(WIDTH)
    sheet.open_panel("years", Frame(0.0, 0.0, LEFT, BASE, across, up))

    def line(values: Floats) -> list[Point]:
        return [
            (LEFT + float(a) * across, BASE - float(v) * up)
            for a, v in zip(ages, values, strict=True)
        ]

    sheet.line([*line(high), *reversed(line(low))], stroke="none", fill=CHIPS_FILL, width=0.0)
    _draw_axes(sheet, top, across, up)
    sheet.line(line(alone), stroke=MUTED, width=1.2, dash="6 4", name="by curve")
    sheet.line(line(middle), stroke=CHIPS, width=2.0, name="with readings")
    limit = float(trace.value("sizing.share_limit"))
    y = BASE - limit * up
    sheet.line(((LEFT, y), (RIGHT, y)), stroke=BINDS, width=1.2)
    asked = ((f"asked {100 * limit:.0f} %", "sizing.share_limit"),)
    sheet.text((RIGHT - 4, y - 4), asked, anchor="end", size=SMALL, colour=BINDS, clear=PAPER)
    for name in trace.names("renew.observed"):
        here = f"renew.observed.{name}"
        if trace.known(f"{here}.conductivity_m_s"):
            at = float(trace.value(f"{here}.age_years"))
            value = share.of(np.array([trace.value(f"{here}.conductivity_m_s")]))[0]
            x, y = LEFT + at * across, BASE - float(value) * up
            diamond = ((x - DOT, y), (x, y - DOT), (x + DOT, y), (x, y + DOT))
            sheet.line(diamond, width=1.2, fill=PAPER, name="reading")
    _draw_marks(sheet, trace, across)
    sheet.close_panel()
    return sheet.svg("Share of the peak by age", "Capacity of the bed by the age of chips", HEIGHT)


class _Shares:
    """Share of the peak by conductivity, computed at knots and read between them."""

    def __init__(self, trace: Trace) -> None:
        ward = float(trace.value("inputs.media.ward_coefficient"))
        self.knots = np.geomspace(1e-3, 0.6, KNOTS)
        level, free = trace.value(f"boards.inlet-{DESIGN}.crest_m"), trace.value("system.free_m")
        path, shape = trace.value(path_key()), trace.value("bed.shape")
        peak = float(trace.value("drain_flow.peak_for_share_m3_s"))
        self.shares = [
            bed_flow_at_diversion(level, free, path, shape, media_like(float(k), ward)) / peak
            for k in self.knots
        ]

    def of(self, conductivity: Floats) -> Floats:
        return np.asarray(np.interp(np.log(conductivity), np.log(self.knots), self.shares))


def _draw_axes(sheet: Sheet, top: float, across: float, up: float) -> None:
    step, value = round_step(top, 4.0), 0.0
    while value <= top:
        y = BASE - value * up
        sheet.line(((LEFT, y), (RIGHT, y)), stroke=MUTED, width=0.4, opacity=0.5)
        label = f"{100 * value:.0f} %"
        sheet.text((LEFT - 6, y + 3.5), label, anchor="end", size=SMALL, colour=MUTED)
        value = round(value + step, 9)
    for year in range(0, int(LAST) + 1, 5):
        x = LEFT + year * across
        sheet.line(((x, BASE), (x, BASE + 4)), width=0.8)
        sheet.text((x, BASE + 15), f"{year}", anchor="middle", size=SMALL, colour=MUTED)
    sheet.line(((LEFT, BASE), (RIGHT, BASE)), width=1.0)
    sheet.text((RIGHT, BASE + 29), "age of the chips, years", anchor="end", size=SMALL)
    sheet.text((LEFT - 6, TOP - 9), "of peak", anchor="middle", size=SMALL, colour=MUTED)


def _draw_marks(sheet: Sheet, trace: Trace, across: float) -> None:
    for key, words, place in ((AGE, "that day", TOP + 6), (f"{LIFE}.p50_years", "due", TOP + 19)):
        if not trace.known(key) or float(trace.value(key)) > LAST:
            continue
        x = LEFT + float(trace.value(key)) * across
        sheet.line(((x, TOP), (x, BASE)), stroke=INK, width=0.9, dash="2 3")
        text = f"{words}, {float(trace.value(key)):.1f} years"
        sheet.text((x + 4, place), ((text, key),), size=SMALL, clear=PAPER)

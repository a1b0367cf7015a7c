# SPDX-License-Identifier: Apache-2.0
"""What a part of a living section is drawn with: its panel, its canvas, its labels, its words."""

from dataclasses import dataclass, field
from typing import NamedTuple

from tilewater.basis.trace import Trace
from tilewater.chain.scene_records import Level
from tilewater.documents.living.canvas import Canvas
from tilewater.documents.living.labels import Labels, Run
from tilewater.documents.scales import Figures
from tilewater.documents.words import Words, step_value


class Shown(NamedTuple):
    """A line of the legend: how it is drawn, what it is, and the key of its number."""

    look: str
    words: str
    value: str = ""
    key: str = ""


@dataclass
class Stage:
    """One drawing in the making.

    Attributes
    ----------
    trace : Trace
    words : Words
    figures : Figures
    canvas : Canvas
    labels : Labels
    is_narrow : bool
        Whether it stands on a page as wide as a phone.
    setting : str
        Boards that are shown: "design" or a season.
    binds : tuple of str
        What binds in short words, its key, and where; empty where nothing could be judged.
    legend : list of Shown
    """

    trace: Trace
    words: Words
    figures: Figures
    canvas: Canvas
    labels: Labels
    is_narrow: bool
    setting: str
    binds: "Binds"
    legend: list[Shown] = field(default_factory=list)

    def run(self, key: str, kind: str, look: str = "", *, unit: bool = True) -> Run:
        """A number of the trace with its key; what is not known says so."""
        return Run(self.words.say(step_value(self.trace, key), kind, unit=unit), key, look)

    def level(self, level: Level, look: str = "") -> Run:
        """An elevation with its key."""
        return Run(self.figures.elevation(level.elevation), level.key, look)

    def show(self, look: str, words: str, value: str = "", key: str = "") -> None:
        """Add a line to the legend, once."""
        line = Shown(look, words, value, key)
        if line not in self.legend:
            self.legend.append(line)


class Binds(NamedTuple):
    """What binds: key of the requirement, where, and how it stands to its limit."""

    key: str = ""
    where: str = ""
    says: str = ""
    value_key: str = ""

    def is_at(self, *places: str) -> bool:
        """Whether it binds at one of these places."""
        return bool(self.where) and self.where in places

# SPDX-License-Identifier: Apache-2.0
"""Reading a drawing back: shapes in metres, numbers with their keys, words."""

import re
from dataclasses import dataclass
from xml.etree import ElementTree

NAMESPACE = "{http://www.w3.org/2000/svg}"
Points = list[tuple[float, float]]


@dataclass(frozen=True)
class Panel:
    """A panel of a drawing and how its metres fall on the sheet."""

    element: ElementTree.Element

    def number(self, name: str) -> float:
        """One of its stated numbers: x0, z0, left, base, across, up."""
        return float(self.element.attrib[f"data-{name}"])

    def shapes(self, name: str) -> list[Points]:
        """Shapes of a name, in metres."""
        return [
            self.metres(pixels_of(path))
            for path in self.element.iter(f"{NAMESPACE}path")
            if path.get("data-part") == name
        ]

    def shape(self, name: str) -> Points:
        """The one shape of a name, in metres."""
        (only,) = self.shapes(name)
        return only

    def metres(self, pixels: Points) -> Points:
        """Pixels as metres."""
        return [
            (
                self.number("x0") + (x - self.number("left")) / self.number("across"),
                self.number("z0") + (self.number("base") - y) / self.number("up"),
            )
            for x, y in pixels
        ]


def pixels_of(path: ElementTree.Element) -> Points:
    """Corners of a path."""
    numbers = [float(n) for n in re.findall(r"-?\d+\.\d+", path.attrib["d"])]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


class Drawing:
    """A drawing as read."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.root = ElementTree.fromstring(text)

    def panel(self, name: str) -> Panel:
        """A panel by its name."""
        return Panel(self.root.find(f".//{NAMESPACE}g[@data-panel='{name}']"))  # type: ignore[arg-type]

    def panels(self) -> list[str]:
        """Names of the panels."""
        return [
            group.attrib["data-panel"]
            for group in self.root.iter(f"{NAMESPACE}g")
            if "data-panel" in group.attrib
        ]

    def parts(self) -> set[str]:
        """Names of all shapes that have one."""
        return {each.attrib["data-part"] for each in self.root.iter() if "data-part" in each.attrib}

    def keyed(self) -> list[tuple[str, str]]:
        """Every printed number that has a key: (key, text)."""
        return [
            (span.attrib["data-key"], span.text or "")
            for span in self.root.iter(f"{NAMESPACE}tspan")
            if "data-key" in span.attrib
        ]

    def words(self) -> list[str]:
        """Every text, whole."""
        return ["".join(text.itertext()) for text in self.root.iter(f"{NAMESPACE}text")]

    def words_without_keys(self) -> list[str]:
        """Every text less its numbers that have a key."""
        found = []
        for text in self.root.iter(f"{NAMESPACE}text"):
            spans = [span.tail or "" for span in text]
            found.append(" ".join([text.text or "", *spans]))
        return found

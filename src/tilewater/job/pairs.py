# SPDX-License-Identifier: Apache-2.0
"""Values of the job file that are lists of pairs: two quantities that belong together.

Typed as `[["0 cfs", "1179.4 ft"], ["0.9 cfs", "1181.2 ft"]]` and held as pairs of numbers in SI.
"""

from dataclasses import dataclass, field
from typing import Any

from tilewater.basis.errors import UnitMismatch
from tilewater.job.fields import UNKNOWN, Ask, Quantity, Setting, Wrong, as_typed

Pair = tuple[float, float]


@dataclass(frozen=True)
class Pairs(Ask):
    """A list of pairs of quantities.

    Attributes
    ----------
    first, second : Quantity
        What the members of a pair are.
    least : int
        How many pairs there are at least.
    may_repeat : bool
        Whether the first member may stay the same from pair to pair; it never goes back.
    may_fall : bool
        Whether the second member may fall from pair to pair.
    may_go_back : bool
        Whether the pairs are places along a line, in any order of their members.
    """

    first: Quantity = field(default_factory=lambda: Quantity(""))
    second: Quantity = field(default_factory=lambda: Quantity(""))
    least: int = 2
    may_repeat: bool = False
    may_fall: bool = True
    may_go_back: bool = False

    @property
    def sample(self) -> str:
        pairs = (pair.split(":") for pair in self.example.split(","))
        return "[" + ", ".join(f'["{a.strip()}", "{b.strip()}"]' for a, b in pairs) + "]"

    def read(self, raw: Any, setting: Setting) -> tuple[Pair, ...]:
        if not isinstance(raw, list):
            raise Wrong(f"{as_typed(raw)} is not a list of pairs. Write it like {self.sample}.")
        pairs = tuple(self._pair(number, each, setting) for number, each in enumerate(raw, start=1))
        if len(pairs) < self.least:
            raise Wrong(
                f"it has {len(pairs)} {'pair' if len(pairs) == 1 else 'pairs'}. "
                f"{self.least} at least are needed, like {self.sample}."
            )
        for i in range(1, 0 if self.may_go_back else len(pairs)):
            self._check_order(i, pairs, raw)
        return pairs

    def _pair(self, number: int, raw: Any, setting: Setting) -> Pair:
        if not isinstance(raw, list) or len(raw) != 2:
            raise Wrong(
                f"pair {number} is {as_typed(raw)}. A pair is {self._members()}. "
                f"Write the list like {self.sample}."
            )
        try:
            return self.first.read(raw[0], setting), self.second.read(raw[1], setting)
        except (Wrong, UnitMismatch) as wrong:
            raise Wrong(f"pair {number}: {wrong}") from None

    def _check_order(self, i: int, pairs: tuple[Pair, ...], raw: list[Any]) -> None:
        before, here = pairs[i - 1], pairs[i]
        if here[0] < before[0] or (here[0] == before[0] and not self.may_repeat):
            raise Wrong(
                f"pair {i + 1} has {raw[i][0]} after {raw[i - 1][0]}. "
                f"{self.first.title} rises from pair to pair. List them in that order."
            )
        if here[1] < before[1] and not self.may_fall:
            raise Wrong(
                f"pair {i + 1} falls to {raw[i][1]} from {raw[i - 1][1]}. "
                f"{self.second.title} never falls while {self.first.title.lower()} rises. "
                "Check the two readings."
            )

    def _members(self) -> str:
        return f"{self.first.title.lower()} and {self.second.title.lower()}"

    def json_type(self) -> dict[str, Any]:
        one = {"type": "array", "items": {"type": "string"}, "minItems": 2, "maxItems": 2}
        many = {"type": "array", "items": one, "minItems": self.least}
        return {"anyOf": [many, {"const": UNKNOWN}]}

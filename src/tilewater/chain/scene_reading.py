# SPDX-License-Identifier: Apache-2.0
"""Reading a trace for a scene: a value or None, and a list of what is not known."""

from collections.abc import Iterable
from math import isfinite

from tilewater.basis.trace import Trace
from tilewater.basis.unknown import Unknown
from tilewater.chain.scene_records import Level, Missing


class SceneReading:
    """Reads values out of a trace and keeps what a drawing has to leave out."""

    def __init__(self, trace: Trace) -> None:
        self.trace = trace
        self._missing: dict[str, list[str]] = {}

    @property
    def missing(self) -> tuple[Missing, ...]:
        """What is left out and what is not known; what has the same reason stands together."""
        together: dict[tuple[str, ...], list[str]] = {}
        for what, why in self._missing.items():
            together.setdefault(tuple(why), []).append(what)
        return tuple(Missing(", ".join(what), why) for why, what in together.items())

    def miss(self, what: str, *why: str) -> None:
        """Leave something out of the drawing."""
        named = self._missing.setdefault(what, [])
        named.extend(each for each in dict.fromkeys(why) if each not in named)

    def why(self, key: str) -> tuple[str, ...]:
        """What is not known behind a key, in the words of the inputs."""
        steps = self.trace.steps
        if key not in steps:
            return (f"{key.rpartition('.')[2].removesuffix('_m').replace('_', ' ')} is not given",)
        value = steps[key].value
        if not isinstance(value, Unknown):
            return (f"{steps[key].title} has no end",)
        return tuple(self._words(cause) for cause in value.causes or (key,))

    def _words(self, cause: str) -> str:
        step = self.trace.steps.get(cause)
        if step is None:
            return cause
        if isinstance(step.value, Unknown) and not cause.startswith("inputs."):
            return step.value.why
        return step.title[:1].lower() + step.title[1:]

    def number(self, key: str, what: str = "") -> float | None:
        """A number; where it is not known, `what` is left out."""
        if self.trace.known(key):
            value = float(self.trace.value(key))
            if isfinite(value):
                return value
        if what:
            self.miss(what, *self.why(key))
        return None

    def numbers(self, keys: Iterable[str], what: str) -> tuple[float, ...] | None:
        """Several numbers, or None and all that is not known of them."""
        found = [self.number(key, what) for key in keys]
        known = tuple(value for value in found if value is not None)
        return known if len(known) == len(found) else None

    def level(self, key: str, what: str = "") -> Level | None:
        """An elevation with its key."""
        value = self.number(key, what)
        return None if value is None else Level(value, key)

    def taken_by(self, key: str, parameter: str) -> str:
        """Key of what a step took for one of its parameters."""
        return dict(self.trace.steps[key].inputs)[parameter]

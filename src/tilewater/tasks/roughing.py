# SPDX-License-Identifier: Apache-2.0
"""The ten-minute answer from what was said on the telephone, and a job folder begun from it."""

import re
from collections.abc import Callable
from pathlib import Path

from tilewater.basis.errors import TilewaterError, UnitMismatch
from tilewater.basis.units import parse_quantity
from tilewater.basis.unknown import Unknown
from tilewater.chain.plain import Record
from tilewater.chain.rough import BAND, BANDS, Rough, RoughAsk, rough_answer
from tilewater.job.reading import Job
from tilewater.tasks.starting import start

BOXES = ("area", "main", "grade", "levels", "ditch", "strip", "nitrate")
"""What can be said; grade and levels say the same thing."""
NUMBER_AT_END = re.compile(r"[\d.)]$")
NOT_SAID = ("", "unknown")


class NotUnderstood(UnitMismatch):
    """One of the six numbers that cannot be read.

    Attributes
    ----------
    box : str
        One of `BOXES`.
    words : str
        What is wrong, for a reader who sees the number that is meant.
    """

    def __init__(self, box: str, words: str, named: str = "") -> None:
        super().__init__(named or f"--{box}: {words}")
        self.box = box
        self.words = words


def rough_of(said: dict[str, str]) -> Rough:
    """The rough answer to six numbers as they were said.

    Parameters
    ----------
    said : dict of str to str
        `area`, `main`, `grade` or `levels`, `ditch`, `strip` and `nitrate`, each with its unit;
        "unknown" or nothing for what was not said.

    Returns
    -------
    Rough

    Raises
    ------
    NotUnderstood
        With the number that cannot be read, what is allowed and an example.
    """
    return rough_answer(ask_of(said))


def ask_of(said: dict[str, str]) -> RoughAsk:
    """The six numbers in SI."""
    for name, example in (("area", "62 acre"), ("main", "10 in")):
        if said.get(name, "").strip() in NOT_SAID:
            least = "there is no answer at all. Give it as told, a guess is enough"
            raise NotUnderstood(
                name,
                f"Without it {least}, such as {example}.",
                f'Without --{name} {least}: --{name} "{example}".',
            )
    length, width = _strip(said)
    return RoughAsk(
        area=_positive(said, "area", "area"),
        main_diameter=_positive(said, "main", "size"),
        slope=_slope(said),
        ditch_below=_value(said, "ditch", _ditch),
        strip_length=length,
        strip_width=width,
        nitrate_mg_per_l=_value(said, "nitrate", lambda text: _not_negative(text, "concentration")),
    )


def _value(said: dict[str, str], name: str, read: Callable[[str], float]) -> float | Unknown:
    text = said.get(name, "").strip()
    if text in NOT_SAID:
        return Unknown("it was not said on the telephone", "ask, or see on the first visit")
    try:
        return read(text)
    except TilewaterError as error:
        raise NotUnderstood(name, str(error)) from None


def _positive(said: dict[str, str], name: str, kind: str) -> float:
    value = _value(said, name, lambda text: parse_quantity(text, kind))
    if isinstance(value, Unknown) or not value > 0.0:
        most = f"is {said[name]}. It is more than nothing. Give it as told."
        raise NotUnderstood(name, f"It {most}", f"--{name} {most}")
    return value


def _not_negative(text: str, kind: str) -> float:
    value = parse_quantity(text, kind)
    if value < 0.0:
        raise UnitMismatch(f"'{text}' is below zero. It is nothing or more. Check the sign.")
    return value


def _ditch(text: str) -> float:
    """Ditch water below the end of the main: `1.3 ft`, or `0.5 ft over` where it is drowned."""
    plain = re.sub(r"\s*\b(below|under)\b\s*$", "", text)
    over = re.sub(r"\s*\b(above|over)\b\s*$", "", plain)
    below = parse_quantity(over, "length")
    return -below if over != plain else below


def _slope(said: dict[str, str]) -> float | Unknown:
    grade, levels = said.get("grade", ""), said.get("levels", "")
    if grade.strip() not in NOT_SAID and levels.strip() not in NOT_SAID:
        same = "say the same thing. Give one of them."
        raise NotUnderstood("grade", f"Grade and levels {same}", f"--grade and --levels {same}")
    if levels.strip() in NOT_SAID:
        slope = _value(said, "grade", lambda text: parse_quantity(text, "slope"))
    else:
        slope = _value(said, "levels", _slope_of_levels)
    if isinstance(slope, float) and not slope > 0.0:
        words = (
            "The main has no fall. It falls towards the ditch. Check the two elevations, or leave "
            "the grade unknown."
        )
        is_grade = levels.strip() in NOT_SAID
        raise NotUnderstood("grade" if is_grade else "levels", words, words)
    return slope


def _slope_of_levels(text: str) -> float:
    parts = [part.strip() for part in text.split(",")]
    if len(parts) != 3:
        raise UnitMismatch(
            f"'{text}' is not three lengths. Write the lower elevation, the upper one and the way "
            'between them: "1180.95 ft, 1181.20 ft, 140 ft".'
        )
    low, high, way = (
        parse_quantity(part, kind)
        for part, kind in zip(parts, ("elevation", "elevation", "length"), strict=True)
    )
    if not way > 0.0:
        raise UnitMismatch(f"The way is {parts[2]}. It is longer than nothing. Give its length.")
    return (high - low) / way


def _strip(said: dict[str, str]) -> tuple[float | Unknown, float | Unknown]:
    text = said.get("strip", "").strip()
    if text in NOT_SAID:
        unknown = Unknown("the ground was not said", "pace the strip along the ditch")
        return unknown, unknown
    sides = [side.strip() for side in re.split(r"\s*(?:\bby\b|[x×])\s*", text) if side.strip()]
    if len(sides) != 2:
        raise NotUnderstood(
            "strip",
            f"'{text}' is not two lengths. Write it along the ditch, then away from it: "
            '"190 x 62 ft".',
        )
    if NUMBER_AT_END.search(sides[0]):
        sides[0] += " " + re.sub(r"^[\d.,\s]+", "", sides[1])
    found = []
    for side in sides:
        value = _value({"strip": side}, "strip", lambda each: parse_quantity(each, "length"))
        if isinstance(value, Unknown) or not value > 0.0:
            raise NotUnderstood("strip", f"'{side}' is no ground. Give lengths above zero.")
        found.append(value)
    return found[0], found[1]


def rough_record(rough: Rough) -> Record:
    """The rough answer for other programs, SI with the unit in each name."""
    trace = rough.trace
    record: Record = {"kind": "rough answer, no design"}
    for key in BANDS:
        group, _, name = key.rpartition(".")
        inside = record.setdefault(group, {}) if group else record
        values = {p: trace.value(f"rough.{key}.{p}") for p, _ in BAND}
        inside[name] = {
            p: None if isinstance(value, Unknown) else value for p, value in values.items()
        }
    for key in ("bed.fits_strip", "buffer.meets_share"):
        group, _, name = key.partition(".")
        value = trace.value(f"rough.{key}")
        record[group][name] = None if isinstance(value, Unknown) else value
    record["stops"] = [
        {"name": stop.name, "weight": stop.weight, "text": _plain(rough, stop.text, stop.keys)}
        for stop in rough.stops
    ]
    record["shots"] = [
        {"where": _plain(rough, shot.where, shot.keys), "why": shot.why} for shot in rough.shots
    ]
    return record


def _plain(rough: Rough, text: str, keys: tuple[str, ...]) -> str:
    return text.format(*(f"{float(rough.trace.value(key)):.0f} m" for key in keys))


def start_from_rough(said: dict[str, str], folder: Path | str, *, title: str = "") -> Job:
    """Begin a job folder with what was said; the rest of it is "unknown".

    Parameters
    ----------
    said : dict of str to str
        As for `rough_of`.
    folder : Path or str
        The new folder.
    title : str
        Title of the job; that of its folder where none is given.

    Returns
    -------
    Job
        The new job as read.

    Raises
    ------
    NotUnderstood
        With the number that cannot be read. Nothing is written.
    BadInputFile
        If the folder holds a job already. Nothing is written.
    """
    ask = ask_of(said)
    answers = {"drainage.area": said["area"], "main.diameter": said["main"]}
    if said.get("grade", "").strip() not in NOT_SAID:
        answers["main.slope"] = said["grade"]
    if said.get("levels", "").strip() not in NOT_SAID:
        low, high, _ = (part.strip() for part in said["levels"].split(","))
        answers |= {"main.invert_outlet": low, "main.invert_diversion": high}
        answers["main.slope"] = f"{100 * float(ask.slope):.4g} %"  # type: ignore[arg-type]
    if said.get("nitrate", "").strip() not in NOT_SAID:
        answers["nitrate.mean"] = said["nitrate"]
    if title:
        answers["job.title"] = title
    return start(folder, answers=answers)

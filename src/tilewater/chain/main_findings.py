# SPDX-License-Identifier: Apache-2.0
"""What the engineer must know of the segments of a main: their condition, grade and limits."""

from collections.abc import Iterator

from tilewater.basis.findings import Finding, Severity
from tilewater.basis.requirement import Requirement
from tilewater.basis.told import cfs, feet, feet_a_second, inches
from tilewater.basis.trace import Trace, argument_name
from tilewater.basis.unknown import Unknown
from tilewater.chain.segments import STATED_ABOVE, STATED_BELOW
from tilewater.hydraulics.pipes import pipe_velocity_least, pipe_velocity_limit

FOOT = 0.3048
TOLD_HEIGHT = 0.1 * FOOT
"""Difference of two inverts at one place that is told. [m]"""
SAME_SIZE = 0.01
TOLD_SHARE = 0.02
"""Share by which a limit below the diversion must be less to be told."""
SMALL = 0.8
"""Share of the flow by the drainage coefficient under which a main is told to be small."""
ASSUMED = {"from a map": "from a map", "remembered": "from memory"}
WORN = {
    ("joints", "open"): "Water stands behind the boards only as far as the joints hold it, "
    "and soil washes in. Put solid pipe where the pool is deep.",
    ("joints", "offset"): "It carries less than computed. Look at the worst with a camera, "
    "or give a greater n.",
    ("roots", "some"): "It carries less than computed, and they grow. Clear them, and keep "
    "trees off the line.",
    ("roots", "blocking"): "What is computed for it does not hold until they are cut out or "
    "the stretch is replaced.",
}


def judge_exposed(trace: Trace) -> None:
    """Hold the elevations of the main to two inverts that were dug up and shot."""
    names = trace.names("inputs.segment")
    if not names:
        return
    trace.compute(
        "main.exposed_inverts",
        exposed_inverts,
        unit="-",
        title="Inverts of the main that were dug up and shot",
        **{_word(key): key for key in _dug(trace, names)},
    )
    limit = trace.constant(
        "main.exposed_inverts_limit",
        2.0,
        "Limit: inverts of the main dug up and shot",
        unit="-",
        source="practice",
    )
    trace.require(
        Requirement(
            key="main.exposed",
            title="Inverts of the main dug up, before its elevations count as design",
            value="main.exposed_inverts",
            operator=">=",
            limit=limit,
            unit="-",
            scale=1.0,
            where="main",
            exact=True,
        )
    )


def tell_of_main(trace: Trace) -> None:
    """Add the findings on the segments and on what limits them."""
    for name in trace.names("inputs.segment"):
        trace.findings.extend(_condition(trace, name))
        trace.findings.extend(_grade(trace, name))
    if trace.names("main.segments"):
        trace.findings.extend(_limits(trace))
        trace.findings.extend(_stated(trace))
    trace.findings.extend(_undersized(trace))


def _dug(trace: Trace, names: tuple[str, ...]) -> tuple[str, ...]:
    """Keys of the stations of the ends that were dug up, each place once."""
    found: dict[float, str] = {}
    for name in names:
        given = f"inputs.segment.{name}"
        for word, end in (("found", "from_m"), ("found_up", "to_m")):
            key = f"{given}.{word}"
            how = trace.value(key if key in trace else f"{given}.found")
            station = f"{given}.{end}"
            if how == "dug" and trace.known(station):
                found.setdefault(round(float(trace.value(station)) / FOOT), station)
    return tuple(found.values())


def exposed_inverts(**stations: float) -> float | Unknown:
    """Number of inverts of the main that were dug up and shot.

    Parameters
    ----------
    **stations : float
        Stations of the places, each once. [m]

    Returns
    -------
    float or Unknown
        Their number; with fewer than two the elevations of the main are not known well enough. [-]

    Notes
    -----
    count of the places    (practice)

    References
    ----------
    practice, two exposed inverts before elevations count as design
    """
    count = len(stations)
    if count >= 2:
        return float(count)
    said = "only one invert of the main was" if count else "no invert of the main was"
    how = "expose the main at two places at least 100 ft apart, and shoot its invert"
    return Unknown(f"{said} dug up and shot", how)


def _finding(
    code: str,
    severity: Severity,
    name: str,
    message: str,
    value: float | None = None,
    limit: float | None = None,
) -> Finding:
    source = "nrcs606" if code == "segment-velocity-high" else "practice"
    return Finding(
        code, severity, f"Segment {name}", message, value=value, limit=limit, source=source
    )


def _condition(trace: Trace, name: str) -> Iterator[Finding]:
    given = f"inputs.segment.{name}"
    for field in ("joints", "roots"):
        word = str(trace.value(f"{given}.{field}")) if f"{given}.{field}" in trace else ""
        if (field, word) in WORN:
            what = f"{word} joints" if field == "joints" else f"{word} roots"
            said = what[0].upper() + what[1:]
            yield _finding(
                f"segment-{field}-{word}", "caution", name, f"{said}. {WORN[(field, word)]}"
            )
    if not any(f"{given}.{field}" in trace for field in ("joints", "roots", "camera")):
        yield _finding(
            "segment-condition-not-stated",
            "note",
            name,
            "Nothing is said of its joints and roots. Its capacity is that of a clean pipe.",
        )
    words = [f"{given}.found", f"{given}.found_up"]
    how = dict.fromkeys(str(trace.value(key)) for key in words if trace.known(key))
    weak = [ASSUMED[word] for word in how if word in ASSUMED]
    if weak:
        yield _finding(
            "segment-assumed",
            "caution",
            name,
            f"It is known only {' and '.join(weak)}, so its capacity is an assumption. "
            "Dig it up where the design leans on it.",
        )


def _grade(trace: Trace, name: str) -> Iterator[Finding]:
    here = f"main.segments.{name}"
    keys = tuple(f"{here}.{key}" for key in ("slope", "velocity_full_m_s", "slope_least"))
    if not trace.known(*keys):
        return
    slope, velocity, least = (float(trace.value(key)) for key in keys)
    if slope <= 0:
        yield _finding(
            "segment-falls-back",
            "caution",
            name,
            f"It falls the wrong way, {-slope:.2%}. It carries only under pressure, holds water "
            "and silts up; it is not counted for what the main carries full. Shoot it again.",
            value=slope,
            limit=0.0,
        )
        return
    said = f"Full it runs at {feet_a_second(velocity)}"
    slow, fines = pipe_velocity_least(fines=False), pipe_velocity_least(fines=True)
    if velocity < slow:
        yield _finding(
            "segment-velocity-low",
            "caution",
            name,
            f"{said}, and {feet_a_second(slow, 'g')} is the least that keeps it clean: a grade of "
            f"{least:.2%}. It has {slope:.2%}.",
            value=velocity,
            limit=slow,
        )
    elif velocity < fines:
        yield _finding(
            "segment-velocity-fines",
            "note",
            name,
            f"{said}; where fine sand or silt can enter, {feet_a_second(fines, 'g')} is the least. "
            "There a filter or a silt trap is needed.",
            value=velocity,
            limit=fines,
        )
    yield from _too_fast(trace, name, velocity, said)


def _too_fast(trace: Trace, name: str, velocity: float, said: str) -> Iterator[Finding]:
    key = f"main.segments.{name}.velocity_limit_m_s"
    limit = float(trace.value(key)) if trace.known(key) else None
    if limit is not None and velocity > limit:
        yield _finding(
            "segment-velocity-high",
            "caution",
            name,
            f"{said}, and {feet_a_second(limit, 'g')} is remembered as the most in its soil "
            "without protection. Take solid pipe or sealed joints, or check the limit.",
            value=velocity,
            limit=limit,
        )
    sand = pipe_velocity_limit("sand-and-sandy-loam")
    if limit is None and velocity > sand:
        yield _finding(
            "segment-velocity-soil",
            "note",
            name,
            f"{said}, too much for sand ({feet_a_second(sand, 'g')}, remembered). Say its soil.",
            value=velocity,
            limit=sand,
        )


def _limits(trace: Trace) -> Iterator[Finding]:
    """Where the main is limited below the diversion, or by a segment that may pass a part only."""
    above, whole = "drain_flow.candidates_m3_s.main_full", "main.flow_full_whole_m3_s"
    names = ("main.limiting_segment", "main.limiting_segment_whole")
    if not trace.known(above, whole, *names):
        return
    full, least = float(trace.value(above)), float(trace.value(whole))
    first, lowest = (str(trace.value(key)) for key in names)
    if lowest != first and least < full * (1 - TOLD_SHARE):
        yield Finding(
            "main-limited-below",
            "caution",
            f"Segment {lowest}",
            f"Below the diversion it is full when {cfs(least)} come from above, and "
            f"{cfs(full)} can come. It runs under pressure before the main above is full, "
            "and backs water up behind the bypass.",
            value=least,
            operator=">=",
            limit=full,
            unit="m3/s",
            source="derived",
        )
    line = trace.value("main.line_above")
    own = f"inputs.segment.{first}.area_m2"
    if first != line[0].name and first != STATED_ABOVE and own not in trace:
        yield Finding(
            "segment-share-not-stated",
            "caution",
            f"Segment {first}",
            f"It limits the main to {cfs(full)} only if all the water of the diversion "
            "passes it. Give the area that drains through it, where that is a part.",
            source="derived",
        )


def _undersized(trace: Trace) -> Iterator[Finding]:
    """Where the main carries so little that itself, not the boards, keeps the field wet."""
    carries, asked = (
        f"drain_flow.candidates_m3_s.{name}" for name in ("main_full", "drainage_coefficient")
    )
    if not trace.known(carries, asked):
        return
    full, wanted = float(trace.value(carries)), float(trace.value(asked))
    if full < SMALL * wanted:
        yield Finding(
            "main-under-coefficient",
            "caution",
            "Main",
            f"Full it carries {cfs(full)}, {full / wanted:.0%} of what the drainage "
            "coefficient asks for. The clear soil of the field is counted at that flow; when more "
            "comes the main itself holds the water back, and the field is wetter than counted, "
            "with boards or without.",
            value=full,
            operator=">=",
            limit=wanted,
            unit="m3/s",
            source="derived",
        )


def _stated(trace: Trace) -> Iterator[Finding]:
    """Stretches that no segment has, and where segments and the stated main disagree."""
    for name, where in ((STATED_BELOW, "below"), (STATED_ABOVE, "above")):
        if name in trace.names("main.segments"):
            yield Finding(
                f"main-{name}",
                "note",
                "Main",
                f"The main {where} the surveyed segments is taken as [main] states it: size, "
                "grade and material.",
                source="derived",
            )
    for where in ("outlet", "diversion"):
        yield from _invert_apart(trace, where)
    if not trace.known("main.line_above", "inputs.main.diameter_m"):
        return
    stated, first = float(trace.value("inputs.main.diameter_m")), trace.value("main.line_above")[0]
    if abs(first.diameter - stated) > SAME_SIZE * stated:
        yield Finding(
            "main-unlike-segments",
            "caution",
            "Main",
            f"main.diameter is {inches(stated)}, and segment {first.name} at the diversion "
            f"has {inches(first.diameter)}. Flows follow the segments; the bypass is held to "
            "main.diameter.",
            value=stated,
            limit=first.diameter,
            unit="m",
            source="derived",
        )


def _invert_apart(trace: Trace, where: str) -> Iterator[Finding]:
    keys = (f"inputs.main.station_{where}_m", f"inputs.main.invert_{where}_m")
    if not trace.known("main.line", *keys):
        return
    station, invert = (float(trace.value(key)) for key in keys)
    here = [s for s in trace.value("main.line") if s.station_down <= station <= s.station_up]
    apart = min((abs(s.invert_at(station) - invert) for s in here), default=0.0)
    if apart > TOLD_HEIGHT:
        yield Finding(
            "main-invert-unlike-segments",
            "caution",
            "Main",
            f"main.invert_{where} and the segment there lie {feet(apart)} apart. "
            "Structures follow the first, the water in the main the second. Correct one.",
            value=apart,
            operator="<=",
            limit=TOLD_HEIGHT,
            unit="m",
            source="derived",
        )


def _word(key: str) -> str:
    return argument_name(key.removeprefix("inputs.segment."))

# SPDX-License-Identifier: Apache-2.0
"""What is staked, as one record: points with their grades, hubs with their cuts, tapes."""

from dataclasses import dataclass

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.chain.plain import Record
from tilewater.chain.plan_parts import BASELINE, POINTS
from tilewater.chain.stake import FACTOR, HUBS, LOCATE, STAKES, TAPES
from tilewater.ground.stakes import shift_of_wrong_foot

CAUTIONS = (
    ("stake-locate", "Nobody digs before the locate ticket is answered and the marks stand."),
    (
        "stake-private",
        "A locate marks public lines. Ask the owner for tile, water, power and gas of the farm.",
    ),
    (
        "stake-trench",
        "Nobody enters a trench that the competent person on site has not cleared; local codes "
        "govern sloping and shoring.",
    ),
)
"""What is said wherever the ground is opened; common practice, local codes govern."""


@dataclass(frozen=True)
class StakePoint:
    """A point that is staked, or a hub beside it. [m]

    Attributes
    ----------
    name, what : str
        Name on the stake; what its height is.
    station, offset, north, east : float
    height : float or None
        Grade of a point; grade below a hub.
    key : str
        Where its numbers stand in the trace.
    cut : float or None
        From the top of a hub that was shot; a fill is negative.
    is_hub : bool
    """

    name: str
    what: str
    station: float
    offset: float
    north: float
    east: float
    height: float | None
    key: str
    cut: float | None = None
    is_hub: bool = False


@dataclass(frozen=True)
class Tape:
    """A tape check between two corners of an outline, on the ground. [m]"""

    outline: str
    first: str
    second: str
    distance: float
    key: str


@dataclass(frozen=True)
class StakeList:
    """What is staked.

    Attributes
    ----------
    points, hubs : tuple of StakePoint
    tapes : tuple of Tape
    locate : tuple of (latitude, longitude)
        Ground of the locate request; empty where the known point has no latitude. [deg]
    locate_grid : tuple of (station, offset)
        The same ground along the main. [m]
    findings : tuple of Finding
    """

    points: tuple[StakePoint, ...]
    hubs: tuple[StakePoint, ...]
    tapes: tuple[Tape, ...]
    locate: tuple[tuple[float, float], ...]
    locate_grid: tuple[tuple[float, float], ...]
    findings: tuple[Finding, ...]


def stake_list(trace: Trace) -> StakeList:
    """What is staked of a design whose stakes were added to its trace.

    Parameters
    ----------
    trace : Trace
        Of the design. [-]

    Returns
    -------
    StakeList
        Points, hubs, tapes, and what must be known. [-]
    """
    points = tuple(p for name in trace.names(STAKES) if (p := _point(trace, name)) is not None)
    hubs = tuple(h for name in trace.names(HUBS) if (h := _hub(trace, name)) is not None)
    tapes = tuple(
        _tape(trace, outline, f"{TAPES}.{outline}.{pair}")
        for outline in trace.names(TAPES)
        for pair in trace.names(f"{TAPES}.{outline}")
        if trace.known(f"{TAPES}.{outline}.{pair}")
    )
    return StakeList(
        points,
        hubs,
        tapes,
        _corners(trace, f"{LOCATE}.geographic"),
        _corners(trace, f"{LOCATE}.outline"),
        tuple(_findings(trace, hubs)),
    )


def _tape(trace: Trace, outline: str, key: str) -> Tape:
    first, _, second = key.rpartition(".")[2].removesuffix("_m").partition("-to-")
    return Tape(outline, first, second, float(trace.value(key)), key)


def _corners(trace: Trace, key: str) -> tuple[tuple[float, float], ...]:
    return tuple(trace.value(key)) if trace.known(key) else ()


def _number(trace: Trace, key: str) -> float | None:
    return float(trace.value(key)) if trace.known(key) else None


def _point(trace: Trace, name: str) -> StakePoint | None:
    own = f"{STAKES}.{name}"
    place = own if f"{own}.north_m" in trace else f"{POINTS}.{name}"
    keys = [f"{place}.{side}_m" for side in ("station", "offset", "north", "east")]
    if not trace.known(*keys):
        return None
    station, offset, north, east = (float(trace.value(key)) for key in keys)
    what = str(trace.value(f"{own}.what"))
    height = _number(trace, f"{own}.height_m")
    return StakePoint(name, what, station, offset, north, east, height, own)


def _hub(trace: Trace, name: str) -> StakePoint | None:
    own = f"{HUBS}.{name}"
    keys = [f"{own}.{side}_m" for side in ("station", "offset", "north", "east")]
    if not trace.known(*keys):
        return None
    station, offset, north, east = (float(trace.value(key)) for key in keys)
    grade, cut = _number(trace, f"{own}.grade_m"), _number(trace, f"{own}.cut_m")
    return StakePoint(name, "hub", station, offset, north, east, grade, own, cut, is_hub=True)


def _findings(trace: Trace, hubs: tuple[StakePoint, ...]) -> list[Finding]:
    found = [Finding(code, "caution", "stake", text, source="practice") for code, text in CAUTIONS]
    if not trace.known(BASELINE):
        found.append(
            Finding(
                "stake-no-grid",
                "caution",
                "stake",
                "Nothing can be staked from coordinates: the main has no place in the grid. Give "
                "north, east and azimuth under [baseline].",
            )
        )
        return found
    known = {hub.name for hub in hubs}
    for name in trace.names("inputs.hub"):
        if name not in known:
            found.append(
                Finding(
                    "stake-no-such-hub",
                    "caution",
                    f"hub.{name}",
                    f"No hub of the stake list is called '{name}'. Use a name of the list.",
                )
            )
    furthest = max((max(abs(h.north), abs(h.east)) for h in hubs), default=0.0)
    if furthest > 0.0:
        shift = shift_of_wrong_foot(furthest)
        found.append(
            Finding(
                "stake-foot",
                "note",
                "stake",
                f"The file is in the {trace.value('inputs.site.foot')}. Read in the other foot, "
                f"these coordinates would move by {shift / 0.3048:.1f} ft ({shift:.2f} m): set "
                "the rover to the same foot, and check in on a benchmark first.",
                value=shift,
                unit="m",
            )
        )
    if "inputs.stake.combined_factor" not in trace:
        found.append(
            Finding(
                "stake-factor",
                "note",
                "stake",
                "No combined factor of the grid is given, so tape checks are grid distances. On "
                "common grids that is within two hundredths of a foot in a hundred feet.",
            )
        )
    return found


def stake_record(stakes: StakeList, trace: Trace, program: str) -> Record:
    """What is staked as other programs read it, in SI."""

    def plain(point: StakePoint) -> Record:
        record: Record = {
            "name": point.name,
            "what": point.what,
            "station_m": point.station,
            "offset_m": point.offset,
            "north_m": point.north,
            "east_m": point.east,
            "grade_m" if point.is_hub else "height_m": point.height,
        }
        return record | ({"cut_m": point.cut} if point.is_hub else {})

    return {
        "tilewater": program,
        "foot": trace.value("inputs.site.foot"),
        "grid": trace.value("inputs.site.grid") if trace.known("inputs.site.grid") else None,
        "combined_factor": _number(trace, FACTOR),
        "points": [plain(point) for point in stakes.points],
        "hubs": [plain(hub) for hub in stakes.hubs],
        "tapes": [
            {"outline": t.outline, "first": t.first, "second": t.second, "distance_m": t.distance}
            for t in stakes.tapes
        ],
        "locate": [{"latitude_deg": a, "longitude_deg": b} for a, b in stakes.locate],
        "findings": [finding.record for finding in stakes.findings],
    }

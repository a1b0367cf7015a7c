# SPDX-License-Identifier: Apache-2.0
"""Cautions of the site: limit, clause, and how that clause is known.

They never replace local codes, the competent person on site or the engineer. What applies to the
depth of this cut is marked; nothing is left out where the depth is not known.
"""

from dataclasses import dataclass

from tilewater.basis.trace import Trace
from tilewater.documents.words import Words

FOOT = 0.3048
CUT = "quantities.cut_depth_m"
WHO = (
    "Local codes and the competent person on site govern. A clause marked 'read' was read in a "
    "summary, not in the code; one marked 'memory' was not read at all: confirm both."
)


@dataclass(frozen=True)
class Caution:
    """One caution.

    Attributes
    ----------
    what, clause : str
    seen : "read", "memory" or "practice"
    from_depth : float or None
        Depth of a cut from which it applies; None for always. [m]
    """

    what: str
    clause: str
    seen: str
    from_depth: float | None = None


P = "29 CFR 1926."
CAUTIONS = (
    Caution(
        "Locate lines before opening; expose them by hand; support them while open. Private lines "
        "and tile are not marked.",
        P + "651(b)",
        "read",
    ),
    Caution(
        "The competent person looks daily, before the start, and after rain.", P + "651(k)", "read"
    ),
    Caution("Spoil and machines {2 ft} back from the edge.", P + "651(j)", "read"),
    Caution(
        "Way out within {25 ft} of travel, ladder {3 ft} above the edge.",
        P + "651(c)(2)",
        "read",
        4 * FOOT,
    ),
    Caution(
        "Test the air where a hazard may be expected: oxygen 19.5 % at least.",
        P + "651(g)",
        "read",
        4 * FOOT,
    ),
    Caution(
        "Slope, shore or shield, or the competent person finds no sign of a cave-in. In less depth "
        "too where there is one.",
        P + "652(a)",
        "read",
        5 * FOOT,
    ),
    Caution("A registered engineer designs slopes and shores.", P + "652", "read", 20 * FOOT),
    Caution(
        "Slopes: stable rock upright, type A 3/4:1, B 1:1, C 1 1/2:1.",
        P + "652, appendix B",
        "memory",
    ),
    Caution("No work where water gathers without precautions.", P + "651(h)", "memory"),
    Caution(
        "Nobody enters a structure, a sump or a main; boards are pulled from above with a hook. "
        "Hydrogen sulfide is not smelled when it is dangerous.",
        P + "1202 and on",
        "read",
    ),
    Caution(
        "A bare lining floats: hold ground water below the floor until chips and cover are placed; "
        "nobody stands on a lining that lifts.",
        "hold point of this job",
        "practice",
    ),
    Caution(
        "An open hole with a lining is a drowning and slipping hazard: fence it.",
        "practice",
        "practice",
    ),
    Caution(
        "Nothing drives over chips, fabric or cover. Chip piles heat: no smoking near.",
        "practice",
        "practice",
    ),
    Caution(
        "Keep {10 ft} from overhead lines, more above 50 kV; tip trucks clear of them.",
        P + "1408",
        "memory",
    ),
)


def depth_words(trace: Trace, words: Words) -> str:
    """Depth of the cut in words."""
    return words.say(trace.value(CUT), "length") if CUT in trace else "not known"


def applies(caution: Caution, trace: Trace) -> bool:
    """Whether a caution applies to the cut of this design; unknown depth leaves all in."""
    if caution.from_depth is None or not trace.known(CUT):
        return True
    return float(trace.value(CUT)) >= caution.from_depth


def said(caution: Caution, words: Words) -> str:
    """A caution in the units of the reader."""
    text = caution.what
    for feet in (2, 3, 10, 25):
        text = text.replace(f"{{{feet} ft}}", _length(feet, words))
    if caution.from_depth is None:
        return text
    return (
        f"From {_length(round(caution.from_depth / FOOT), words)} deep: {text[0].lower()}{text[1:]}"
    )


def _length(feet: int, words: Words) -> str:
    """A length of a rule as the rule has it, or in metres to the tenth."""
    return f"{feet} ft" if words.system == "us" else f"{feet * FOOT:.1f} m"

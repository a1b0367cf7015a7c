# SPDX-License-Identifier: Apache-2.0
"""Sieve tests as one record: each load, why it stands as it does, all trucks together."""

from dataclasses import dataclass

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.basis.unknown import Unknown
from tilewater.chain.chips import ACCEPTED, SEEN, SPEC, TESTS, TRUCKS
from tilewater.chain.plain import Record, plain

PRACTICE = "common practice, no source"
SEEN_WORDS = {
    "soil": "soil or stones",
    "leaves": "leaves, needles or green twigs",
    "nails": "nails, wire, plastic or pallet wood",
    "treated_wood": "treated or painted wood",
}


@dataclass(frozen=True)
class Load:
    """A load that was sieved.

    Attributes
    ----------
    name, day, ticket, by, note : str
        "" where it is not written.
    verdict : str
        "accept", "reject", "void" or "not known".
    reasons : tuple of str
        Why, each in words; empty where it is simply accepted.
    key : str
        Where its numbers stand in the trace.
    """

    name: str
    day: str
    ticket: str
    by: str
    note: str
    verdict: str
    reasons: tuple[str, ...]
    key: str


@dataclass(frozen=True)
class Clause:
    """The clause of the job that asks for it, and how it is known."""

    words: str
    text_status: str

    @property
    def said(self) -> str:
        """Both in words."""
        if self.text_status == "practice":
            return self.words
        return f"{self.words} ({self.text_status})"


def clause_of(trace: Trace, *limits: str) -> Clause:
    """The clause behind limits; common practice where the job does not type their numbers.

    Parameters
    ----------
    trace : Trace
        With the tests. [-]
    limits : str
        Names of the limits in `[chips_spec]`. [-]

    Returns
    -------
    Clause
        Its words, and how it is known. [-]
    """
    clause, status = (
        str(trace.value(key)) if trace.known(key) else ""
        for key in ("inputs.chips_spec.clause", "inputs.chips_spec.text_status")
    )
    if not any(f"inputs.chips_spec.{limit}" in trace for limit in limits):
        return Clause(PRACTICE, "practice")
    if not clause:
        return Clause("typed in the job, no clause named", "practice")
    return Clause(clause, status or "how it is known is not said")


FINES, MIDDLE, LOSS = (
    ("fines_size_m", "fines_most"),
    ("middle_from_m", "middle_to_m", "middle_least"),
    ("loss_most",),
)
"""Limits that belong together, by the names of their values."""


SIEVES_OF = {
    "fines": (("fines_share", "fines_size_m"),),
    "middle": (
        ("below_middle_share", "middle_from_m"),
        ("below_largest_share", "middle_to_m"),
    ),
}
"""Shares that each row rests on, with the sieve that each is read at."""
OF_CURVE = (
    "d10_diameter_m",
    "d50_diameter_m",
    "d60_diameter_m",
    "uniformity",
    "fines_share",
    "middle_share",
)
"""What is read off a curve; a void test has none."""


def loads_of(trace: Trace) -> tuple[Load, ...]:
    """Every load in the order of the job file."""
    return tuple(_load(trace, name) for name in trace.names(TESTS))


def _load(trace: Trace, name: str) -> Load:
    given, here = f"inputs.sieve_test.{name}", f"{TESTS}.{name}"

    def said(key: str) -> str:
        return str(trace.value(f"{given}.{key}")) if trace.known(f"{given}.{key}") else ""

    found = trace.value(f"{here}.verdict")
    verdict = "not known" if isinstance(found, Unknown) else str(found)
    return Load(
        name,
        said("day"),
        said("ticket"),
        said("by"),
        said("note"),
        verdict,
        tuple(_reasons(trace, given, here, verdict)),
        here,
    )


def _reasons(trace: Trace, given: str, here: str, verdict: str) -> list[str]:
    found = []
    passing = trace.value(f"{here}.passing")
    if isinstance(passing, Unknown):
        found.append(passing.why)
    for each in SEEN:
        answer = trace.value(f"{given}.{each}") if trace.known(f"{given}.{each}") else "not known"
        if answer == "yes":
            found.append(f"{SEEN_WORDS[each]} seen in the load: rejected whatever the sieves say")
        elif answer == "not known" and verdict == "not known":
            found.append(f"nobody said whether it was looked for {SEEN_WORDS[each]}")
    for key, what in (("lost", "was lost"), ("gained", "too much was weighed")):
        if trace.value(f"{here}.{key}.status") == "short":
            share = abs(float(trace.value(f"{here}.loss_share")))
            clause = clause_of(trace, *LOSS).said
            found.append(f"{_percent(share)} {what} in sieving: void, sieve again ({clause})")
    if verdict == "void":
        return found
    for row, limits, words, over in (
        ("fines", FINES, "fines", "over"),
        ("middle", MIDDLE, "of the middle sizes", "under"),
    ):
        status, share = trace.value(f"{here}.{row}.status"), trace.value(f"{here}.{row}_share")
        asked = f"{over} {_percent(trace.value(f'{SPEC}.{limits[-1]}'))}"
        clause = clause_of(trace, *limits).said
        if status == "short" and not isinstance(share, Unknown):
            found.append(f"{_percent(share)} {words}, {asked} ({clause})")
        elif status == "short":
            found.append(f"{words}: {asked} whatever the missing sieve would show ({clause})")
        elif status == "not known" and not isinstance(passing, Unknown):
            missing = _missing_sieves(trace, here, row)
            found.append(f"{words}: a sieve is missing that decides it: {missing} ({clause})")
    ratio = trace.value(f"{here}.uniformity")
    if isinstance(ratio, Unknown) and not isinstance(passing, Unknown):
        ends = (trace.value(f"{here}.{end}_diameter_m") for end in ("d10", "d60"))
        why = next((end.why for end in ends if isinstance(end, Unknown)), ratio.why)
        found.append(f"Cu is not known: {why}")
    return found


def is_void(trace: Trace, load: Load) -> bool:
    """Whether sieving did not keep the mass of a load, so that its curve says nothing."""
    ends = (f"{load.key}.{end}.status" for end in ("lost", "gained"))
    return any(trace.value(key) == "short" for key in ends)


def _missing_sieves(trace: Trace, here: str, row: str) -> str:
    """Openings of the sieves without which a share cannot be read."""
    sizes = [
        float(trace.value(f"{SPEC}.{limit}"))
        for share, limit in SIEVES_OF[row]
        if not trace.known(f"{here}.{share}")
    ]
    return " and ".join(f"{size / 0.0254:.3g} in ({size * 1000:.3g} mm)" for size in sizes)


def _percent(share: object) -> str:
    return "not known" if isinstance(share, Unknown) else f"{100 * float(share):.1f} %"  # type: ignore[arg-type]


def chips_findings(trace: Trace, loads: tuple[Load, ...]) -> tuple[Finding, ...]:
    """What must be known beside the verdicts."""
    found = []
    for load in loads:
        given, subject = load.key.replace(TESTS, "inputs.sieve_test"), load.name.replace("-", " ")
        if trace.known(f"{given}.weighed") and trace.value(f"{given}.weighed") == "wet":
            is_dried = trace.known(f"{load.key}.dry_kg")
            with_one = (
                "with one moisture for all sizes" if is_dried else "without a moisture sample"
            )
            found.append(
                Finding(
                    "chips-wet",
                    "note" if is_dried else "caution",
                    subject,
                    f"Weighed wet, {with_one}: fines hold more water than coarse chips, so their "
                    "share reads high. Dry the whole sample where it stands near the limit.",
                    source="practice",
                )
            )
        if not trace.known(f"{load.key}.loss_share"):
            found.append(
                Finding(
                    "chips-loss-not-checked",
                    "caution",
                    subject,
                    "The mass before sieving is not written, so nobody can tell what was lost. "
                    "Weigh the sample first.",
                    source="practice",
                )
            )
        found += _read_between(trace, load, subject)
    return tuple(found)


def _read_between(trace: Trace, load: Load, subject: str) -> list[Finding]:
    """Shares that were read between two sieves."""
    found = []
    for share, limit in (
        ("fines", "fines_size_m"),
        ("below_middle", "middle_from_m"),
        ("below_largest", "middle_to_m"),
    ):
        key = f"{load.key}.{share}_share"
        if not trace.known(key, f"{key}_least", f"{key}_most"):
            continue
        least, most = (float(trace.value(f"{key}{end}")) for end in ("_least", "_most"))
        if least < most:
            size = float(trace.value(f"{SPEC}.{limit}")) * 1000
            found.append(
                Finding(
                    "chips-between-sieves",
                    "note",
                    subject,
                    f"No sieve of {size:.3g} mm was used. The share passing it is read between its "
                    f"neighbours; it lies from {_percent(least)} to {_percent(most)}.",
                    source="sieve-arithmetic",
                )
            )
    return found


def chips_record(trace: Trace, loads: tuple[Load, ...]) -> Record:
    """The tests as other programs read them, in SI."""
    spec = {name: plain(trace, f"{SPEC}.{name}") for name in SPEC_NAMES}
    clauses = {
        name: clause_of(trace, *limits).said
        for name, limits in (("fines", FINES), ("middle", MIDDLE), ("loss", LOSS))
    }
    record: Record = {
        "spec": {**spec, "clauses": clauses},
        "loads": {load.name: _load_record(trace, load) for load in loads},
    }
    for group, name in ((TRUCKS, "trucks"), (ACCEPTED, "accepted")):
        members = trace.names(group)
        record[name] = {member: plain(trace, f"{group}.{member}") for member in members} or None
    return record


SPEC_NAMES = (
    "fines_size_m",
    "fines_most",
    "middle_from_m",
    "middle_to_m",
    "middle_least",
    "loss_most",
)
NUMBERS = (
    "sizes",
    "passing",
    "dry_kg",
    "d10_diameter_m",
    "d50_diameter_m",
    "d60_diameter_m",
    "uniformity",
    "fines_share",
    "middle_share",
    "loss_share",
)


def _load_record(trace: Trace, load: Load) -> Record:
    numbers = {name: plain(trace, f"{load.key}.{name}") for name in NUMBERS}
    if is_void(trace, load):
        numbers |= dict.fromkeys(OF_CURVE)
    numbers["sizes_m"] = numbers.pop("sizes")
    return {
        "day": load.day or None,
        "ticket": load.ticket or None,
        "by": load.by or None,
        "verdict": load.verdict,
        "reasons": list(load.reasons),
        **numbers,
    }

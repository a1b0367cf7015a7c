# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: sieve tests of chips, each judged, and all trucks together.

They stand on the inputs of a job alone and change nothing of a design. A share at a size without a
sieve is judged by what surely passes and what may pass; only where these do not decide it, and the
curve cannot be read there, is the row not known.
"""

from tilewater.basis.requirement import Operator, Requirement, Status, status_of
from tilewater.basis.trace import Trace, argument_name
from tilewater.basis.unknown import Unknown
from tilewater.chain.verdict_of_chips import verdict_of_load
from tilewater.ground.gradation import (
    least_passing_at,
    most_passing_at,
    share_between,
    share_passing_at,
    size_at_share,
    uniformity_coefficient,
)
from tilewater.ground.sieving import (
    dry_mass,
    largest_share,
    mass_loss,
    mean_of_shares,
    moisture_dry_basis,
    shares_passing,
    smallest_share,
)
from tilewater.practices.rules import same

TESTS, SPEC = "chips.tests", "chips.spec"
TRUCKS, ACCEPTED = "chips.trucks", "chips.accepted"
INCH = 0.0254
SPEC_DEFAULTS: dict[str, tuple[float, str, str]] = {
    "fines_size_m": (0.25 * INCH, "m", "Size below which chips are fines"),
    "fines_most": (0.05, "-", "Fines at most"),
    "middle_from_m": (0.5 * INCH, "m", "Smallest of the sizes that most chips have"),
    "middle_to_m": (2.0 * INCH, "m", "Largest of the sizes that most chips have"),
    "middle_least": (0.80, "-", "Chips between these two sizes at least"),
    "loss_most": (0.01, "-", "Loss in sieving at most"),
}
"""What is asked of chips where the job says nothing: common practice, no source."""
SEEN = ("soil", "leaves", "nails", "treated_wood")
SIZES_READ = (("d10", 0.10), ("d50", 0.50), ("d60", 0.60))


def add_chips(trace: Trace, day: str = "") -> None:
    """Record every sieve test of a job, how it stands, and all trucks together.

    Parameters
    ----------
    trace : Trace
        Of the inputs. [-]
    day : str
        As `2027-09-27`; tests of a later day are left out. "" for all. [-]
    """
    _add_spec(trace)
    for name in trace.names("inputs.sieve_test"):
        of = f"inputs.sieve_test.{name}.day"
        if not (day and trace.known(of) and str(trace.value(of)) > day):
            _add_test(trace, name)
    _add_trucks(trace)


def _add_spec(trace: Trace) -> None:
    for name, (value, unit, title) in SPEC_DEFAULTS.items():
        given = f"inputs.chips_spec.{name}"
        if given in trace:
            trace.compute(f"{SPEC}.{name}", same, unit=unit, title=title, value=given)
        else:
            trace.constant(f"{SPEC}.{name}", value, title, unit=unit, source="practice")
    loss = trace.value(f"{SPEC}.loss_most")
    least = loss if isinstance(loss, Unknown) else -float(loss)
    trace.constant(
        f"{SPEC}.loss_least", least, "Gain in sieving at most", unit="-", source="derived"
    )
    for percent, share in SIZES_READ:
        trace.constant(
            f"{SPEC}.{percent}", share, f"Share finer than {percent.upper()}", source="derived"
        )


def _add_test(trace: Trace, name: str) -> None:
    given, here = f"inputs.sieve_test.{name}", f"{TESTS}.{name}"
    words = name.replace("-", " ")
    for key, function, unit, title in (
        ("sizes", sieve_sizes, "m", "Sieves"),
        ("masses", sieve_masses, "kg", "Mass on each sieve"),
    ):
        trace.compute(
            f"{here}.{key}",
            function,
            unit=unit,
            title=f"{title}, {words}",
            retained=f"{given}.retained",
        )
    trace.compute(
        f"{here}.passing",
        shares_passing,
        unit="-",
        title=f"Share passing each sieve, {words}",
        sizes=f"{here}.sizes",
        retained=f"{here}.masses",
        pan=f"{given}.pan_kg",
    )
    _add_dry(trace, given, here, words)
    _add_sizes(trace, here, words)
    _add_shares(trace, here, words)
    _add_loss(trace, given, here, words)
    _judge(trace, given, here, words)


def sieve_sizes(retained: tuple[tuple[float, float], ...]) -> tuple[float, ...]:
    """Openings of the sieves of a test, from the largest down.

    Parameters
    ----------
    retained : tuple of (size, mass)
        As written on the sheet, in any order. [m]

    Returns
    -------
    tuple of float
        Openings. [m]
    """
    return tuple(size for size, _ in sorted(retained, reverse=True))


def sieve_masses(retained: tuple[tuple[float, float], ...]) -> tuple[float, ...]:
    """Masses on the sieves of a test, from the largest sieve down.

    Parameters
    ----------
    retained : tuple of (size, mass)
        As written on the sheet, in any order. [kg]

    Returns
    -------
    tuple of float
        Masses. [kg]
    """
    return tuple(mass for _, mass in sorted(retained, reverse=True))


def total_mass(masses: tuple[float, ...], pan: float) -> float:
    """Mass on all sieves and in the pan.

    Parameters
    ----------
    masses : tuple of float
        On the sieves. [kg]
    pan : float
        In the pan. [kg]

    Returns
    -------
    float
        Their sum. [kg]
    """
    return sum(masses) + pan


def _add_dry(trace: Trace, given: str, here: str, words: str) -> None:
    trace.compute(
        f"{here}.weighed_kg",
        total_mass,
        unit="kg",
        title=f"Mass sieved, as weighed, {words}",
        masses=f"{here}.masses",
        pan=f"{given}.pan_kg",
    )
    if f"{given}.weighed" not in trace or trace.value(f"{given}.weighed") == "dry":
        trace.compute(
            f"{here}.dry_kg",
            same,
            unit="kg",
            title=f"Dry mass sieved, {words}",
            value=f"{here}.weighed_kg",
        )
        return
    if f"{given}.moisture_wet_kg" not in trace or f"{given}.moisture_dry_kg" not in trace:
        why = Unknown("weighed wet, no moisture sample", "dry a sample of the load in an oven")
        trace.constant(f"{here}.dry_kg", why, f"Dry mass sieved, {words}", source="derived")
        return
    trace.compute(
        f"{here}.moisture",
        moisture_dry_basis,
        unit="-",
        title=f"Moisture on the dry basis, {words}",
        wet=f"{given}.moisture_wet_kg",
        dry=f"{given}.moisture_dry_kg",
    )
    trace.compute(
        f"{here}.dry_kg",
        dry_mass,
        unit="kg",
        title=f"Dry mass sieved, {words}",
        wet=f"{here}.weighed_kg",
        moisture=f"{here}.moisture",
    )


def _add_sizes(trace: Trace, here: str, words: str) -> None:
    for percent, _ in SIZES_READ:
        trace.compute(
            f"{here}.{percent}_diameter_m",
            size_at_share,
            unit="m",
            title=f"{percent.upper()}, {words}",
            sizes=f"{here}.sizes",
            passing=f"{here}.passing",
            share=f"{SPEC}.{percent}",
        )
    trace.compute(
        f"{here}.uniformity",
        uniformity_coefficient,
        unit="-",
        title=f"Uniformity coefficient, {words}",
        d60=f"{here}.d60_diameter_m",
        d10=f"{here}.d10_diameter_m",
    )


def _add_shares(trace: Trace, here: str, words: str) -> None:
    """Shares at the sizes of the limits: as read, at least and at most."""
    for how, function in (
        ("", share_passing_at),
        ("_least", least_passing_at),
        ("_most", most_passing_at),
    ):
        said = {"": "", "_least": ", at least", "_most": ", at most"}[how]
        for share, limit, what in (
            ("fines", "fines_size_m", "Fines"),
            ("below_middle", "middle_from_m", "Finer than the middle sizes"),
            ("below_largest", "middle_to_m", "Finer than the largest size"),
        ):
            trace.compute(
                f"{here}.{share}_share{how}",
                function,
                unit="-",
                title=f"{what}{said}, {words}",
                sizes=f"{here}.sizes",
                passing=f"{here}.passing",
                size=f"{SPEC}.{limit}",
            )
    for how, larger, smaller in (
        ("", "", ""),
        ("_least", "_least", "_most"),
        ("_most", "_most", "_least"),
    ):
        trace.compute(
            f"{here}.middle_share{how}",
            share_between,
            unit="-",
            title=f"Chips of the middle sizes{how.replace('_', ', at ')}, {words}",
            larger=f"{here}.below_largest_share{larger}",
            smaller=f"{here}.below_middle_share{smaller}",
        )


def _add_loss(trace: Trace, given: str, here: str, words: str) -> None:
    before = f"{given}.mass_before_kg"
    if before not in trace:
        why = Unknown("the mass before sieving is not written", "weigh the sample before sieving")
        trace.constant(f"{here}.loss_share", why, f"Loss in sieving, {words}", source="derived")
        return
    trace.compute(
        f"{here}.loss_share",
        mass_loss,
        unit="-",
        title=f"Loss in sieving, {words}",
        before=before,
        retained=f"{here}.masses",
        pan=f"{given}.pan_kg",
    )


def status_by_bounds(least: float, most: float, limit: float, operator: Operator) -> Status:
    """How a share stands that cannot be read, by the sieves beside it.

    Parameters
    ----------
    least, most : float
        What it is at least and at most. [-]
    limit : float
        Limit. [-]
    operator : "<=" or ">="
        How the share must stand to it. [-]

    Returns
    -------
    "holds", "short" or "not known"
        Not known where the two do not agree. [-]
    """
    ends = {status_of(least, limit, operator), status_of(most, limit, operator)}
    return ends.pop() if len(ends) == 1 else "not known"


def _judge(trace: Trace, given: str, here: str, words: str) -> None:
    for row, operator, limit in (("fines", "<=", "fines_most"), ("middle", ">=", "middle_least")):
        share = f"{here}.{row}_share"
        sign = trace.constant(f"{here}.{row}.operator", operator, "Comparison", source="practice")
        stated = {"limit": f"{SPEC}.{limit}", "operator": sign}
        title = f"{row.capitalize()}, {words}: status"
        key = f"{here}.{row}.status"
        if trace.known(share):
            trace.compute(key, status_of, unit="", title=title, value=share, **stated)
        else:
            bounds = {"least": f"{share}_least", "most": f"{share}_most"}
            trace.compute(key, status_by_bounds, unit="", title=title, **bounds, **stated)
    for key, operator, limit in (("lost", "<=", "loss_most"), ("gained", ">=", "loss_least")):
        trace.require(
            Requirement(
                f"{here}.{key}",
                f"Sieving {key} no more than is let pass, {words}",
                f"{here}.loss_share",
                "<=" if operator == "<=" else ">=",
                f"{SPEC}.{limit}",
                "-",
                0.01,
            )
        )
    seen = {each: f"{given}.{each}" for each in SEEN}
    for each, key in seen.items():
        if not trace.known(key):
            title = f"{each.replace('_', ' ').capitalize()} in the load, {words}"
            seen[each] = trace.constant(f"{here}.{each}", "not known", title, source="derived")
    statuses = {row: f"{here}.{row}.status" for row in ("lost", "gained", "fines", "middle")}
    trace.compute(
        f"{here}.verdict", verdict_of_load, unit="", title=f"Load, {words}", **statuses, **seen
    )


def _add_trucks(trace: Trace) -> None:
    """Mean and worst of the trucks whose tests are not void, and of those accepted."""
    verdicts = {name: str(trace.value(f"{TESTS}.{name}.verdict")) for name in trace.names(TESTS)}
    whole = [name for name, verdict in verdicts.items() if verdict != "void"]
    taken = [name for name, verdict in verdicts.items() if verdict == "accept"]
    for group, names, words in ((TRUCKS, whole, "tested"), (ACCEPTED, taken, "accepted")):
        if len(names) < 2:
            continue
        for row, worst in (("fines", largest_share), ("middle", smallest_share)):
            shares = {argument_name(name): f"{TESTS}.{name}.{row}_share" for name in names}
            for what, function in (("mean", mean_of_shares), ("worst", worst)):
                trace.compute(
                    f"{group}.{what}_{row}_share",
                    function,
                    unit="-",
                    title=f"{row.capitalize()}, {what} of {len(names)} trucks {words}",
                    **shares,
                )

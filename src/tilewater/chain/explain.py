# SPDX-License-Identifier: Apache-2.0
"""Where a number comes from: equation, inputs, source with its honesty, and the checks.

All of it is read from what the program is made of: the trace, the docstring of the function, the
list of sources and the list of checks that the tests register.
"""

import importlib
import inspect
import json
import re
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any

from tilewater.basis.errors import UnknownName
from tilewater.basis.requirement import Requirement
from tilewater.basis.trace import Step, Trace
from tilewater.basis.units import did_you_mean
from tilewater.chain.days_rules import probability_key
from tilewater.chain.verdict import binding_of

HONESTY = {
    "read": "read",
    "memory": "from memory, not checked against the text; check your edition",
    "practice": "common practice, no source",
    "derived": "derived in this project",
}


@dataclass(frozen=True)
class Source:
    """A source as a reader wants it."""

    key: str
    text: str
    place: str
    honesty: str


@dataclass(frozen=True)
class Explanation:
    """One number explained.

    Attributes
    ----------
    step : Step
        The recorded step.
    summary, equation : str
        From the docstring of its function; "" for an input.
    inputs : tuple of (parameter, Step)
    sources : tuple of Source
    checks : tuple of str
        Tests that check the function, with their kind; empty if it is not checked.
    """

    step: Step
    summary: str
    equation: str
    inputs: tuple[tuple[str, Step], ...]
    sources: tuple[Source, ...]
    checks: tuple[str, ...]


def explain(trace: Trace, key: str) -> tuple[Explanation, ...]:
    """Explain a key of the result, or every number of a group.

    Parameters
    ----------
    trace : Trace
        The steps of a design. [-]
    key : str
        Key as in `design --json`, as in the job file, or a group. [-]

    Returns
    -------
    tuple of Explanation
        One for a number, several for a group. [-]

    Raises
    ------
    UnknownName
        If no number has that key; the message offers near ones.
    """
    return tuple(_explain_step(trace, trace.steps[k]) for k in keys_of(trace, key))


def keys_of(trace: Trace, key: str) -> tuple[str, ...]:
    """Keys of the trace that a key of the result, of the job file or of a group means."""
    judged = _judged(trace, key)
    if judged:
        return judged
    for candidate in _spellings(key):
        if candidate in trace:
            return (candidate,)
    for candidate in _spellings(key):
        found = tuple(step.key for step in trace if _belongs(step.key, candidate))
        if found:
            return found
    raise UnknownName(
        f"No number called '{key}'.{did_you_mean(key, tuple(trace.steps))} "
        "Keys are those of the --json result, such as capacity.criterion.flow_m3_s."
    )


def requirements_on(trace: Trace, key: str) -> tuple[Requirement, ...]:
    """Requirements whose value or limit rests on a number, in the order they were judged.

    Parameters
    ----------
    trace : Trace
        The steps of a design. [-]
    key : str
        Key of a step. [-]

    Returns
    -------
    tuple of Requirement
        Those whose value or limit is this number, or comes from it. [-]
    """
    users: dict[str, list[str]] = {}
    for step in trace:
        for _, source in step.inputs:
            users.setdefault(source, []).append(step.key)
    rests, pending = {key}, [key]
    while pending:
        new = [user for user in users.get(pending.pop(), ()) if user not in rests]
        rests.update(new)
        pending += new
    return tuple(r for r in trace.requirements if r.value in rests or r.limit in rests)


ALIASES = (
    (r"^drain_flow\.mean_annual_depth_mm$", "drain_flow.mean_annual_depth_m"),
    (r"^drain_flow\.nitrate_mg_per_l$", "inputs.nitrate.mean_mg_per_l"),
    (r"^boards\.(\w+)-([\w-]+)\.stack_in$", r"boards.\1-\2.stack_m"),
    (r"^boards\.(\w+)-([\w-]+)\.rim_down_in$", r"boards.\1-\2.rim_down_m"),
    (r"^boards\.head-([\w-]+)\.sill_m$", "inputs.structure.inlet.sill_m"),
    (r"^boards\.head-[\w-]+\.rating\.uncertainty$", "structure.inlet.rating_uncertainty"),
    (r"^boards\.(\w+)-([\w-]+)\.sill_m$", r"inputs.structure.\1.sill_m"),
    (r"^boards\.(\w+)-[\w-]+\.rating\.uncertainty$", r"structure.\1.rating_uncertainty"),
    (r"^boards\.(\w+)-([\w-]+)\.rating(\.\w+)?$", r"structure.\1.set-\2"),
    (r"^removal\.by_method\.volumetric_rate_low_kg$", "removal.by_rates.removed_kg.p10"),
    (r"^removal\.by_method\.volumetric_rate_mid_kg$", "removal.by_rates.removed_kg.p50"),
    (r"^removal\.by_method\.volumetric_rate_high_kg$", "removal.by_rates.removed_kg.p90"),
    (r"^removal\.by_method\.volumetric_rate_low_kg$", "removal.removed_kg.p10"),
    (r"^removal\.by_method\.volumetric_rate_mid_kg$", "removal.removed_kg.p50"),
    (r"^removal\.by_method\.volumetric_rate_high_kg$", "removal.removed_kg.p90"),
    (r"^removal\.by_method\.((first|zero)_order)_kg$", r"buffer.screening.removed_\1_kg"),
    (r"^buffer\.bank\.(\w+)$", r"buffer.\1"),
    (r"^buffer\.curve\.(\w+)\.\w+$", r"buffer.curve.\1"),
    (r"^removal\.draws$", "days.draw_count"),
    (r"^decides\.(\w+)\.(cannot_tell_apart|nothing_told)$", r"decides.\1.shares"),
    (r"^advice\.([\w-]+)\.usd$", r"inputs.measure.\1.cost_usd"),
    (r"^advice\.([\w-]+)\.usd$", r"advice.\1.usual_usd"),
    (r"^advice\.([\w-]+)\.(words|settles|time|cannot_tell_from_next)$", r"advice.\1.weighed"),
    (r"^advice\.([\w-]+)\.(choice_now|was_settled)$", r"advice.\1.worth"),
    (r"^nitrate\.pattern$", "inputs.nitrate.pattern"),
    (r"^requirements\.(.+)\.(status|slack)$", r"\1.\2"),
    (r"^criteria\.([\w-]+)\.result$", r"criteria.\1.status"),
)


def _judged(trace: Trace, key: str) -> tuple[str, ...]:
    """Keys behind what a result says of requirements: verdict, what governs, values of rows.

    A status that sums up several rows leads to the status of each.
    """
    if key == "verdict":
        return tuple(f"{r.key}.status" for r in trace.requirements if r.binding)
    if key.partition(".")[0] == "governs":
        binding = binding_of(trace)
        return () if binding is None else (f"{binding.key}.slack",)
    for requirement in trace.requirements:
        if key in (f"{requirement.key}.value", f"{requirement.key}.value_m"):
            return (requirement.value,)
        if key == f"{requirement.key}.limit_m":
            return (requirement.limit,)
        if key == f"{requirement.key}.probability":
            return tuple(k for k in (probability_key(requirement.key),) if k in trace)
    group = key.removesuffix(".status")
    if group == key or key in trace:
        return ()
    return tuple(
        f"{r.key}.status"
        for r in trace.requirements
        if r.key.startswith((f"{group}.", f"{group}-"))
    )


def _spellings(key: str) -> tuple[str, ...]:
    aliases = tuple(re.sub(p, r, key) for p, r in ALIASES if re.search(p, key))
    return (*aliases, key, f"inputs.{key}")


def _belongs(step_key: str, group: str) -> bool:
    rest = step_key.removeprefix(group)
    return rest != step_key and (rest[0] in "._")


def _explain_step(trace: Trace, step: Step) -> Explanation:
    inputs = tuple((name, trace.steps[key]) for name, key in step.inputs)
    if not step.function:
        given = step.origin.source if step.origin is not None else ""
        return Explanation(step, "", "", inputs, _sources(((given, ""),) if given else ()), ())
    doc = inspect.getdoc(function_of(step.function)) or ""
    return Explanation(
        step=step,
        summary=doc.split("\n", 1)[0],
        equation=equation_of(doc),
        inputs=inputs,
        sources=sources_of(doc),
        checks=checks_of(step.function),
    )


def function_of(dotted: str) -> Any:
    """Function or class behind a dotted name."""
    module, _, name = dotted.rpartition(".")
    return getattr(importlib.import_module(module), name)


def section_of(doc: str, title: str) -> list[str]:
    """Lines of a section of a docstring."""
    match = re.search(rf"^{title}\n-+\n(.*?)(?=^\w[\w ]*\n-+\n|\Z)", doc, re.M | re.S)
    return match.group(1).splitlines() if match else []


def equation_of(doc: str) -> str:
    """What the notes of a docstring begin with: its equation, each line with its source."""
    lines = section_of(doc, "Notes")
    text = "\n".join(lines).strip()
    return text.split("\n\n", 1)[0]


def sources_of(doc: str) -> tuple[Source, ...]:
    """Sources that a docstring leans on."""
    return _sources(_references(doc))


def _references(doc: str) -> tuple[tuple[str, str], ...]:
    pairs = (line.strip().partition(",") for line in section_of(doc, "References") if line.strip())
    return tuple((key.strip(), place.strip()) for key, _, place in pairs)


def _sources(references: tuple[tuple[str, str], ...]) -> tuple[Source, ...]:
    known = sources()
    found = []
    for key, place in references:
        entry = known.get(key)
        if entry is None:
            continue
        author = ", ".join(str(entry[k]) for k in ("author", "year") if k in entry)
        text = f"{author}: {entry['title']}" if author else str(entry["title"])
        found.append(Source(key, text, place, HONESTY[entry["seen"]]))
    return tuple(found)


@cache
def sources() -> dict[str, dict[str, Any]]:
    """Every source by key, as `basis/sources.toml` has it."""
    file = resources.files("tilewater.basis") / "sources.toml"
    return tomllib.loads(file.read_text(encoding="utf-8"))


@cache
def _checks() -> dict[str, list[dict[str, str]]]:
    file = resources.files("tilewater.basis") / "checks.json"
    if not file.is_file():
        return {}
    data: dict[str, list[dict[str, str]]] = json.loads(file.read_text(encoding="utf-8"))
    return data


KIND_WORDS = {
    "published": "published",
    "oracle": "independent library",
    "by_hand": "by hand",
    "law": "law",
    "practice": "common practice",
    "pinned": "pinned",
    "works": "wiring",
}


def checks_of(function: str) -> tuple[str, ...]:
    """Tests that check a function: kind, source and place, name of the test."""
    return tuple(
        " · ".join(
            part
            for part in (
                KIND_WORDS.get(check["kind"], check["kind"]),
                ", ".join(x for x in (check.get("source", ""), check.get("where", "")) if x),
                check["test"],
            )
            if part
        )
        for check in _checks().get(function, ())
    )

# SPDX-License-Identifier: Apache-2.0
"""Steps of the soil of a buffer: every hole, each kind of conductivity by itself, which is used.

Keys: `buffer.hole.NAME.conductivity_m_s`, `buffer.conductivity_by.KIND_m_s` of "auger", "slug",
"layers" and "survey", and `buffer.conductivity_m_s` with its range; kinds are never mixed.
"""

import math

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Given, Trace, argument_name
from tilewater.basis.unknown import Unknown
from tilewater.hydraulics.hole_tests import (
    auger_hole_conductivity_ernst,
    slug_conductivity_hvorslev,
)
from tilewater.practices.buffer import soil
from tilewater.practices.buffer.givens import LINE, SOIL, needed
from tilewater.practices.rules import same

KINDS = {
    "auger holes": "auger",
    "slug tests": "slug",
    "layers": "layers",
    "soil survey": "survey",
}
"""Kinds of conductivity from the best to the least, and the name of each in keys."""
TESTED = "bail or slug a hole in the strip, three or more of them"
BY = "buffer.conductivity_by"


def add_soil(trace: Trace) -> None:
    """Record conductivity by kind with its range, and the organic matter."""
    add_head(trace)
    _add_holes(trace)
    _add_layers(trace)
    if f"{SOIL}.conductivity_survey_m_s" in trace:
        _add_survey(trace)
    _add_chosen(trace)
    _add_organic(trace)


def add_head(trace: Trace) -> None:
    """Record the head at the line, water at the bypass crest of the design setting."""
    trace.compute(
        "buffer.head_line_m",
        soil.head_of_line,
        unit="m",
        title="Head at the line above the restrictive layer, water at the bypass crest",
        crest="boards.inlet-design.crest_m",
        barrier=barrier(trace),
    )


def barrier(trace: Trace) -> str:
    """Key of the top of the restrictive layer."""
    how = "bore in the strip until the auger will not turn"
    return needed(trace, f"{LINE}.barrier_m", "Top of the restrictive layer", "m", how)


def _add_holes(trace: Trace) -> None:
    no_barrier = "buffer.no_barrier_m"
    augers, slugs = trace.names("inputs.auger_hole"), trace.names("inputs.slug_test")
    for name in augers:
        given = f"inputs.auger_hole.{name}"
        if f"{given}.barrier_m" not in trace:
            trace.constant(no_barrier, math.inf, "No barrier met", unit="m", source="practice")
        trace.compute(
            f"buffer.hole.{name}.conductivity_m_s",
            auger_hole_conductivity_ernst,
            unit="m/s",
            title=f"Conductivity of auger hole {name}",
            water_depths=f"{given}.depths_m",
            times=f"{given}.times_s",
            table_depth=f"{given}.water_table_m",
            hole_depth=f"{given}.depth_m",
            barrier_depth=f"{given}.barrier_m" if f"{given}.barrier_m" in trace else no_barrier,
            radius=f"{given}.radius_m",
        )
    for name in slugs:
        given = f"inputs.slug_test.{name}"
        trace.compute(
            f"buffer.hole.{name}.conductivity_m_s",
            slug_conductivity_hvorslev,
            unit="m/s",
            title=f"Conductivity of slug test {name}",
            displacements=f"{given}.displacements_m",
            times=f"{given}.times_s",
            casing_radius=f"{given}.casing_radius_m",
            screen_radius=f"{given}.screen_radius_m",
            screen_length=f"{given}.screen_length_m",
        )
    for kind, names, words in (("auger", augers, "auger holes"), ("slug", slugs, "slug tests")):
        if names:
            _add_mean(trace, kind, names, words)


def _add_mean(trace: Trace, kind: str, names: tuple[str, ...], words: str) -> None:
    holes = {argument_name(n): f"buffer.hole.{n}.conductivity_m_s" for n in names}
    trace.compute(
        f"{BY}.{kind}_m_s",
        soil.mean_of_holes,
        unit="m/s",
        title=f"Conductivity by {words}, geometric mean",
        **holes,
    )
    trace.compute(
        f"{BY}.{kind}_factor",
        soil.factor_of_holes,
        unit="-",
        title=f"How far the mean of the {words} may be off, as a factor",
        **holes,
    )
    if len(names) < 3:
        trace.findings.append(
            Finding(
                "few-holes",
                "caution",
                "Conductivity",
                f"{len(names)} of {words} in the strip. Three or more show how the soil varies; "
                "test more before the length of the line is decided.",
                source="practice",
            )
        )


def _add_layers(trace: Trace) -> None:
    names = trace.names("inputs.soil_layer")
    if not names:
        return
    pairs = {}
    for name in names:
        key = f"buffer.layer.{name}"
        pairs[argument_name(name)] = key
        trace.compute(
            key,
            soil.pair_of,
            unit="",
            title=f"Top and conductivity of the layer {name}",
            layer_top=f"inputs.soil_layer.{name}.top_m",
            conductivity=f"inputs.soil_layer.{name}.conductivity_m_s",
        )
    trace.compute(
        "buffer.layers",
        soil.layers_over_barrier,
        unit="",
        title="Level layers over the restrictive layer",
        barrier=barrier(trace),
        **pairs,
    )
    trace.compute(
        f"{BY}.layers_m_s",
        soil.conductivity_of_layers,
        unit="m/s",
        title="Conductivity of the layers together, water at the crest",
        head_line="buffer.head_line_m",
        layers="buffer.layers",
    )
    trace.constant(
        f"{BY}.layers_factor",
        soil.FEW_HOLES_FACTOR,
        "How far the layers may be off, as a factor",
        source="practice",
    )


def _add_survey(trace: Trace) -> None:
    given = f"{SOIL}.conductivity_survey_m_s"
    trace.compute(
        f"{BY}.survey_m_s", same, unit="m/s", title="Conductivity of the soil survey", value=given
    )
    trace.compute(
        f"{BY}.survey_factor",
        soil.survey_factor,
        unit="-",
        title="How far the soil survey may be off, as a factor",
        conductivity=given,
    )


def used_kind(trace: Trace) -> str | None:
    """Kind of conductivity that is computed with: the one the job names, else the best."""
    stated = f"{SOIL}.conductivity_from"
    if stated in trace and trace.known(stated):
        return KINDS[str(trace.value(stated))]
    return next((name for name in KINDS.values() if f"{BY}.{name}_m_s" in trace), None)


def _add_chosen(trace: Trace) -> None:
    kind = used_kind(trace)
    key = f"{BY}.{kind}_m_s"
    if kind is None or key not in trace:
        why = "no conductivity of the strip is given" if kind is None else f"no {kind} is given"
        for name in ("conductivity", "conductivity_low", "conductivity_high"):
            unknown = Unknown(why, TESTED)
            trace.give(Given(f"buffer.{name}_m_s", unknown, "m/s", "Conductivity of the strip"))
        return
    words = next(word for word, name in KINDS.items() if name == kind)
    trace.constant(
        "buffer.conductivity_from", words, "Conductivity is taken from", source="derived"
    )
    trace.compute(
        "buffer.conductivity_m_s",
        same,
        unit="m/s",
        title=f"Conductivity of the strip, by {words}",
        value=key,
    )
    for end, function in (("low", soil.lower_by), ("high", soil.higher_by)):
        trace.compute(
            f"buffer.conductivity_{end}_m_s",
            function,
            unit="m/s",
            title=f"Conductivity of the strip, {end} end",
            conductivity="buffer.conductivity_m_s",
            factor=f"{BY}.{kind}_factor",
        )
    if kind == "survey":
        trace.findings.append(
            Finding(
                "survey-conductivity",
                "caution",
                "Conductivity",
                "The flow rests on the soil survey, which is an estimate of a map unit. It may be "
                "off by a factor of four or more: test holes in the strip.",
                source="practice",
            )
        )


def _add_organic(trace: Trace) -> None:
    title = "Organic matter of the soil"
    carbon, matter = f"{SOIL}.organic_carbon", f"{SOIL}.organic_matter"
    if matter not in trace and carbon in trace:
        trace.compute(
            "buffer.organic_matter",
            soil.organic_matter_of_carbon,
            unit="-",
            title=title,
            organic_carbon=carbon,
        )
        return
    how = "a laboratory, from samples to 2.5 ft"
    needed(trace, matter, title, "-", how)
    trace.compute("buffer.organic_matter", same, unit="-", title=title, value=matter)

# SPDX-License-Identifier: Apache-2.0
"""The block of a design about the ditch: its levels by season and the flow that meets them."""

from collections.abc import Iterator, Sequence

from tilewater.basis.trace import Trace
from tilewater.documents.pages.numbers import number
from tilewater.documents.pages.said import Cell, Part, block, dim, rows
from tilewater.documents.words import NOT_KNOWN, Words, step_value

YEAR = "year"
WAYS = {
    "season table": "levels typed by season",
    "series": "median and highest of the readings of each season",
    "rule": "by the drain flow of each season",
    "section": "uniform flow at the surveyed section",
}
EDGES = (
    ("outlet_crest", "outlet crest"),
    ("inlet_crest", "bypass crest"),
    ("return_end", "return"),
    ("main_outlet", "main"),
)
KINDS = ("stage", "high")
SHARES = ("ditch.share_above", "ditch.share_above_high")
BACK = ("ditch.days_back", "ditch.days_back_high")
SHARES_BACK = ("ditch.share_of_days_back", "ditch.share_of_days_back_high")


def ditch(trace: Trace, words: Words) -> Part | None:
    """Levels of the ditch by season, and the share of the flow that meets it above each crest."""
    if "ditch.ordinary_m" not in trace:
        return None
    seasons = trace.names("inputs.season") or (YEAR,)
    way = str(words.of_key("", step_value(trace, "ditch.way"), ""))
    return block(
        "Ditch",
        WAYS.get(way, way),
        _levels(trace, words, seasons),
        *_section(trace, words),
        *_shares(trace, words, seasons),
    )


def _levels(trace: Trace, words: Words, seasons: tuple[str, ...]) -> Part:
    """Ordinary and high level of each season; the bands where there are any."""

    def band(season: str, kind: str) -> str:
        keys = [f"ditch.{season}.{kind}_{end}_m" for end in ("low", "high")]
        if not trace.known(*keys):
            return NOT_KNOWN
        return " to ".join(words.say(trace.value(key), "elevation", unit=False) for key in keys)

    def line(season: str) -> Iterator[Cell]:
        yield season
        for kind in KINDS:
            yield number(trace, words, f"ditch.{season}.{kind}_m", "elevation")
            if has_bands:
                yield dim(band(season, kind))

    has_bands = any(band(season, kind) != NOT_KNOWN for season in seasons for kind in KINDS)
    heads = ("ordinary", "band", "high", "band") if has_bands else ("ordinary", "high")
    return rows(("season", *heads), (list(line(season)) for season in seasons), right=(1, 2, 3, 4))


def _section(trace: Trace, words: Words) -> Iterator[Part]:
    """Roughness of the section, and what the marks say of it."""
    if "ditch.section.n" not in trace:
        return
    n = words.say(step_value(trace, "ditch.section.n"), "number")
    text = f"Roughness n {n}."
    if trace.known("ditch.section.n_fitted", "ditch.section.misfit_m"):
        fitted = [
            words.say(step_value(trace, f"ditch.section.n_fitted{end}"), "number")
            for end in ("", "_low", "_high")
        ]
        misfit = words.say(trace.value("ditch.section.misfit_m"), "length")
        text += (
            f" High water marks give n {fitted[0]}, {fitted[1]} to {fitted[2]} one by one; the "
            f"farthest lies {misfit} off the computed level."
        )
    yield dim(text)


def _shares(trace: Trace, words: Words, seasons: tuple[str, ...]) -> Iterator[Part]:
    edges = _edges(trace, (*seasons, YEAR))
    names = [
        name
        for name in dict.fromkeys((*seasons, YEAR))
        if f"{SHARES[0]}.{edges[0][0]}-{name}" in trace
    ]
    lines = [
        [name, *(_bounds(trace, words, SHARES, f"{edge}-{name}", "ratio") for edge, _ in edges)]
        for name in names
    ]
    told = {str(cell) for line in lines for cell in line[1:]}
    if told <= {NOT_KNOWN}:
        reasons = [trace.value(f"{SHARES[0]}.{edges[0][0]}-{name}") for name in seasons]
        why = next((str(r.why) for r in reasons if getattr(r, "why", "")), "it was not computed")
        why = why.removeprefix(f"{NOT_KNOWN}: ")
        how = next((str(r.measure) for r in reasons if getattr(r, "measure", "")), "")
        yield dim(
            f"Share of the drain flow with the ditch above each crest: {NOT_KNOWN}, {why}."
            + (f" To know: {how}." if how else "")
        )
        return
    yield rows(
        ("share above", *(head for _, head in edges)), lines, right=(1, 2, 3, 4)[: len(edges)]
    )
    yield from _back(trace, words, names)
    yield dim(_rests_on(trace))


def _edges(trace: Trace, names: Sequence[str]) -> list[tuple[str, str]]:
    """What the ditch is compared with in this design."""
    return [
        (edge, head)
        for edge, head in EDGES
        if any(f"{SHARES[0]}.{edge}-{name}" in trace for name in names)
    ]


def _back(trace: Trace, words: Words, names: list[str]) -> Iterator[Part]:
    """Days a year on which ditch water runs back over a crest, and their share."""
    crests = [pair for pair in _edges(trace, names) if pair[0].endswith("crest")]
    lines = [
        [
            name,
            *(
                _bounds(trace, words, groups, f"{edge}-{name}", kind)
                for edge, _ in crests
                for groups, kind in ((BACK, "days"), (SHARES_BACK, "ratio"))
            ),
        ]
        for name in names
    ]
    none = {words.say(0.0, kind) for kind in ("days", "ratio")}
    if {cell for line in lines for cell in line[1:]} <= none:
        over = "Over neither crest does ditch water run back"
        if len(crests) == 1:
            over = "Over the bypass crest no ditch water runs back"
        yield dim(f"{over}: on no day without drain flow does the ditch stand above it.")
        return
    heads = ["runs back", *(head for _, each in crests for head in (each, "of days"))]
    yield rows(heads, lines, right=(1, 2, 3, 4)[: 2 * len(crests)])
    yield dim("Runs back: days of a mean year above the crest on which the drains bring nothing.")


def _rests_on(trace: Trace) -> str:
    """What shares and days are counted on, and how near they are."""
    text = f"Counted on {step_value(trace, 'ditch.share_basis')} days"
    if trace.names(SHARES[1]):
        text += (
            ". Each season counts as a whole: first as if the ditch stood at its ordinary level on "
            "all days, then at its high level. The true share lies between"
        )
    return f"{text}."


def _bounds(trace: Trace, words: Words, groups: tuple[str, str], name: str, kind: str) -> str:
    """A value, or that at the ordinary to that at the high level."""
    found = [
        words.say(trace.value(f"{group}.{name}"), kind)
        for group in groups
        if f"{group}.{name}" in trace
    ]
    if len(set(found)) == 1:
        return found[0]
    unit = found[1].rpartition(" ")[2]
    return f"{found[0].removesuffix(unit).rstrip()} to {found[1]}"

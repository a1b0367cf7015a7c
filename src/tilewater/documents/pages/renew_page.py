# SPDX-License-Identifier: Apache-2.0
"""Renewal: what is left of a bed by two clocks, the signs that chips are due, and the options."""

from collections.abc import Iterator

from tilewater.basis.trace import Trace
from tilewater.basis.unknown import Unknown
from tilewater.chain.renew import LIFE, MARKS
from tilewater.chain.renew_carbon import AGE, is_given
from tilewater.chain.renew_options import OPTIONS, RENEWALS, SIGNS, TITLES
from tilewater.documents.pages.said import Cell, Part, Rows, Said, Tone, block, dim, pairs, rows
from tilewater.documents.words import NOT_KNOWN, Words, step_value

STANDS, NOT_STANDING = "stands", "does not stand"
TONES: dict[str, Tone] = {STANDS: "strong", NOT_KNOWN: "aside"}
PRACTICE = "limits are common practice and the office's to change"
DUE = 0.5
"""Share of the draws whose end has passed from which the chips are called short."""


def renew_page(title: str, trace: Trace, words: Words) -> Iterator[Part]:
    """Blocks of the page in their order.

    Parameters
    ----------
    title : str
        Of the job.
    trace : Trace
        Of the design with the steps of its renewal.
    words : Words
        Units of the reader.
    """
    yield Said(title, "strong").append(f"  renewal, {trace.value('renew.day')}", "quiet")
    yield Said(answer(trace, words), "binds" if is_short(trace) else "strong")
    yield advice(trace, words)
    yield block("Permeability", "the first clock", *_permeability(trace, words))
    yield block("Capacity by year", BY_YEAR, capacity_by_year(trace, words))
    yield block("Carbon", "the second clock", *_carbon(trace, words))
    yield block("Signs that chips are due", PRACTICE, _signs(trace, words))
    yield block("What can be done", "new chips come when they are due", *_options(trace, words))
    yield block("Contract", "", *_contract(trace, words))


BY_YEAR = "water of 20 degC at the crest; median of the draws, so a little off the design's middle"


def is_short(trace: Trace) -> bool:
    """Whether the bed most likely no longer takes its share."""
    key = f"{LIFE}.share_past"
    return trace.known(key) and float(trace.value(key)) >= DUE


def years(value: object, words: Words) -> str:
    """A number of years in two figures."""
    return words.say(value, "years", style="two figures")


def band(trace: Trace, key: str, kind: str, words: Words) -> str:
    """Middle of a number with P10 to P90: `key` holds `{}` where the name of the share stands."""
    ends = [step_value(trace, key.format(name)) for name in ("p50", "p10", "p90")]
    if any(isinstance(end, Unknown) for end in ends):
        return NOT_KNOWN
    middle, low, high = (words.say(end, kind, style="two figures") for end in ends)
    return f"{middle} ({low.split(' ')[0]} to {high})" if low != high else middle


def answer(trace: Trace, words: Words) -> str:
    """What is left, in one sentence."""
    left = step_value(trace, f"{LIFE}.left_p50_years")
    if isinstance(left, Unknown):
        missing = left.why.removeprefix("not known: ")
        how = f" To know it: {left.measure}." if left.measure else ""
        return f"What is left is not known for want of this: {missing}.{how}"
    low, high = (float(trace.value(f"{LIFE}.left_{name}_years")) for name in ("p10", "p90"))
    if float(left) <= 0.0:
        past = years(-float(left), words)
        return f"The bed most likely fell short of its share of the peak {past} ago."
    span = f"{years(max(low, 0.0), words).split(' ')[0]} to {years(high, words)}"
    return (
        f"The bed takes its share of the peak for about {years(left, words)} more "
        f"(P10 to P90: {span})."
    )


def advice(trace: Trace, words: Words) -> Said:
    """What the signs call for, in one sentence."""
    needed = f"{float(trace.value('inputs.signs.needed')):.0f}"
    standing = step_value(trace, "renew.signs_standing")
    unknown = f"{float(trace.value('renew.signs_not_known')):.0f}"
    if isinstance(standing, Unknown):
        return Said(f"No sign was measured; {needed} that stand would call for new chips.")
    count = float(standing)
    calls = count >= float(trace.value("inputs.signs.needed"))
    said = "New chips are called for" if calls else "New chips are not called for yet"
    return Said(
        f"{said}: {count:.0f} of {len(SIGNS)} signs stand, {unknown} not known; {needed} or more "
        "call for them."
    )


def _permeability(trace: Trace, words: Words) -> tuple[Part, ...]:
    needed, past = "renew.needed_conductivity_m_s", f"{LIFE}.share_past"
    life = "Expected hydraulic life, P10 to P90"
    lines: list[tuple[str, Cell]] = [
        ("Age of the chips", _keyed(trace, AGE, years(step_value(trace, AGE), words))),
        (
            "Conductivity that the criterion asks for",
            _keyed(trace, needed, words.say(step_value(trace, needed), "media_conductivity")),
        ),
        (life, Said(band(trace, LIFE + ".{}_years", "years", words), key=f"{LIFE}.p50_years")),
        (
            "The same by the curve alone",
            Said(
                band(trace, LIFE + ".by_curve.{}_years", "years", words),
                "quiet",
                key=f"{LIFE}.by_curve.p50_years",
            ),
        ),
        (
            "Chance that it has passed",
            _keyed(trace, past, words.say(step_value(trace, past), "ratio")),
        ),
    ]
    read = readings(trace, words)
    if not read.lines:
        none = dim("No head and flow was read; the curve of the job stands alone.")
        return pairs(lines), none
    return pairs(lines), read


def readings(trace: Trace, words: Words) -> Rows:
    """What was read of the bed at work, and what the curve says of the same days."""
    lines: list[list[Cell]] = []
    names = sorted(
        trace.names("renew.observed"),
        key=lambda name: float(trace.value(f"renew.observed.{name}.age_years")),
    )
    for name in names:
        given, here = f"inputs.observed.{name}", f"renew.observed.{name}"
        shown, curve = f"{here}.conductivity_m_s", f"{here}.by_curve_m_s"
        read: list[Cell] = [name.replace("-", ", "), "", ""]
        if f"{given}.date" in trace:
            read = [
                str(trace.value(f"{given}.date")),
                words.say(trace.value(f"{given}.head_loss_m"), "length"),
                words.say(trace.value(f"{given}.flow_m3_s"), "flow"),
            ]
        lines.append(
            [
                *read,
                _keyed(trace, shown, words.say(trace.value(shown), "media_conductivity")),
                dim(words.say(trace.value(curve), "media_conductivity")),
            ]
        )
    heads = ("read", "head", "flow", "shows at 20 C", "curve")
    return rows(heads, lines, right=(1, 2, 3, 4))


def _keyed(trace: Trace, key: str, said: str) -> Said:
    return Said(said, "aside" if said == NOT_KNOWN else "", key=key if key in trace else "")


def capacity_by_year(trace: Trace, words: Words) -> Rows:
    """Flow and share of the peak by age, with readings and by the curve alone."""
    places = [f"renew.capacity.{p}" for p in (*(f"year-{mark:.0f}" for mark in MARKS), "now")]
    here = {
        float(trace.value(f"{place}.with_readings.age_years")): place
        for place in places
        if f"{place}.with_readings.age_years" in trace
    }
    lines: list[list[Cell]] = []
    for age, place in sorted(here.items()):
        is_now = place.endswith("now")
        line: list[Cell] = [f"that day, {years(age, words)}" if is_now else f"{age:.0f} years"]
        for way in ("with_readings", "by_curve"):
            flow, share = f"{place}.{way}.flow_m3_s", f"{place}.{way}.share_of_peak"
            line += [
                _keyed(trace, flow, words.say(trace.value(flow), "flow")),
                _keyed(trace, share, words.say(trace.value(share), "ratio")),
            ]
        lines.append(line)
    heads = ("age", "with readings", "of peak", "by curve", "of peak")
    return rows(heads, lines, right=(1, 2, 3, 4))


def _carbon(trace: Trace, words: Words) -> tuple[Part, ...]:
    note = dim(
        "Half of the carbon is taken to be within reach (judgement). Keep the bed wet: wood that "
        "often stands dry goes several times as fast."
    )
    return carbon_rows(trace, words), note


def carbon_rows(trace: Trace, words: Words) -> Rows:
    """What lies in the chips, what takes it in a year, and how long that goes."""
    here = "renew.carbon"
    shown = (
        ("stock_kg", "Carbon in the chips when new", "mass"),
        ("for_nitrogen_kg", "Taken by nitrate in a year, 1.07 of its weight", "mass"),
        ("for_oxygen_kg", "Taken by oxygen in a year, 8 mg/L that comes", "mass"),
        ("leached_kg", "Leaves dissolved in a year, 4 mg/L", "mass"),
        ("clock_years", "Half of it is used after", "years"),
        ("wet_left", "Wood left that stayed under water (from memory)", "ratio"),
        ("dry_left", "Wood left near the top, often dry", "ratio"),
    )
    lines = [
        (
            label,
            _keyed(
                trace,
                f"{here}.{key}",
                words.say(step_value(trace, f"{here}.{key}"), kind, style="two figures"),
            ),
        )
        for key, label, kind in shown
    ]
    return pairs(lines)


def sign_rows(trace: Trace, words: Words) -> list[tuple[str, str, str, str, str]]:
    """Title, value, limit, whether it stands, and the key of the value of every sign."""
    lines = []
    for name, (title, limit, side, unit) in SIGNS.items():
        key = f"renew.signs.{name}.value"
        value, bound = trace.value(key), trace.value(f"inputs.signs.{limit}")
        kind = "length" if unit == "m" else "number" if name == "tracer" else "ratio"
        stands = trace.value(f"renew.signs.{name}.stands")
        word = NOT_KNOWN if isinstance(stands, Unknown) else STANDS if stands else NOT_STANDING
        said = f"{side} {words.say(bound, kind)}"
        lines.append((title, words.say(value, kind), said, word, key))
    return lines


def _signs(trace: Trace, words: Words) -> Part:
    lines: list[list[Cell]] = [
        [
            title,
            _keyed(trace, key, value),
            dim(limit),
            Said(word, TONES.get(word, "")),
        ]
        for title, value, limit, word, key in sign_rows(trace, words)
    ]
    return rows(("sign", "measured", "stands", ""), lines, right=(1,), wide=(0,))


def option_rows(trace: Trace, words: Words) -> list[tuple[str, str, str, str, str]]:
    """Option, cost, years that it adds, nitrogen of these years, cost of a pound."""
    lines = []
    for option in OPTIONS:
        here = f"renew.options.{option}"
        cost = words.say(step_value(trace, f"{here}.cost_usd"), "money")
        if option in RENEWALS:
            added = band(trace, here + ".added_years.{}", "years", words)
            mass = band(trace, here + ".added_kg.{}", "mass", words)
            price = _price(trace, here, words)
        else:
            added = "none" if option != "convert" else NOT_KNOWN
            if option == "convert":
                added = years(step_value(trace, "inputs.money.years"), words)
            mass = _mass(trace, option, words)
            price = "" if option in ("leave", "abandon") else _price(trace, here, words)
        lines.append((TITLES[option], cost, added, mass, price))
    return lines


def _mass(trace: Trace, option: str, words: Words) -> str:
    here = f"renew.options.{option}"
    if option == "abandon":
        return "none"
    if option == "leave":
        return words.say(step_value(trace, f"{here}.added_kg.p50"), "mass", style="two figures")
    yearly = step_value(trace, f"{here}.removed_per_year_kg.p50")
    if isinstance(yearly, Unknown):
        return NOT_KNOWN
    total = float(yearly) * float(trace.value("inputs.money.years"))
    return words.say(total, "mass", style="two figures")


def _price(trace: Trace, here: str, words: Words) -> str:
    kind = "USD/lb" if words.system == "us" else "USD/kg"
    key = f"{here}.usd_per_kg."
    if f"{key}p10" not in trace:
        return words.say(step_value(trace, f"{key}p50"), kind, style="two figures")
    return band(trace, key + "{}", kind, words)


def _in_two(said: str) -> Cell:
    """A number with its band on a line of its own."""
    middle, bracket, rest = said.partition(" (")
    return Said.assemble(middle, (f"\n{rest.rstrip(')')}", "quiet")) if bracket else said


def _options(trace: Trace, words: Words) -> tuple[Part, ...]:
    lines: list[list[Cell]] = [
        [name, cost, *(_in_two(said) for said in (added, mass, price))]
        for name, cost, added, mass, price in option_rows(trace, words)
    ]
    heads = ("option", "cost", "adds", "nitrogen then", "a pound")
    if words.system == "si":
        heads = (*heads[:-1], "a kilogram")
    return rows(heads, lines, right=(1, 2, 3, 4), wide=(0,)), *notes_of_options(trace, words)


def notes_of_options(trace: Trace, words: Words) -> tuple[Said, ...]:
    """Sentences under the options."""
    found = []
    now = step_value(trace, "renew.options.renew-all.added_if_now_years")
    if not isinstance(now, Unknown):
        found.append(
            f"Placed on that day, new chips would add {years(now, words)} only: what the old ones "
            "would still have served is lost."
        )
    over = step_value(trace, "renew.options.renew-all.usd_per_kg.over_leaving")
    share = step_value(trace, "renew.options.leave.share_of_peak")
    if not isinstance(share, Unknown):
        found.append(
            "Left alone over the same years it takes "
            f"{words.say(share, 'ratio')} of the peak half way through."
        )
    if not isinstance(over, Unknown):
        kind = "USD/lb" if words.system == "us" else "USD/kg"
        price = words.say(over, kind, style="two figures")
        found.append(f"Beyond what it would remove if left, new chips cost {price}.")
    rate = words.say(step_value(trace, "inputs.money.rate"), "ratio")
    unit = "pound" if words.system == "us" else "kilogram"
    found.append(
        f"The price of a {unit} is that of a year of the option, its cost spread over the added "
        f"years at {rate}, over the nitrogen of such a year."
    )
    found.append(
        "New chips are taken to be like those that are there. Ranges: P10 to P90; removal that of "
        "the design unless it was measured. Costs are of today."
    )
    return tuple(dim(sentence) for sentence in found)


def _contract(trace: Trace, words: Words) -> tuple[Part, ...]:
    return tuple(Said(sentence) for sentence in contract_words(trace, words))


def contract_words(trace: Trace, words: Words) -> tuple[str, ...]:
    """What the contract says, in sentences."""
    left = step_value(trace, "renew.contract_left_years")
    if isinstance(left, Unknown):
        return (f"Not known: {left.why}. To know it: {left.measure}.",)
    end = trace.value("inputs.renew.contract_end")
    if float(left) <= 0.0:
        return (f"It ended on {end}. Nothing is owed to it; ask before the practice is given up.",)
    repays = "inputs.renew.repays_aid"
    said = trace.value(repays) if is_given(trace, repays) else None
    owed = {
        "yes": "Aid is paid back where the practice is given up before.",
        "no": "No aid is paid back where the practice is given up before.",
    }.get(str(said), "Whether aid is paid back where it is given up before is not known.")
    serves = step_value(trace, f"{LIFE}.left_p50_years")
    held = ""
    if not isinstance(serves, Unknown):
        short = float(serves) < float(left)
        held = (
            " The chips will most likely be due before it ends."
            if short
            else " The chips will most likely outlast it."
        )
    return (f"It runs {years(left, words)} more, to {end}.{held}", owed)

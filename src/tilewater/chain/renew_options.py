# SPDX-License-Identifier: Apache-2.0
"""Steps of what can be done about a bed that ages: signs that it is due, and five options.

Costs of new chips are shares of the estimate of the design; what the program cannot know (turning
it into a raised outlet, giving it up) is asked of the job and else not known.
"""

from tilewater.basis.trace import Given, Trace, argument_name
from tilewater.basis.unknown import Unknown
from tilewater.chain import renew_days, renew_parts
from tilewater.chain.renew import (
    LIFE,
    NEEDED,
    SEEN,
    SHARES,
    add_capacity_of_age,
    share_key,
)
from tilewater.chain.renew_carbon import AGE, is_given
from tilewater.economics.estimate import share_of_amount
from tilewater.monitoring.renewal import quantile_of_ages, sign_stands
from tilewater.monitoring.tracer_checks import is_final
from tilewater.practices.rules import difference, same

SIGNS = {
    "index": ("Flow over head loss against the first year's", "index_below", "below", "-"),
    "treated": ("Best treated share of the last normal years", "treated_below", "below", "-"),
    "bed-percent": (
        "Removal in the bed against its second year's",
        "bed_percent_below",
        "below",
        "-",
    ),
    "settlement": ("Settlement of the cover", "settlement_above_m", "above", "m"),
    "tracer": ("Effective volume ratio of a tracer test", "tracer_below", "below", "-"),
}
"""Title, limit of the job, side on which the sign stands, unit."""
DUE = "renew.due_ages"
THIRD = 1.0 / 3.0
OPTIONS = ("renew-all", "renew-inlet-third", "leave", "convert", "abandon")
RENEWALS = ("renew-all", "renew-inlet-third")
TITLES = {
    "renew-all": "New chips in the whole bed",
    "renew-inlet-third": "New chips in the inlet third",
    "leave": "Leave it and accept what it takes",
    "convert": "Turn it into a raised outlet",
    "abandon": "Give it up and restore the through-pipe",
}


def add_signs(trace: Trace) -> None:
    """Record each sign, whether it stands, and how many do."""
    for name, (title, limit, side, unit) in SIGNS.items():
        here = f"renew.signs.{name}"
        _add_value(trace, name, f"{here}.value", title, unit)
        trace.constant(f"{here}.side", side, "Side on which the sign stands", source="practice")
        trace.compute(
            f"{here}.stands",
            sign_stands,
            unit="",
            title=f"{title}: whether the sign stands",
            value=f"{here}.value",
            limit=f"inputs.signs.{limit}",
            side=f"{here}.side",
        )
    known = {
        argument_name(name): f"renew.signs.{name}.stands"
        for name in SIGNS
        if trace.known(f"renew.signs.{name}.stands")
    }
    title = "Signs that stand"
    if known:
        trace.compute("renew.signs_standing", renew_parts.count_of, unit="-", title=title, **known)
    else:
        why = Unknown("no sign was measured", "read heads, settlement or a tracer test")
        trace.give(Given("renew.signs_standing", why, "-", title))
    trace.constant(
        "renew.signs_not_known",
        float(len(SIGNS) - len(known)),
        "Signs that are not known",
        unit="-",
        source="derived",
    )


def _add_value(trace: Trace, name: str, key: str, title: str, unit: str) -> None:
    given = "inputs.renew"
    if name == "index" and len(_readings(trace)) > 1:
        first, last = _readings(trace)[0], _readings(trace)[-1]
        inputs = {"value": last, "first": first}
        trace.compute(key, renew_parts.ratio_of, unit=unit, title=title, **inputs)
    elif name == "treated" and is_given(trace, f"{given}.treated_shares"):
        inputs = {"shares": f"{given}.treated_shares", "years": "inputs.signs.treated_years"}
        trace.compute(key, renew_parts.best_of_last, unit=unit, title=title, **inputs)
    elif name == "bed-percent" and all(
        is_given(trace, f"{given}.bed_percent_{when}") for when in ("first", "now")
    ):
        inputs = {
            "value": f"{given}.bed_percent_now",
            "first": f"{given}.bed_percent_first",
        }
        trace.compute(key, renew_parts.ratio_of, unit=unit, title=title, **inputs)
    elif name == "settlement" and is_given(trace, f"{given}.settlement_m"):
        trace.compute(key, same, unit=unit, title=title, value=f"{given}.settlement_m")
    elif name == "tracer" and (source := _tracer(trace)) is not None:
        trace.compute(key, same, unit=unit, title=title, value=source)
    else:
        how = {
            "index": "read heads and flow twice, under [observed.NAME]",
            "treated": "give treated_shares under [renew]",
            "bed-percent": "give bed_percent_first and bed_percent_now under [renew]",
            "settlement": "shoot the crown and give settlement under [renew]",
            "tracer": "a tracer test under [tracer.NAME]",
        }[name]
        trace.give(Given(key, Unknown("it was not measured", how, (key,)), unit, title))


def _readings(trace: Trace) -> list[str]:
    """Keys of the conductivities that were read, first to last."""
    names = [
        name
        for name in trace.names("renew.observed")
        if trace.known(f"renew.observed.{name}.conductivity_m_s")
    ]
    names.sort(key=lambda name: float(trace.value(f"renew.observed.{name}.age_years")))
    return [f"renew.observed.{name}.conductivity_m_s" for name in names]


def _tracer(trace: Trace) -> str | None:
    """Key of the effective volume of the last test that may be believed."""
    stated = "inputs.renew.tracer_effective"
    if is_given(trace, stated):
        return stated
    tests = [
        name
        for name in trace.names("inputs.tracer")
        if f"tracer.{name}.summary" in trace
        and trace.known(f"tracer.{name}.summary")
        and is_final(trace.value(f"tracer.{name}.summary"))
    ]
    dated = sorted(tests, key=lambda name: str(trace.value(f"inputs.tracer.{name}.date")))
    return f"tracer.{dated[-1]}.effective_volume_ratio" if dated else None


def add_options(trace: Trace) -> None:
    """Record cost, added years, nitrogen and cost of a pound of every option."""
    _add_new_lives(trace)
    _add_costs(trace)
    measured = "inputs.renew.removed_per_year_kg"
    for option in RENEWALS:
        here = f"renew.options.{option}"
        for name in SHARES:
            removed = measured if is_given(trace, measured) else f"removal.removed_kg.{name}"
            trace.compute(
                f"{here}.removed_per_year_kg.{name}",
                same,
                unit="kg",
                title=f"Nitrogen removed in a year, {name}",
                value=removed,
            )
        _add_worth(trace, here)
    _add_leave(trace)
    _add_convert(trace)
    _add_contract(trace)


def _add_new_lives(trace: Trace) -> None:
    """Record how many years new chips add when they are due, in all of the bed and in a third."""
    trace.constant("renew.third", THIRD, "Share of the length", unit="-", source="derived")
    trace.compute(
        DUE,
        renew_parts.start_of_renewal,
        unit="years",
        title="Age at which chips are due, by draw",
        ages=f"{LIFE}.ages",
        age_now=AGE,
    )
    trace.compute(
        "renew.options.renew-inlet-third.ages",
        renew_parts.years_of_part,
        unit="years",
        title="Years until it falls short again with new chips in the inlet third",
        seen=SEEN,
        start=DUE,
        needed=NEEDED,
        new_share="renew.third",
    )
    served = {
        "renew-all": f"{LIFE}.ages",
        "renew-inlet-third": "renew.options.renew-inlet-third.ages",
    }
    for name, share in SHARES.items():
        for option, ages in served.items():
            trace.compute(
                f"renew.options.{option}.added_years.{name}",
                quantile_of_ages,
                unit="years",
                title=f"Years added, {name}",
                ages=ages,
                share=share_key(trace, name, share),
            )
    trace.compute(
        "renew.options.renew-all.added_if_now_years",
        renew_parts.years_used,
        unit="years",
        title="Years that new chips add where they come today, middle",
        ages=f"{LIFE}.ages",
        age_now=AGE,
        share=share_key(trace, "p50", SHARES["p50"]),
    )


def _add_costs(trace: Trace) -> None:
    trace.compute(
        "renew.options.renew-all.cost_usd",
        same,
        unit="USD",
        title="Cost of new chips in the whole bed",
        value="cost.recharge_usd",
    )
    trace.compute(
        "renew.options.renew-inlet-third.cost_usd",
        share_of_amount,
        unit="USD",
        title="Cost of new chips in the inlet third",
        amount="cost.recharge_usd",
        share="inputs.renew.third_cost_share",
    )
    for option, field in (("convert", "convert_cost"), ("abandon", "abandon_cost")):
        key, given = f"renew.options.{option}.cost_usd", f"inputs.renew.{field}_usd"
        title = f"Cost: {TITLES[option].lower()}"
        if is_given(trace, given):
            trace.compute(key, same, unit="USD", title=title, value=given)
        else:
            why = Unknown("no cost is given", f"give {field} under [renew]", (key,))
            trace.give(Given(key, why, "USD", title))
    trace.constant("renew.options.leave.cost_usd", 0.0, "No cost", unit="USD", source="derived")


def _add_worth(trace: Trace, here: str) -> None:
    """Record nitrogen of the years that are added, and its cost."""
    for name in SHARES:
        trace.compute(
            f"{here}.added_kg.{name}",
            renew_parts.mass_over_years,
            unit="kg",
            title=f"Nitrogen of the added years, {name}",
            per_year=f"{here}.removed_per_year_kg.{name}",
            years=f"{here}.added_years.{name}",
        )
    for name, other in (("p10", "p90"), ("p50", "p50"), ("p90", "p10")):
        trace.compute(
            f"{here}.usd_per_kg.{name}",
            renew_parts.cost_of_mass,
            unit="USD",
            title=f"Cost of a kilogram, {name}",
            cost=f"{here}.cost_usd",
            rate="inputs.money.rate",
            years=f"{here}.added_years.{other}",
            per_year=f"{here}.removed_per_year_kg.{other}",
        )


def _add_leave(trace: Trace) -> None:
    """Record what a bed that is left takes, half way through the years that new chips would add."""
    here, due = "renew.options.leave", "renew.due_years.p50"
    added = "renew.options.renew-all.added_years.p50"
    trace.compute(
        due,
        quantile_of_ages,
        unit="years",
        title="Age at which chips are due, middle",
        ages=DUE,
        share=share_key(trace, "p50", SHARES["p50"]),
    )
    half = trace.constant("renew.options.leave.begin", 0.0, "New chips", source="derived")
    for key, first, words in (
        (f"{here}.age_years", due, "Half way through the years that new chips would add"),
        (f"{here}.mean_age_years", half, "Half way through the life of these chips"),
    ):
        trace.compute(
            key, renew_parts.middle_of, unit="years", title=words, first=first, second=added
        )
    add_capacity_of_age(trace, here, SEEN, "half way through the years after")
    mean = f"{here}.mean"
    trace.compute(
        f"{mean}.age_years", same, unit="years", title="Age", value=f"{here}.mean_age_years"
    )
    add_capacity_of_age(trace, mean, SEEN, "half way through their life")
    series = "days.series"
    if series not in trace or not trace.known(series):
        return
    for place, key in (("then", here), ("now", mean)):
        trace.compute(
            f"{here}.share_{place}",
            renew_parts.share_of_series,
            unit="-",
            title=f"Share of the water through the bed, {place}",
            series=series,
            capacity=f"{key}.flow_m3_s",
        )
    trace.compute(
        f"{here}.removed_per_year_kg.p50",
        renew_parts.mean_removed,
        unit="kg",
        title="Nitrogen removed in a year then",
        removed="renew.carbon.removed_kg",
        share_then=f"{here}.share_then",
        share_now=f"{here}.share_now",
    )
    trace.compute(
        f"{here}.added_kg.p50",
        renew_parts.mass_over_years,
        unit="kg",
        title="Nitrogen over the years that new chips would add",
        per_year=f"{here}.removed_per_year_kg.p50",
        years=added,
    )
    _add_over_leaving(trace, here, added)


def _add_over_leaving(trace: Trace, here: str, added: str) -> None:
    """Record what a kilogram costs that new chips remove beyond what a bed left alone would."""
    whole = "renew.options.renew-all"
    trace.compute(
        f"{whole}.more_per_year_kg",
        difference,
        unit="kg",
        title="Nitrogen that new chips remove in a year beyond a bed that is left",
        upper=f"{whole}.removed_per_year_kg.p50",
        lower=f"{here}.removed_per_year_kg.p50",
    )
    trace.compute(
        f"{whole}.usd_per_kg.over_leaving",
        renew_parts.cost_of_mass,
        unit="USD",
        title="Cost of a kilogram beyond a bed that is left",
        cost=f"{whole}.cost_usd",
        rate="inputs.money.rate",
        years=added,
        per_year=f"{whole}.more_per_year_kg",
    )


def _add_convert(trace: Trace) -> None:
    here, given = "renew.options.convert", "inputs.renew.convert_removed_per_year_kg"
    title = "Nitrogen kept back in a year by a raised outlet"
    key = f"{here}.removed_per_year_kg.p50"
    if not is_given(trace, given):
        how = "run tilewater compare, and give convert_removed_per_year under [renew]"
        trace.give(Given(key, Unknown("it was not worked out", how, (key,)), "kg", title))
    else:
        trace.compute(key, same, unit="kg", title=title, value=given)
    trace.compute(
        f"{here}.usd_per_kg.p50",
        renew_parts.cost_of_mass,
        unit="USD",
        title="Cost of a kilogram",
        cost=f"{here}.cost_usd",
        rate="inputs.money.rate",
        years="inputs.money.years",
        per_year=key,
    )


def _add_contract(trace: Trace) -> None:
    ends, key = "inputs.renew.contract_end", "renew.contract_left_years"
    title = "Years that the contract has to run"
    if not is_given(trace, ends):
        how = "read the contract, and give contract_end under [renew]"
        trace.give(Given(key, Unknown("no contract is given", how, (key,)), "years", title))
        return
    trace.compute(
        key,
        renew_days.years_between,
        unit="years",
        title=title,
        first="renew.day",
        second=ends,
    )

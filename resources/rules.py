"""What a rule must not say: held against the files when they are read, and against the figures of
an owner's own manual."""

from __future__ import annotations

from enum import StrEnum

from schedules.facts import Phase, Rule

YEAR_MONTHS = 12


class RuleFault(StrEnum):
    """Why a rule cannot stand."""

    SEVERAL_PHASES = "several_phases"
    END_IN_A_YEAR = "end_in_a_year"
    IN_ALONE = "in_alone"
    NOTHING = "nothing"
    FUEL_BY_MONTHS = "fuel_by_months"
    FIRST_OF_REPLACEMENT = "first_of_replacement"


def rule_fault(rule: Rule, *, replaces: bool) -> RuleFault | None:
    """The first thing that is wrong with a rule. `replaces`: its task puts a new part in."""
    months = rule.months
    if months is not None and months >= 2 * YEAR_MONTHS and len(rule.phases) > 1:
        return RuleFault.SEVERAL_PHASES
    if Phase.END in rule.phases and months is not None and months < YEAR_MONTHS:
        return RuleFault.END_IN_A_YEAR
    steady = rule.run_seconds or months or rule.uses or rule.each_use
    if Phase.IN in rule.phases and not steady:
        return RuleFault.IN_ALONE
    dated = (rule.first_seconds, rule.phases, rule.limits, rule.nth_of)
    if not (steady or any(dated) or rule.on_sight or rule.on_fault or rule.fuel_age):
        return RuleFault.NOTHING
    if rule.fuel_age and months is not None:
        return RuleFault.FUEL_BY_MONTHS
    if replaces and rule.first_seconds is not None:
        return RuleFault.FIRST_OF_REPLACEMENT
    return None

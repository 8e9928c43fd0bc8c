"""From tables to records: whose rules count, and the figures of the place."""

from __future__ import annotations

from bossage.brief.faults import Bad
from bossage.brief.figures import read_figure
from bossage.brief.notes import Notes
from bossage.brief.sections import Tables
from bossage.countries import IN_DEGREES, MEANING, Country, LocalFigure, Rule, Rules, unit_of
from bossage.units import NM_PER_MM

MOST_DEG, MOST_MM = 180, 20_000
_PAIRS = ((Rule.LOWEST_REACH, Rule.HIGHEST_REACH), (Rule.JUTTING_FROM, Rule.JUTTING_TO))


def settle_rules(tables: Tables, notes: Notes) -> Rules:
    """The set that the brief names, else the one that its unit chooses; each local figure once, and no band turned."""
    country = tables.one("rules").country
    if country is None:
        country = Country.UNITED_STATES if tables.unit == "in" else Country.EUROPE
        what = "inches" if tables.unit == "in" else "millimetres"
        notes.add("rules.country", country.value, f"the brief is in {what}; name the country whose rules count")
    local: dict[Rule, LocalFigure] = {}
    for path, table in tables.many("local"):
        if table.rule in local:
            tables.fault(f"{path}.rule", f"a second figure for {table.rule.value}", "one for each rule", "Keep one.")
            continue
        try:
            figure = _figure(table.rule, table.figure, tables.unit)
        except Bad as bad:
            _, found, allowed, remedy = bad.items[0]
            tables.fault(f"{path}.figure", found, allowed, remedy)
            continue
        local[table.rule] = LocalFigure(rule=table.rule, value=figure, by=table.by)
    rules = Rules(country=country, local=tuple(local.values()))
    for low, high in _PAIRS:
        given = low in local or high in local
        if given and tables.sound("local") and rules.held(low).value >= rules.held(high).value:
            allowed = f"{low.value} below {high.value}"
            tables.fault("local", f"{low.value} not below {high.value}", allowed, "Give both figures of the place.")
    return rules


def _figure(rule: Rule, value: object, unit: str) -> int:
    """Nanometres, or whole degrees."""
    remedy = "Write the figure as the authority has given it."
    read = read_figure(unit_of(rule), value, unit, MEANING[rule], remedy)
    most = MOST_DEG if rule in IN_DEGREES else MOST_MM
    if not 0 < read <= most:
        raise Bad(f"{read:g}", f"{MEANING[rule]}: above 0, at most {most:,}", remedy)
    return round(read) if rule in IN_DEGREES else round(read * NM_PER_MM)

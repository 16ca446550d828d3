"""What a formula's page shows beside its form: its data tables and where the guide uses it."""

from __future__ import annotations

import pytest
from build_up import BUILD_UP
from guides import the_guide
from own_tables import DATA, FORMULAS

from build_tools.formulas import Formula
from build_tools.guide.formula_views import formula_view, table_view
from build_tools.model import DATA_TABLES


def test_table_is_shown_with_units_and_sources() -> None:
    (table,) = formula_view(the_guide(), BUILD_UP).tables
    assert (table.title, table.heads) == ("Metals", ("Density, kg/m³", "Expansion, µm/(m·K)"))
    lead = table.rows[0]
    assert (lead.label, lead.cells, lead.mark) == ("Lead", ("11340", "29.7"), "a")
    assert dict(table.sources)[lead.mark] == lead.source == "metal-properties"


@pytest.mark.parametrize("name", DATA_TABLES)
def test_every_row_of_every_table_can_be_shown(name: str) -> None:
    table = table_view(name, DATA[name])
    assert [row.label for row in table.rows] == [row.label for row in DATA[name].values()]
    assert all(len(row.cells) == len(table.heads) and all(row.cells) for row in table.rows)
    assert all(row.mark for row in table.rows)


@pytest.mark.parametrize("formula", FORMULAS.values(), ids=FORMULAS.keys())
def test_all_uses_are_named(formula: Formula) -> None:
    guide = the_guide()
    view = formula_view(guide, formula)
    named = guide.formulas[formula.id]
    steps = [(tree.id, step.id) for tree in guide.trees for step in tree.steps if step.formula is named]
    assert [use.address for use in view.steps] == [f"walk/{tree}.html#{step}" for tree, step in steps]
    asked = {
        each.id
        for each in guide.remedies
        for item in each.remedy.materials
        if formula.id in (item.formula, "take-off" if item.take_off else None)
    }
    assert {each.id for each in view.remedies} == asked

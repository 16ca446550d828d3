"""Formulas of sheet metal: laps, soakers, mass, growth with heat."""

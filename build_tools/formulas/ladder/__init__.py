"""Formulas of ladders: how far out the foot stands."""

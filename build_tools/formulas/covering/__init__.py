"""Formulas of the covering: pitch, laps, gauge, courses, underlay."""

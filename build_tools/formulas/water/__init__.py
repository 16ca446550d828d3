"""Formulas of water: rain, driving rain, gutters beside and behind a light, at the eaves."""

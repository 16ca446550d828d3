"""Formulas of moisture made indoors: dew point, cold surfaces, layers, ventilation, timber, drying."""

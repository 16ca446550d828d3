"""Formulas of finding out: where outside, where to pour water, what a log of rain tells."""

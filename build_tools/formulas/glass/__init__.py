"""Formulas of panes: what a pane weighs and who lifts it."""

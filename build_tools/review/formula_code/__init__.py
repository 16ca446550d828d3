"""The formulas of two versions: what differs in their code, and in what they give when both are run."""

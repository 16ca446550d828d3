"""A guide proved: every rule, what an order of checks costs, the hash of what each tree says.

In: a `Draft`. Out: a `CheckedGuide` or problems, and the report of them. Nothing later proves anything again.
"""

"""The rules of `check`, one module a kind.

In: a `Draft` and its graph. Out: findings, each with its rule, its place and how to mend it.
"""

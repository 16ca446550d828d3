"""What the shell shows of a guide: walks and calculations as text, searches, coverage, reading age.

In: views, walks and what somebody typed. Out: text and plain answers; `__main__` alone prints them.
"""

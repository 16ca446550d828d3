"""What can be typed after `python -m build_tools`, and what each of the author's commands does.

In: the words of a command line. Out: what to run, or the text to print and the exit code; nothing is printed here.
"""

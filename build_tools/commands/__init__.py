"""What can be typed after `python -m build_tools`: a module a command, with its arguments beside what runs it.

In: the words of a command line. Out: the text to print and the exit code; nothing is printed here.

A command imports what it works with when it runs, so that none waits for what only another one needs.
"""

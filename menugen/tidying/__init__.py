"""A house's files in one order and one spacing, so that a diff shows changes and not habits.

Comes in: the text of a spec, stock, event or house file. Goes out: the same text, tidied; its meaning never changes.
Knows nothing of: what a drink works out to, git, or any file but the one it is given.
"""

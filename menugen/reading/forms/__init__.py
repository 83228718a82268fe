"""What each kind of file may hold: every key, its shape, and what it means.

Comes in: plain data of one document (keys, lists, text). Goes out: checked values, or every fault at once.
Knows nothing of: files, lines and columns, other documents.
"""

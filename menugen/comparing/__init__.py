"""Two houses compared in facts: what changed, each change once, with its causes.

Comes in: two houses as they were read. Goes out: a Comparison.
Knows nothing of: pages, guests' words, how anything is shown. Every rule it applies is that of facts/ and bar/.
"""

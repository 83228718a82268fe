"""The house as it was, and what changed: its files straight from git's objects, and two houses compared in facts.

Comes in: a folder and revisions. Goes out: HouseFiles that reading/ takes like files on the disk; a Comparison.
Knows nothing of: pages, guests' words, how anything is shown. Every rule it applies is that of facts/ and bar/.

What it promises is in its modules, each named for one question: `editions` and `comparison` (what changed), `life` (one
drink), `served` (which menu was that), `printed_card` and `since_card` (what guests with a card must know), `version`
(which house a menu is of), `revision` (files at a revision), `chart`. Nothing is gathered here, since a publish needs
only the last few of them and should not wait for the others.
"""

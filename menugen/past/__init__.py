"""What was: one drink's history, the menus of an evening, what has changed since a table's card was printed.

Comes in: a house's folder, or a card's revision. Goes out: DrinkHistory, ServedEvents, SinceCard.
Knows nothing of: how git is asked (revisions/), what makes two drinks differ (comparing/), how anything is shown.

A publish needs `printed_card` and `since_card` alone, and should not wait for the others: nothing is gathered here.
"""

"""What was: one drink's life, the menus of an evening, what has changed since a table's card was printed.

Comes in: a house's folder, or a card's revision. Goes out: Life, Servings, SinceCard.
Knows nothing of: how git is asked (revisions/), what makes two drinks differ (comparing/), how anything is shown.
"""

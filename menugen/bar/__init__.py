"""What the bar needs to know of an event and no guest may see: so far, what each drink costs to make.

Comes in: worked-out drinks (facts/). Goes out: its cost, line by line; private.
Knows nothing of: files, pages, guests.
"""

from menugen.bar.cost import Cost, CostLine, serve_cost, stock_currency

__all__ = ["Cost", "CostLine", "serve_cost", "stock_currency"]

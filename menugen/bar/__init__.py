"""What the bar needs to know of an event and no guest may see: so far, what each drink costs to make.

Comes in: worked-out drinks (facts/). Goes out: a BarPack; private.
Knows nothing of: files, pages, guests.
"""

from menugen.bar.cost import Cost, CostLine, serve_cost, stock_currency
from menugen.bar.pack import BarDrink, BarPack, bar_pack

__all__ = ["BarDrink", "BarPack", "Cost", "CostLine", "bar_pack", "serve_cost", "stock_currency"]

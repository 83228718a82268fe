"""Every figure of a drink with its working."""

from menugen.facts.event import Setting
from menugen.facts.lab_note import Working
from menugen.facts.serve import DrinkFacts
from menugen.facts.shared import serve_working
from menugen.facts.taste import poured_lines, taste_of
from menugen.facts.working_glass import glass_working, on_ice_working
from menugen.facts.working_melt import melt_working
from menugen.facts.working_pours import mix_working, pour_working, strength_working, volume_working
from menugen.facts.working_price import price_working
from menugen.facts.working_taste import energy_working, taste_working, units_working


def working_of(facts: DrinkFacts, setting: Setting) -> tuple[Working, ...]:
    """Return the working of every figure of a drink as written, in the order one rests on another."""
    serve, law = facts.serve, setting.region.energy_factors
    taste = taste_of(serve, law)
    return (
        *(pour_working(item) for item in poured_lines(serve)),
        mix_working(serve),
        *melt_working(facts),
        volume_working(serve),
        strength_working(serve, taste),
        *glass_working(facts),
        *on_ice_working(facts),
        units_working(serve, taste, setting),
        *price_working(serve, setting.region),
        *taste_working(serve, taste),
        energy_working(serve, taste, law, "kJ"),
        energy_working(serve, taste, law, "kcal"),
        *serve_working(serve, taste, setting),
    )

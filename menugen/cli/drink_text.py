"""One drink worked out, as text for a bartender at a terminal."""

from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Decimal
from typing import NamedTuple

from babel import Locale
from babel.numbers import format_currency

from menugen import mixing
from menugen.bar import Cost
from menugen.cli.label_text import (
    also_named,
    contains_phrase,
    contains_words,
    distilled_words,
    words_of,
)
from menugen.cli.working_text import ranged
from menugen.facts import BottleLine, DrinkFacts, Serve, Setting
from menugen.facts.doubt import Worked
from menugen.facts.family import FamilyPlane
from menugen.facts.in_glass import InGlass, less_ice_words
from menugen.facts.sale_rules import least_price, serving_age
from menugen.facts.shared import one_serve
from menugen.facts.taste import TasteFacts, taste_of
from menugen.facts.working_glass import MINUTES_ON_ICE, strength_on_ice
from menugen.measures import OunceKind, show_ml, show_ounces
from menugen.menu.language import english
from menugen.menu.strength import strength_words
from menugen.menu.units import shared_units_words
from menugen.records import Event, Line, MenuEntry, Role
from menugen.regions import Region
from menugen.report import Column, Note, Report, Row, Rows, Section, Table

_NO_BREAK = "\N{NO-BREAK SPACE}"

_ROLE_WORDS = {
    Role.POUR: "",
    Role.TOP: "on top",
    Role.FLOAT: "float",
    Role.RINSE: "rinse",
    Role.INSIDE: "inside the glass",
    Role.RIM: "rim",
    Role.GARNISH: "garnish",
}

_MELT_WORDS = {
    "none": "nothing",
    "house's own measure": "the house's own measure",
    "blended ice": "the ice blended in",
    "melting floor": "what it takes to cool it to 0 °C",
    "shaken equation": "the equation for shaking",
    "stirred equation": "the equation for stirring",
    "energy balance": "the heat it gives to the ice",
}
"""How a sentence names the rule behind the melt; JSON has its id."""


def own_words(line: Line) -> str:
    """Return the measure in the spec's own word where that is neither litres nor ounces: "2 dashes"; else nothing."""
    measure = line.measure
    has_word = measure.mass_g is None and measure.unit not in ("ml", "cl", "l", "oz", "top")
    return measure.text if has_word else ""


def _amounts(item: BottleLine, ounce: OunceKind) -> tuple[str, str]:
    """Return a line's measure twice: in millilitres and bar-rounded ounces, or in its own word and millilitres."""
    words = own_words(item.line)
    if item.volume_ml > 0:
        volume = show_ml(item.volume_ml)
        return (words, volume) if words else (volume, show_ounces(item.volume_ml, ounce))
    if item.mass_g > 0:
        return words or f"{item.mass_g:g} g", f"{item.mass_g:g} g" if words else ""
    return item.line.measure.text, ""


def _bottle(item: BottleLine) -> str:
    """Return what fills a line where that says more than the line itself, and how strong it is."""
    name = "" if item.stock.name.casefold() == item.line.name.casefold() else item.stock.name
    strength = f"{item.stock.abv_percent:g} % vol" if item.stock.abv_percent and item.contents else ""
    return ", ".join(filter(None, (name, strength)))


def _lines(items: Iterable[BottleLine], ounce: OunceKind) -> Table:
    rows = []
    for item in items:
        measure, other = _amounts(item, ounce)
        words = ", ".join(filter(None, (_ROLE_WORDS[item.line.role], _bottle(item))))
        # A figure and its unit stay together.
        rows.append((measure, other, item.line.name, words.replace(" % vol", f"{_NO_BREAK}%{_NO_BREAK}vol")))
    columns = (Column(right=True, least=10), Column(right=True, least=8), Column(), Column())
    return Table(columns, tuple(rows))


def _estimates(items: Iterable[BottleLine]) -> str:
    """Return which values are usual ones for their kind and not from a label; empty where none is."""
    told = []
    for item in items:
        guessed = [
            content.what for content in item.contents if content.basis == "reference" and content.amount > 0
        ]
        if guessed:
            told.append(f"{' and '.join(guessed)} of {item.stock.name}")
    return ", ".join(dict.fromkeys(told))


def money(amount: Decimal, currency: str) -> str:
    """Return an amount as it is printed: "£1.58"."""
    return format_currency(
        amount.quantize(Decimal("0.01"), ROUND_HALF_UP), currency, locale=Locale("en", "GB")
    )


def _method(facts: DrinkFacts) -> str:
    steps = [
        step.verb if step.seconds is None else f"{step.verb} {step.seconds:g} s" for step in facts.spec.method
    ] or ["build"]
    strain = {"fine": "strain fine", "single": "strain", "dump": "pour unstrained"}.get(facts.spec.strain, "")
    return ", ".join(filter(None, (*steps, strain)))


def _glass(facts: DrinkFacts) -> str:
    vessel, fit = facts.vessel, facts.serve.fit
    if vessel is None or fit is None:
        return facts.spec.glass
    level_ml = fit.surface_ml + fit.foam_ml
    of_it = [
        f"{ml:.0f} ml of it {what}"
        for what, ml in ((f"ice{_pieces(fit)}", fit.ice_ml), ("foam", fit.foam_ml))
        if ml > 0
    ]
    where = f"{vessel.brim_ml - level_ml:.0f} ml under the brim"
    if fit.over_brim_ml >= 0.5:
        less_ice = less_ice_words(facts.spec.ice, fit)
        where = (
            f"{fit.over_brim_ml:.0f} ml over the brim: smaller by {max(1, round(fit.smaller_by_ml))} ml, "
            + (f"{less_ice}, " if less_ice else "")
            + f"or a {fit.glass_that_fits_ml} ml glass"
        )
    return ", ".join((f"{vessel.name}, {vessel.brim_ml:.0f} ml: filled to {level_ml:.0f} ml", *of_it, where))


def _cost(cost: Cost, currency: str) -> str:
    missing = f", without {', '.join(dict.fromkeys(cost.unknown))}" if cost.unknown else ""
    known = money(cost.known, currency)
    if cost.serves > 1:
        known = f"{money(cost.a_serve, currency)} a serve, {known} the whole,"
    return f"{known} without tax{missing}"


def _pieces(fit: InGlass) -> str:
    """Return how many cubes the ice in a glass is, and whether it is less than usual; nothing where it is no cubes."""
    side = f"{mixing.cube_mm(fit.piece_g):.0f}\N{NO-BREAK SPACE}mm" if fit.piece_g > 0 else ""
    cubes = f" ({fit.pieces} {'cube' if fit.pieces == 1 else 'cubes'} of {side})" if side else ""
    return cubes + (" and less than usual" if fit.less_ice else "")


def _swap_line(line: Line, replaces: str) -> str:
    return f"{line.measure.text} {line.name}".strip() + f" instead of {replaces}"


class AtEvent(NamedTuple):
    """A drink on an event's menu: what its guests pay, in that event's currency (ISO 4217)."""

    event: Event
    entry: MenuEntry
    currency: str

    def price(self, serves: int) -> str:
        """Return what the menu says of it, in words; how many guests share it, since the price is the whole's."""
        price, name = self.entry.price, self.event.name
        if self.event.hosted:
            return f"none shown: {name} is hosted"
        if price is None:
            return f"none at {name}"
        of_all = f" for all {serves} serves" if price and serves > 1 else ""
        return f"{money(price, self.currency) if price else 'free'}{of_all} at {name}"

    def json(self) -> dict[str, str | bool | None]:
        """Return the same for a program."""
        price = self.entry.price
        return {
            "event": self.event.slug,
            "amount": None if price is None else f"{price:f}",
            "currency": self.currency,
            "shown": self.event.shown_price(self.entry) is not None,
        }


def drink_report(
    facts: DrinkFacts,
    setting: Setting,
    cost: Cost,
    currency: str,
    plane: FamilyPlane | None,
    at: AtEvent | None = None,
    *,
    ounce: OunceKind,
) -> Report:
    """Return what is to be said of a drink."""
    spec, serve, region = facts.spec, facts.serve, setting.region
    made = [*_made_rows(facts, region, at), *_rule_rows(serve, region)]
    made += _taste_rows(serve, taste_of(serve, region.energy_factors), plane)
    said = [Row("Contains", contains_words(serve))]
    if serve.declaration.may_contain:
        said.append(Row("May contain", ", ".join(words_of(serve.declaration.may_contain))))
    said += _apart_rows(serve)
    if serve.cautions:
        said.append(Row("Cautions", ", ".join(serve.cautions)))
    if at is not None:
        said.append(Row("Price", at.price(serve.serves)))
    said.append(Row("Cost", _cost(cost, currency)))
    if guessed := _estimates(serve.lines):
        said.append(Row("Estimated", f"{guessed}: usual values, no label states them; see --working"))
    for number, swap in enumerate(facts.swaps):
        said.append(Row("Swaps" if number == 0 else "", _swap_line(swap.swap.line, swap.swap.replaces)))
        said.append(Row("", _swap_facts(swap.serve, region)))
    making = f"{_method(facts)}; {spec.glass}" + (f", {spec.ice} ice" if spec.ice else "")
    parts = (_lines(serve.lines, ounce), Rows(tuple(made)), Rows(tuple(said)))
    return Report(spec.name, (Note(making),), tuple(Section(blocks=(part,)) for part in parts))


def _apart_rows(serve: Serve) -> list[Row]:
    """Return what labels say that is apart from what a drink contains; what guests are not told is said to be so."""
    declaration = serve.declaration
    rows = []
    shown = distilled_words(declaration)
    if shown:
        rows.append(Row("Distilled", f"from {', '.join(shown)}"))
    if named := also_named(declaration):
        rows.append(Row("Also named", f"{', '.join(named)}: on no list here, shown as said"))
    not_shown = [
        f"{item.stock.name} {done} {', '.join(words)}"
        for item in serve.lines
        for done, words in (
            ("is distilled from", item.stock.distilled_from if not shown else ()),
            ("is fined with", item.stock.fined_with),
        )
        if words
    ]
    if not_shown:
        rows.append(Row("For the bar", "; ".join(dict.fromkeys(not_shown))))
    return rows


def _made_rows(facts: DrinkFacts, region: Region, at: AtEvent | None) -> list[Row]:
    """Return what was poured, melted and served, how strong it is and how it sits in its glass."""
    serve, made = facts.serve, facts.serve.made
    # Where a bottle does not say how strong it is, what rests on it is not known: nothing is called free of alcohol.
    unknown = (
        f"strength not known, {' and '.join(serve.strengthless)} states none" if serve.strengthless else ""
    )
    poured = unknown or ranged(made.poured_abv_percent, 1, "% vol")
    served = unknown or ranged(made.served_abv_percent, 1, "% vol")
    rows = [Row("Poured", f"{made.poured.volume_ml:.0f} ml, {poured}")]
    if made.melt_g.value > 0:
        ratio = ranged(made.melt_ratio, 2, "")
        on_top = f", and {made.top_melt_g.value:.0f} g on top" if made.top_melt_g.value >= 0.5 else ""
        of_what = "of the mix" if made.is_worked else "of all of it"
        rows.append(
            Row(
                "Melt",
                f"{made.mix_melt_g.value:.0f} g of water, {ratio} {of_what} by {_MELT_WORDS[made.melt_basis]}{on_top}",
            )
        )
    kept = f"; {made.left_ml:.0f} ml stay in the tin" if made.left_ml > 0 else ""
    rows.append(Row("Served", f"{made.volume_ml.value:.0f} ml, {served}{kept}"))
    if unknown:
        return [*rows, Row("Glass", _glass(facts))]
    if serve.serves > 1:
        rows.append(Row("Serves", f"{serve.serves}, about {serve.served_ml / serve.serves:.0f} ml each"))
    says_strength = at is None or at.event.pours_alcohol
    said = strength_words(serve).replace(_NO_BREAK, " ")
    rows.append(
        Row("Menu says", said if says_strength else 'nothing of strength: the event is "alcohol: none"')
    )
    on_ice = strength_on_ice(facts)
    if made.ethanol_ml > 0 and facts.spec.ice and on_ice is not None:
        later = ranged(on_ice, 1, "% vol")
        rows.append(Row("On ice", f"{later} after {MINUTES_ON_ICE:.0f} minutes, for staff"))
    rows.append(Row("Alcohol", _alcohol(serve, region)))
    rows.append(Row("Glass", _glass(facts)))
    return rows


def _alcohol(serve: Serve, region: Region) -> str:
    """Return how much alcohol is in a drink; of one that guests share, in one serve and in the whole."""
    made, unit = serve.made, region.drink_unit
    if made.ethanol_ml <= 0:
        return "none"
    of_what = " of all that is poured" if made.left_ml > 0 else ""
    if serve.serves == 1:
        units = f"{unit.shown(made.ethanol_ml)} in {region.name}"
        return f"{made.ethanol_ml:.1f} ml, {made.ethanol_g:.1f} g{of_what}; {units}"
    told = (
        f"{made.ethanol_ml / parts:.1f} ml, {made.ethanol_g / parts:.1f} g, "
        f"{unit.shown(made.ethanol_ml / parts)} {where}"
        for parts, where in ((serve.serves, "in a serve"), (1, "in all"))
    )
    return f"{'; '.join(told)}{of_what}; as counted in {region.name}"


def _rule_rows(serve: Serve, region: Region) -> list[Row]:
    """Return what the rules of the place ask of a drink with alcohol: an age, and a price where they set one."""
    rows = []
    if (age := serving_age(serve, region)) is not None:
        rows.append(Row("Served from", f"{age} years in {region.called}"))
    least = least_price(serve, region)
    if least is not None and not serve.strengthless:
        rows.append(Row("Lowest price", f"{money(least, region.currency)} in {region.called}"))
    return rows


def beside_others(plane: FamilyPlane) -> str:
    """Return where a drink stands in its family, in a sentence."""
    of = len(plane.others)
    left = f"; {len(plane.left_out)} more could not be worked out" if plane.left_out else ""
    return (
        f'sweeter than {plane.sweeter_than} of {of} in the family "{plane.family}", '
        f"sharper than {plane.sharper_than} of {of}{left}"
    )


def _taste_rows(serve: Serve, taste: TasteFacts, plane: FamilyPlane | None) -> list[Row]:
    """Return sugar, acid, energy and fat, and where the drink stands in its family."""
    one = one_serve(serve, taste)

    def grams(of_one: Worked, of_all: Worked) -> str:
        whole = f", {of_all.figure.value:.1f} g in all" if serve.serves > 1 else ""
        return f"{of_one.figure.value:.1f} g in a serve{whole}"

    sugar, acid = grams(one.sugar_g, taste.sugar_g), grams(one.acid_g, taste.acid_g)
    rows = [
        Row("Sugar", f"{ranged(taste.sugar_g_per_l.figure, 0, 'g/l')}; {sugar}"),
        Row("Acid", f"{ranged(taste.acid_g_per_l.figure, 1, 'g/l')}; {acid}, as citric"),
    ]
    if taste.sweet_to_sour is not None:
        rows.append(Row("Sweet to sour", f"{ranged(taste.sweet_to_sour.figure, 1, '')} to 1"))
    if plane is not None and plane.others:
        rows.append(Row("Beside others", beside_others(plane)))
    energy = f"{one.energy_kj.figure.value:.0f} kJ, {ranged(one.energy_kcal.figure, 0, 'kcal')}"
    if serve.serves > 1:
        kj, kcal = taste.energy_kj.figure.value, taste.energy_kcal.figure.value
        energy += f" in a serve; {kj:.0f} kJ, {kcal:.0f} kcal in all"
    rows.append(Row("Energy", energy))
    if taste.fat_g.figure.value >= 0.05:
        whole = f", {taste.fat_g.figure.value:.1f} g in all" if serve.serves > 1 else ""
        rows.append(Row("Fat", f"{ranged(one.fat_g.figure, 1, 'g')} in a serve{whole}"))
    return rows


def _swap_facts(serve: Serve, region: Region) -> str:
    told = [
        strength_words(serve).replace(_NO_BREAK, " "),
        _units(serve, region),
    ]
    told.append(contains_phrase(serve))
    if serve.declaration.may_contain:
        told.append("may contain " + ", ".join(words_of(serve.declaration.may_contain)))
    if distilled := distilled_words(serve.declaration):
        told.append("distilled from " + ", ".join(distilled))
    if named := also_named(serve.declaration):
        told.append("labels also name " + ", ".join(named))
    if serve.cautions:
        told.append("cautions: " + ", ".join(serve.cautions))
    return "; ".join(filter(None, told))


def _units(serve: Serve, region: Region) -> str:
    """Return the units in a drink as the menu says them; empty without alcohol."""
    return shared_units_words(region.drink_unit, serve.made.ethanol_ml, serve.serves, english())

"""Strategies for the whole domain: lines as bartenders write them, and text nobody should have to read."""

from fractions import Fraction

from hypothesis import strategies as st

HOSTILE_PIECES = (
    "\x00", "\x07", "\x1b[31m", "\x7f", "\x85", "\u2028", "\u202e", "\ufeff", "\ud800", "\ufffe", "\t", "\r", "\r\n",
    "\n", "---\n", "...\n", "%YAML 1.2\n", "&a ", "*a",
    "!!python/object:os.system ", "<<: ", "[", "]", "{", "}", ": ", "- ",
    "? ", "|", ">", "'", '"', "#", "`", "@", "0x", "1e999", "½", "٤٥", "22,5", "2-3", "-1", "9" * 400, "gin" * 200,
    "العربية", "漢字", "e\u0301", "👩‍🚀", "```", "## Bar notes", "../../", "C:\\", "\\", "\\x00",
)  # fmt: skip

KEYS = (
    "name", "pour", "top", "float", "rinse", "inside", "rim", "garnish", "method", "strain", "glass", "ice", "swap",
    "part",
    "cautions", "family", "melt", "source", "bottle", "each", "pack", "price", "abv", "sugar", "contains",
    "may contain",
    "distilled from", "sulphites", "checked", "aliases", "colour", "event", "date", "hours", "region", "currency",
    "languages", "guests", "tables", "address", "theme", "bottles", "menu", "section", "drinks", "off", "hide off",
    "listed", "glasses", "rules", "specs", "stock", "events", "ounce", "as", "brim", "profile",
)  # fmt: skip

VALUES = (
    "50 ml gin", "1 1/2 oz rye", "2 dashes of bitters", "lemon twist", "top with soda water", "coupe", "shake 12 s",
    "none", "milk", "24 %", "240 g/l", "700 ml", "17.90", "2026-12-12", "19:00-00:30", "GB-ENG", "yes", "no", "12",
    "null",
    "", "~", "[milk, egg]", "{pour: 10 ml rum, as: float}", "https://menu.example/lantern/", "[[0, 5], [10, 20]]",
)  # fmt: skip

UNITS = {
    "ml": 1.0,
    "cl": 10.0,
    "oz": 30.0,
    "dash": 0.8,
    "dashes": 0.8,
    "barspoons": 5.0,
    "tsp": 5.0,
    "drops": 0.05,
}

_plain_words = st.sampled_from(
    ("dark rum", "gin", "lemon juice", "oat cream", "aromatic bitters", "crème de mûre", "soda water")
)


def hostile_text() -> st.SearchStrategy[str]:
    """Text made to break a reader: control characters, odd scripts, YAML's own signs, very long words."""
    pieces = st.one_of(st.sampled_from(HOSTILE_PIECES), st.text(max_size=12))
    return st.lists(pieces, max_size=12).map("".join)


def nearly_yaml() -> st.SearchStrategy[str]:
    """Text that looks much like one of our files: right keys, right and wrong values, odd indentation."""
    value = st.one_of(st.sampled_from(VALUES), hostile_text())
    line = st.builds(
        lambda indent, dash, key, colon, text: f"{indent}{dash}{key}{colon}{text}\n",
        st.sampled_from(("", "", "  ", "    ", "\t")),
        st.sampled_from(("", "", "- ")),
        st.one_of(st.sampled_from(KEYS), st.just("")),
        st.sampled_from((": ", ": ", ":", "")),
        value,
    )
    return st.lists(line, max_size=14).map("".join)


def names() -> st.SearchStrategy[str]:
    """Names of things that are poured."""
    return _plain_words


def numbers() -> st.SearchStrategy[tuple[str, float]]:
    """A number as it may be typed, and what it is."""
    whole = st.integers(1, 60)
    fractions = st.sampled_from(((1, 2), (1, 3), (2, 3), (1, 4), (3, 4), (1, 8)))
    vulgar = st.sampled_from((("½", 0.5), ("¼", 0.25), ("¾", 0.75), ("⅓", 1 / 3), ("⅔", 2 / 3)))
    tenths = st.integers(1, 600).map(lambda tenth: (f"{tenth / 10:.1f}", tenth / 10))
    return st.one_of(
        whole.map(lambda number: (str(number), float(number))),
        tenths,
        fractions.map(lambda pair: (f"{pair[0]}/{pair[1]}", float(Fraction(*pair)))),
        st.tuples(whole, fractions).map(
            lambda both: (f"{both[0]} {both[1][0]}/{both[1][1]}", both[0] + float(Fraction(*both[1])))
        ),
        vulgar,
        st.tuples(whole, vulgar).map(lambda both: (f"{both[0]}{both[1][0]}", both[0] + both[1][1])),
    )


def lines() -> st.SearchStrategy[tuple[str, str, float]]:
    """A line as a bartender writes it, the name in it and the millilitres it comes to with a 30 ml ounce."""
    return st.builds(
        lambda number, unit, space, of, name: (
            f"{number[0]}{space}{unit} {of}{name}",
            name,
            number[1] * UNITS[unit],
        ),
        numbers(),
        st.sampled_from(sorted(UNITS)),
        st.sampled_from((" ", "  ", "")),
        st.sampled_from(("", "of ")),
        names(),
    )

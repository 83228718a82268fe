"""The interface's words: every word on a guest's page that is neither the user's nor the law's.

The ids are English sentences (gettext style), so that a catalogue of another language can be laid beside them.
"""

from collections.abc import Mapping

WORDS: Mapping[str, str] = {
    "skip": "Skip to the drinks",
    "sections": "Sections",
    "drinks": "Drinks",
    "drinks_of": "Drinks at {event}",
    "back_to_menu": "All drinks",
    "allergen_table": "Allergens, drink by drink",
    "notices": "Strength, law and help",
    "tell_the_bar": "Allergic, pregnant or driving? Tell the bar before you order.",
    "made_with": "Made with",
    "contains": "Contains",
    "may_contain": "May contain",
    "distilled_from": "Distilled from",
    "also_named": "Labels also name",
    "also_warned_of": "Labels also warn of",
    "contains_none": "no listed allergen on the labels we read",
    "strength": "Strength",
    "units": "Alcohol",
    "serves": "For sharing",
    "price": "Price",
    "glass": "Glass",
    "good_to_know": "Good to know",
    "swaps": "Can be made another way",
    "also_with": "Can also be made with",
    "ask_for": "Ask for it made with",
    "as_it_comes": "As it comes",
    "read_on": "Read on",
    "sold_out": "Sold out",
    "leave_out": "Leave out drinks with …",
    "leave_out_help": "Hides drinks that contain or may contain what you tick. "
    "A drink that can be made without it stays, and says what to ask for. "
    "It cannot make a drink safe: still tell the bar.",
    "only_alcohol_free": "Show only alcohol-free drinks",
    "hide_sold_out": "Hide drinks that are sold out",
    "show_all": "Show every drink again",
    "some_hidden": "Some drinks are hidden by your choices above.",
    "listed_contains": "contains",
    "listed_may_contain": "may contain",
    "listed_distilled_from": "distilled from",
    "not_listed": "not listed",
    "drink": "Drink",
    "table": "Table {number}",
    "uncommitted": "with changes not yet committed",
    "since_card": "Since the card was printed",
    "saved_copy": "This page is a copy saved on your phone, menu {version}. "
    "What is in a drink or sold out may have changed since: ask the bar.",
    "not_found": "There is no such page here",
    "not_found_help": "The menu is one tap away:",
    "scan": "Tonight's drinks, strengths and allergens",
    "or_type": "or type this address",
    "required_here": "Asked for by the rules of this place",
    "customary_here": "Good practice",
    "local_law": "Rules differ from place to place and change. "
    "The licensing authority here decides; this page is not legal advice.",
    "no_medical": "This page is no medical advice. Ask your doctor or pharmacist.",
    "ice_note": "Strength is as handed over. Drinks on ice grow weaker as the ice melts.",
    "about_strength": "How strong are the drinks?",
    "crossed": "How we work",
    "languages": "Languages",
    "comma": ",",
}
"""By id. {braces} are filled in by menu/ or writing/ with names, never with markup."""

WITHOUT_ALCOHOL: Mapping[str, str] = {
    "notices": "Law and good practice",
    "tell_the_bar": "Allergic? Tell the bar before you order.",
    "scan": "Tonight's drinks and allergens",
    "local_law": "Rules differ from place to place and change. "
    "The authorities here decide; this page is not legal advice.",
}
"""By id: what stands in the place of WORDS on a menu none of whose drinks holds alcohol."""

FREE = "free"
ABOUT = "about {percent} % vol"
UNDER = "under {percent} % vol"
LABELLED = "{percent} % vol"
NO_ALCOHOL = "no alcohol"
LESS_THAN = "less than {figure}"
SERVE, SERVES = "serve", "serves"
EACH_AND_ALL = "about {each} in one serve, {all} in all"
UNDER_EACH_AND_ALL = "{each} in one serve, {all} in all"
FOR_ALL = "for all {serves}"
INSTEAD = "{new} instead of {old}"
ADDS = "adds {words}"
MAY_ADD = "may add {words}"
LEFT = "{left} of {all}"
SHARED = "We work with {shared}, so traces can pass from one drink to the next."
NO_PROMISE = "We cannot promise that a drink is free of any allergen. Please tell us before you order."
WHEN = "{day}, {start} – {end}"
ROW = ", "
VERSION = "Menu {version} · {day}"
CARD_PHRASES: Mapping[str, str] = {
    "now_contains": "now contains {words}",
    "each_now_contains": "each now contains {words}",
    "may_now_contain": "may now contain {words}",
    "each_may_now_contain": "each may now contain {words}",
    "now_distilled_from": "now with spirit distilled from {words}",
    "new": "not on the card",
    "listed": "{label}: {words}",
    "unknown": "cannot be compared with the card",
    "swap_gone": "this choice is no longer offered",
    "only_may": "labels now say only “may contain”: {words}",
    "only_distilled_from": "labels now say only “distilled from”: {words}",
    "no_more": "labels no longer name {words}",
    "also": "; ",
    "ask_first": "Ask us before you rely on what labels no longer name.",
    "unsure": "Not every change is known, and the card may say otherwise. This page holds: ask us before you order.",
}
"""By id: what guests with a printed card are told of drinks, whose names stand before it; the last two are sentences.
{words} are names in a row as the catalogues have them, bare: a language that would decline them puts a colon before."""

PHRASES = (
    FREE,
    ABOUT,
    UNDER,
    LABELLED,
    NO_ALCOHOL,
    LESS_THAN,
    EACH_AND_ALL,
    UNDER_EACH_AND_ALL,
    FOR_ALL,
    INSTEAD,
    ADDS,
    MAY_ADD,
    LEFT,
    SHARED,
    NO_PROMISE,
    WHEN,
    ROW,
    VERSION,
    *CARD_PHRASES.values(),
)
"""What menu/ builds its sentences of. SERVE is a counted noun: what one guest gets of a bowl or a jug. EACH_AND_ALL
says how much is in one and in the whole, each "1.8 units"; the one after it is said where one serve has "less than 0.1
units". FOR_ALL follows a price, with "10 serves". ADDS and MAY_ADD follow the name of what is used instead, with
{words} as in CARD_PHRASES; LEFT counts the drinks that a choice leaves. WHEN is a day with its hours; ROW stands
between names without an "and"; VERSION names a menu and the day of its event."""

EQUIPMENT = (
    "shared shakers",
    "shared blender",
    "shared blenders",
    "shared strainers",
    "shared jiggers",
    "shared ice scoop",
    "shared ice scoops",
    "shared tongs",
    "shared glasses",
    "shared glasswasher",
    "shared boards and knives",
)
"""What events usually say is shared between drinks; other words are the user's to translate."""

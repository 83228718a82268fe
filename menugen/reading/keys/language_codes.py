"""The languages that have a code of two letters, to tell a mistyped one by."""

from collections.abc import Mapping
from types import MappingProxyType

TWO_LETTER_CODES = frozenset(
    """
    aa ab ae af ak am an ar as av ay az ba be bg bi bm bn bo br bs ca ce ch co cr cs cu cv cy da de
    dv dz ee el en eo es et eu fa ff fi fj fo fr fy ga gd gl gn gu gv ha he hi ho hr ht hu hy hz ia
    id ie ig ii ik io is it iu ja jv ka kg ki kj kk kl km kn ko kr ks ku kv kw ky la lb lg li ln lo
    lt lu lv mg mh mi mk ml mn mr ms mt my na nb nd ne ng nl nn no nr nv ny oc oj om or os pa pi pl
    ps pt qu rm rn ro ru rw sa sc sd se sg sh si sk sl sm sn so sq sr ss st su sv sw ta te tg th ti
    tk tl tn to tr ts tt tw ty ug uk ur uz ve vi vo wa wo xh yi yo za zh zu
    """.split()  # noqa: SIM905  (a list of one a line would be 184 lines)
)
"""ISO 639-1, as Unicode CLDR names it (the test compares them). Codes of three letters are taken as they come."""

MEANT: Mapping[str, str] = MappingProxyType(
    {
        "al": "sq", "at": "de", "au": "en", "cat": "ca", "cn": "zh", "cz": "cs", "deu": "de", "dk": "da",
        "eng": "en", "esp": "es", "fra": "fr", "fre": "fr", "gb": "en", "ger": "de", "gr": "el",
        "ir": "ga", "ita": "it", "jp": "ja", "mx": "es", "pol": "pl", "por": "pt", "spa": "es", "ua": "uk",
        "us": "en", "wel": "cy", "cym": "cy", "gle": "ga", "nld": "nl", "dut": "nl", "ara": "ar",
    }
)  # fmt: skip
"""Codes of countries and long codes that are typed for a language; offered, never taken silently."""

"""Style sheets of a stranger's look, read as browsers read them: nothing in them loads, runs or breaks out."""

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.shipped import shipped_folder
from menugen.writing.style_rules import DEEPEST, published_faults, style_faults, value_faults
from menugen.writing.theme import ThemeFault, load_theme, tight

SHIPPED = shipped_folder("themes")

REFUSED = {
    r"a{background:u\72l(x)}": (1, 14, '"url(x)" would load another file'),
    r'@imp\6frt "x";': (1, 1, '"@import" would load another file'),
    "@IMPORT url(x);": (1, 1, '"@IMPORT" would load another file'),
    "a{}\n  b{c:src(x)}": (2, 7, '"src(" may load another file'),
    "a{b:src(var(--x))}": (1, 5, '"src(" may load another file'),
    "a{b:image('x.png')}": (1, 5, '"image(" may load another file'),
    "a{b:image-set('x.png' 1x)}": (1, 5, '"image-set(" may load another file'),
    "a{b:-webkit-image-set('x.png' 1x)}": (1, 5, '"-webkit-image-set(" may load another file'),
    "a{b:image-set('data:image/png;base64,AA' 1x)}": (1, 5, '"image-set("'),
    "a{b:cross-fade(url(x), red)}": (1, 5, '"cross-fade("'),
    "a{b:element(#x)}": (1, 5, '"element("'),
    "a{b:-moz-element(#x)}": (1, 5, '"-moz-element("'),
    "a{b:paint(x)}": (1, 5, '"paint("'),
    "a{b:attr(x url)}": (1, 5, '"attr(... url)" would load another file'),
    "a{b:attr(x type(\\3c url>))}": (1, 12, '"type("'),
    "a{b:expression(alert(1))}": (1, 5, '"expression("'),
    "a{behavior:url(#x)}": (1, 3, '"behavior" would run code'),
    "a{BEHAVI\\4fR : url(#x)}": (1, 3, '"behavior" would run code'),
    "a{-moz-binding:none}": (1, 3, '"-moz-binding" would run code'),
    "a{--x:url(//example.org)}": (1, 7, '"url(//example.org)" would load another file'),
    "a{b:url(x.png)}": (1, 5, '"url(x.png)"'),
    "a{b:url( 'x.png' )}": (1, 5, '"url(x.png)"'),
    "a{b:url('')}": (1, 5, '"url()"'),
    "a{b:url()}": (1, 5, '"url()"'),
    "a{b:url('x' var(--y))}": (1, 5, '"url("'),
    "a{b:url(var(--y))}": (1, 5, "this address cannot be read"),
    "a{b:url(data:text/html,x)}": (1, 5, '"url(data:text/html,x)"'),
    "a{b:url(data:image/png)}": (1, 5, '"url(data:image/png)"'),
    "a{b:url(data:image/x-icon,x)}": (1, 5, '"url(data:image/x-icon,x)"'),
    "a{b:url(#a)}": (1, 5, '"url(#a)"'),
    "a{b:url(x y)}": (1, 5, "this address cannot be read"),
    "@font-face{src:url(x.woff2)}": (1, 16, '"url(x.woff2)"'),
    "@font-face{font-family:a;src:local(b),url(x)}": (1, 39, '"url(x)"'),
    "@namespace url(x);": (1, 1, '"@namespace" is not among the rules'),
    '@charset "utf-8";': (1, 1, '"@charset" is not among the rules'),
    "@-moz-document url(x){}": (1, 1, '"@-moz-document" is not among the rules'),
    "@unheard-of{}": (1, 1, '"@unheard-of" is not among the rules'),
    "@supports (a:image(x)){}": (1, 14, '"image("'),
    "@media print{a{b{c:src(x)}}}": (1, 20, '"src("'),
    "a[b=src(x)]{}": (1, 5, '"src("'),
    "a{b:unheard-of(1)}": (1, 5, '"unheard-of("'),
    "a{content:'\n'}": (1, 11, "this text is not closed on its line"),
    "a{b:c": (0, 0, "something in this style sheet is opened and never closed"),
    "a{b:'c": (1, 5, "this text is not closed on its line"),
    "a{b:url(data:image/png,": None,
    "a{}/* b": (0, 0, "something in this style sheet is opened and never closed"),
    "a{b:calc(1px}": None,
    "a}": (1, 2, '"}" closes what is not open'),
    "a)": (1, 2, '")" closes what is not open'),
    "a{content:'</style>'}": (1, 12, 'may not hold "<"'),
    "/* </style> */": (1, 4, 'may not hold "<"'),
    "a{}\n\n\n<!-- a{} -->": (4, 1, 'may not hold "<"'),
    "a{content:'/*'}": (1, 11, 'a text in a style sheet may not hold "/*"'),
    "a{b:url(data:image/svg+xml,/*x*/)}": (1, 5, 'a picture in a style sheet may not hold "/*"'),
    "(" * (DEEPEST + 2) + ")" * (DEEPEST + 2): (1, DEEPEST, "this is nested more than"),
}

FINE = (
    "",
    "a{b:url(data:image/png;base64,AAAA+/=)}",
    'a{b:URL( "data:image/SVG+xml,%3Csvg/%3E" )}',
    "a{b:url('data:image/webp;base64,AAAA')}",
    ".behavior:hover, #behavior:focus{scroll-behavior:smooth}",
    "a{--behavior:1}",
    "@media (min-width: 30em) and (prefers-color-scheme: dark){a:is(b,c):not(:has(d)){e:calc(1px + var(--f))}}",
    "@font-face{font-family:a;src:local('b')}",
    "@supports (display:grid) and selector(a:has(b)){@layer x{a{color:color-mix(in oklab,red,var(--a))}}}",
    "@keyframes x{from{transform:translateX(1px) rotate(1deg)}to{filter:drop-shadow(0 0 1px red)}}",
    "a::before{content:'\\2014' counter(x) attr(data-x)}",
    "@page{size:a4 landscape;@top-left{content:none}}",
    "a{background:linear-gradient(to right,rgb(0 0 0 / 50%),transparent),conic-gradient(red,blue)}",
    "a{b:url(data:image/png;base64,AA)}/* url(x) @import */",
    "@/**/import 'x';",
)


@pytest.mark.parametrize("css", REFUSED)
def test_what_a_style_sheet_may_not_hold_is_told_at_its_place(css):
    first = style_faults(css)[0]
    if REFUSED[css] is not None:
        line, column, message = REFUSED[css]
        assert (first.line, first.column) == (line, column)
        assert message in first.message
    assert first.hint


@pytest.mark.parametrize("css", FINE)
def test_what_loads_nothing_passes(css):
    assert style_faults(css) == ()
    assert published_faults(tight(css)) == ()


@pytest.mark.parametrize(
    "file", sorted(SHIPPED.glob("*/*.css")), ids=lambda file: file.parent.name + "/" + file.name
)
def test_the_shipped_style_sheets_keep_the_rules(file):
    css = file.read_text(encoding="utf-8")
    assert style_faults(css) == ()
    assert published_faults(tight(css)) == ()


def test_all_that_is_wrong_is_told_and_no_more_than_anyone_reads():
    assert [
        (fault.line, fault.column) for fault in style_faults("a{b:src(x)}\n@import 'x';\nc{d:url(x)}")
    ] == [
        (1, 5),
        (2, 1),
        (3, 5),
    ]
    assert len(style_faults("a{b:src(x)}" * 1000)) == 20


def look(folder: Path, css: str) -> list[Path]:
    home = folder / "mine"
    home.mkdir(exist_ok=True)
    (home / "theme.yaml").write_text("extends: slate\n", encoding="utf-8")
    (home / "style.css").write_text(css, encoding="utf-8")
    return [folder, SHIPPED]


@pytest.mark.parametrize(
    "css",
    [
        # What is taken for a comment there ends a text here, and the other way round.
        'a{content:"/\\*" \'*/" ; background:url(x) ; x:"\'}',
        "a\\",
        "a{b:\\",
        "a{b:c}\\\n",
    ],
)
def test_a_sheet_that_reads_otherwise_as_it_is_published_is_refused(tmp_path, css):
    with pytest.raises(ThemeFault) as caught:
        load_theme(look(tmp_path, css), "mine")
    assert Path(caught.value.problems[0].where.file) == tmp_path / "mine" / "style.css"


def test_every_fault_of_a_sheet_has_its_place(tmp_path):
    with pytest.raises(ThemeFault) as caught:
        load_theme(look(tmp_path, "a{b:src(x)}\n\nb{c:u\\72l(y)}"), "mine")
    assert [fault.where[1:3] for fault in caught.value.problems] == [(1, 5), (3, 5)]
    assert caught.value.problems[0].hints[0].startswith("a style sheet loads nothing")


def test_the_base_s_sheets_of_a_house_are_held_to_the_same(tmp_path):
    (tmp_path / "base").mkdir()
    (tmp_path / "base" / "base.css").write_text("a{b:src(x)}", encoding="utf-8")
    with pytest.raises(ThemeFault) as caught:
        load_theme([tmp_path, SHIPPED], "slate")
    assert Path(caught.value.problems[0].where.file) == tmp_path / "base" / "base.css"


def escaped(letters: str, how: list[int]) -> str:
    """Return an identifier with some of its letters written as CSS escapes."""
    made = []
    for number, letter in enumerate(letters):
        way = how[number % len(how)]
        code = f"{ord(letter):x}"
        made.append(
            {
                0: letter,
                1: letter.upper(),
                2: f"\\{code} ",
                3: f"\\{code.zfill(6)}",
                4: f"\\{code}\n",
                5: f"\\{code}\t",
            }[way]
        )
    return "".join(made)


ways = st.lists(st.integers(0, 5), min_size=6, max_size=16)
loaders = st.sampled_from(("url", "src", "image", "image-set", "cross-fade", "element", "paint"))


@given(loaders, ways, st.sampled_from(("x", "'x'", "//example.org/x", "'data:text/html,x'")))
def test_no_escape_hides_what_loads(name, how, what):
    css = f"a{{b:{escaped(name, how)}({what})}}"
    assert style_faults(css), css
    assert value_faults(f"{escaped(name, how)}({what})"), css


@given(ways)
def test_no_escape_hides_an_import(how):
    assert style_faults(f"@{escaped('import', how)} 'x';")


@given(
    st.text(alphabet="ab:;{}()[]\"'\\/*@#.,- \n\tu\u00e9", max_size=60),
    st.text(alphabet="\"'\\/*)(}{; \n", max_size=12),
)
def test_whatever_passes_stays_in_its_place_when_rules_follow(before, after):
    """What follows a sheet on the published one is read as itself: nothing before it took it in."""
    import tinycss2

    css = before + after
    if style_faults(css) or published_faults(tight(css)):
        return
    tokens = tinycss2.parse_component_value_list(tight(css) + "mark{}", skip_comments=True)
    assert [token.type for token in tokens[-2:]] == ["ident", "{} block"]
    assert not re.search(r"url\(|src\(|@import", tinycss2.serialize(tokens).replace("\\", ""), re.IGNORECASE)


@pytest.mark.parametrize(
    ("value", "fine"),
    [
        ("url(#a)", True),
        ("url( '#a' )", True),
        ("url(x#a)", False),
        ("rgb(0 0 0)", True),
        ("u\\72l(x)", False),
        ("image(x)", False),
        ("url(", False),
    ],
)
def test_a_value_of_an_attribute_may_point_into_its_page(value, fine):
    assert (value_faults(value) == ()) is fine

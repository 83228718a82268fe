"""Templates of a stranger's look: they reach nothing, end soon, stay small, and are named with their line."""

import re
from pathlib import Path

import pytest

from menugen.problems import Problem
from menugen.shipped import shipped_folder
from menugen.writing.page_rules import OwnParts, checked_page
from menugen.writing.templates import ThemeTemplates
from menugen.writing.theme import ThemeFault, load_theme, theme_names
from tests.writing.fixtures import rich_menu, site_files

SHIPPED = shipped_folder("themes")
BASE = SHIPPED / "base"
PAGE = '{% extends "frame.html.jinja" %}{% block main %}\n'


def look(folder: Path, name: str = "notices.html.jinja", text: str = "", **more: str) -> Path:
    home = folder / "mine"
    home.mkdir()
    (home / "theme.yaml").write_text("extends: slate\n", encoding="utf-8")
    for file, content in {name: text, **more}.items():
        (home / file).write_text(content, encoding="utf-8")
    return folder


def faults(folder: Path) -> tuple[Problem, ...]:
    """Return what stops a site in the look "mine"."""
    with pytest.raises(ThemeFault) as caught:
        site_files(rich_menu(), load_theme([folder, SHIPPED], "mine"))
    return caught.value.problems


def fault(folder: Path) -> Problem:
    return faults(folder)[0]


def place(found: Problem) -> tuple[str, int]:
    return Path(found.where.file).name, found.where.line


REACHES = {
    "{{ cycler.__init__.__globals__.os.system('true') }}": '"__init__" cannot be reached from a template',
    "{{ ''.__class__.__mro__ }}": '"__class__" cannot be reached',
    "{{ page['__class__'] }}": '"__class__" cannot be reached',
    "{{ page['__cla' ~ 'ss__'] }}": '"notice page" has no "__class__"',
    "{{ page.frame.menu['_' ~ '_init__'] }}": '"guest menu" has no "__init__"',
    "{{ page|attr('frame') }}": 'a look\'s template has no filter "attr"',
    "{{ page.frame.words.get('skip') }}": '"get"',
    "{{ page.frame.words.pop('skip') }}": '"pop"',
    "{{ page.frame.words.update(page.frame.words) }}": '"update"',
    "{{ page.frame.title.format(page) }}": 'a text has no "format"',
    "{{ page.frame.title.join }}": 'a text has no "join"',
    "{{ page.frame.title[0] }}": "a text has no",
    "{{ self._TemplateReference__context }}": "cannot be reached",
    "{{ self['_TemplateRef' ~ 'erence__context'] }}": "has no",
    "{% macro m() %}{% endmacro %}{{ m._func }}": '"_func" cannot be reached',
    "{% macro m() %}{% endmacro %}{{ m['_fu' ~ 'nc'] }}": 'the macro "m" has no "_func"',
    "{% macro m() %}{% endmacro %}{{ m.name }}": 'the macro "m" has no "name"',
    "{% for x in page.groups %}{{ loop['_iter' ~ 'able'] }}{% endfor %}": 'has no "_iterable"',
    '{% import "parts.html.jinja" as p %}{{ p["_body_" ~ "stream"] }}': '"parts.html.jinja" has no',
    "{{ range(10) }}": 'nothing is called "range" here',
    "{{ namespace() }}": 'nothing is called "namespace" here',
    "{{ lipsum() }}": 'nothing is called "lipsum" here',
    "{{ dict() }}": 'nothing is called "dict" here',
    "{{ page() }}": "a template may call macros and blocks, and nothing else",
    "{{ page }}": '"notice page" cannot be placed on a page',
    "{{ page.groups }}": "a row cannot be placed on a page",
    "{{ none }}": '"None" is no text',
    "{{ page.frame.menu.listed }}": "a yes or no cannot be placed",
    "{% set page.x = 1 %}": "",
    "{% macro m() %}{{ varargs }}{% endmacro %}": 'a look\'s template may not use "varargs"',
    "{% macro m() %}{{ kwargs }}{% endmacro %}": 'a look\'s template may not use "kwargs"',
    "{{ self.main(*page.groups) }}": 'a look\'s template may not use "*" in a call',
    "{{ page.frame.title|safe }}": 'a look\'s template has no filter "safe"',
    "{% autoescape false %}{{ page.frame.title }}{% endautoescape %}": 'may not use "autoescape"',
    "{{ page|map('upper') }}": 'no filter "map"',
    "{{ page is callable }}": 'no test "callable"',
    "{{ [page, page] }}": "a row written in a template may hold only texts and numbers",
    "{{ _charge }}": "cannot be reached",
    "{{ 5|_charge(-5) }}": 'no filter "_charge"',
    "{{ 'a'|_join('b') }}": 'no filter "_join"',
    "{{ context }}": 'nothing is called "context" here',
    "{{ environment }}": 'nothing is called "environment" here',
}

BOMBS = {
    "power": "{{ 10**9 }}",
    "times": "{{ 'x' * 1000000000 }}",
    "row times": "{{ ['x'] * 1000000000 }}",
    "width": "{{ '%1000000000s' % 'x' }}",
    "centre": "{{ 'x'|center(1000000000) }}",
    "indent": "{{ 'x'|indent(1000000000) }}",
    "replace": "{{ 'xxxx'|replace('x', page.frame.title) }}",
    "squares": "{% set a = 999 %}" + "{% set a = a * a %}" * 60 + "{{ a }}",
    "doubled": "{% set a = 'x' %}" + "{% set a = a ~ a %}" * 60,
    "many at once": "{% set a = 'xxxxxxxx' %}" + ("{% set a = a" + " ~ a" * 30 + " %}") * 9,
    "set": "{% set a %}xx{% endset %}" + "{% set a %}{{ a }}{{ a }}{% endset %}" * 60,
    "upper": "{% set a %}xx{% endset %}" + "{% set a = (a ~ a)|upper %}" * 60,
    "macros": "{% macro m0() %}xx{% endmacro %}"
    + "".join(f"{{% macro m{n + 1}() %}}{{{{ m{n}() }}}}{{{{ m{n}() }}}}{{% endmacro %}}" for n in range(38))
    + "{{ m38() }}",
    "no output": "{% macro m0() %}{% endmacro %}"
    + "".join(
        f"{{% macro m{n + 1}() %}}{{% set a = m{n}() %}}{{% set a = m{n}() %}}{{% endmacro %}}"
        for n in range(38)
    )
    + "{{ m38() }}",
    "itself": "{% macro m() %}{{ m() }}{{ m() }}{% endmacro %}{{ m() }}",
    "grows": "{% macro m(a) %}{{ m(a ~ a) }}{% endmacro %}{{ m('xxxxxxxxxxxxxxxxxxxx') }}",
    "includes itself": '{% include "notices.html.jinja" %}',
    "extends itself": '{% extends "notices.html.jinja" %}',
    "imports itself": '{% import "notices.html.jinja" as n %}',
    "block": "{% block a %}{{ self.a() }}{{ self.a() }}{% endblock %}",
    "recursive loop": "{% for a in page.groups recursive %}{{ loop(page.groups) }}{% endfor %}",
    "nested": "{% for a in page.frame.menu.words %}" * 7 + "{% endfor %}" * 7,
    "nested, nothing written": "{% for a in page.frame.menu.words %}{% for b in page.frame.menu.words %}"
    "{% for c in page.frame.menu.words %}"
    "{% for d in page.frame.menu.words if false %}{% endfor %}{% endfor %}{% endfor %}{% endfor %}",
    "much at each": "{% for a in page.frame.menu.words %}{% for b in page.frame.menu.words %}"
    + "x" * 50_000
    + "{% endfor %}{% endfor %}",
    "brackets": "{{ " + "(" * 3000 + "1" + ")" * 3000 + " }}",
    "loops": "{% for a in page.groups %}" * 30 + "{% endfor %}" * 30,
    "questions": "{% if page %}" * 2000 + "{% endif %}" * 2000,
    "number": "{{ " + "9" * 6000 + " }}",
    "large": "x" * 70_000,
}

FAULTS = {
    "\n\n{% if %}": (3, "this is no template: Expected an expression"),
    "\n{% blok x %}": (2, "this is no template: Encountered unknown tag 'blok'"),
    "\n{# never closed": (2, "this is no template: Missing end of comment tag"),
    "\n{% raw %}x": (2, "this is no template: Missing end of raw directive"),
    "\n{{ 'a }}": (2, "this is no template: unexpected char"),
    "\n{{ drnk.name }}": (2, 'nothing is called "drnk" here'),
    "\n{{ page.frame.menu.evnt }}": (2, '"guest menu" has no "evnt"; there is: address, '),
    "\n{{ page.frame.words.evnt }}": (2, 'a list of names has no "evnt"'),
    "\n{{ page.frame.title|shout }}": (2, 'no filter "shout"'),
    '\n{% include "gone.html.jinja" %}': (2, 'there is no template called "gone.html.jinja"'),
    '\n{% extends "gone.html.jinja" %}': (2, 'there is no template called "gone.html.jinja"'),
    "\n{% include page.frame.title %}": (2, "this does not name a template of the look"),
    '\n{% include "../slate/style.css" %}': (2, "this does not name a template of the look"),
    '\n{% import "/etc/passwd" as p %}': (2, "this does not name a template of the look"),
    '\n{% include ["gone.html.jinja", "../x.jinja"] %}': (2, "this does not name a template of the look"),
    "\n{% for x in 5 %}{% endfor %}": (2, "this cannot be done: 'int' object is not iterable"),
    "\n{{ -page.frame.title }}": (2, "this cannot be done: bad operand type"),
    "\n{{ 1 < page.frame.title }}": (2, "this cannot be done: '<' not supported"),
    "\n{{ page.frame.title + 1 }}": (2, '"+" is for whole numbers; texts are put together with "~"'),
    "\n{{ 1 % 0 }}": (2, "this divides by zero"),
    "\n{{ 1 / 2 }}": (2, 'may not use "/"'),
    "\n{% macro m(a) %}{{ a }}{% endmacro %}{{ m() }}": (2, "parameter 'a' was not provided"),
    "\n{% macro m() %}{% endmacro %}{{ m(1) }}": (2, "takes not more than 0 argument"),
    '\n{% import "parts.html.jinja" as p %}{{ p.swop() }}': (2, '"parts.html.jinja" has no "swop"'),
    '\n{% import "parts.html.jinja" as p %}{{ p.swap(page) }}': (2, '"notice page" has no "runs"'),
}

WRITTEN = {
    "<script>alert(1)</script>": "may write no script",
    '<script src="x.js"></script>': "would load something from elsewhere",
    "<script defer>1</script>": 'the attribute "defer"',
    '<script type="module">1</script>': "may write no script",
    '<p onclick="x">a</p>': '"onclick" would run a script',
    '<p onpointerenter="x">a</p>': '"onpointerenter" would run a script',
    "<p ONCLICK>a</p>": '"onclick" would run a script',
    "<p o{{ 'n' }}click=\"x\">a</p>": '"onclick" would run a script',
    "<{{ 'ifr' }}ame></iframe>": 'may not write "<iframe>"',
    '<iframe src="x"></iframe>': 'may not write "<iframe>"',
    '<object data="x"></object>': 'may not write "<object>"',
    '<embed src="x">': 'may not write "<embed>"',
    '<base href="https://example.org/">': 'may not write "<base>"',
    '<link rel="stylesheet" href="https://example.org/x.css">': "would load something from elsewhere",
    '<link rel="prefetch" href="index.html">': "may not write this <link>",
    '<meta http-equiv="refresh" content="0">': 'the attribute "http-equiv"',
    '<meta content="0">': "may not write this <meta>",
    '<meta name="referrer" content="unsafe-url">': "a page tells no other where its guest came from",
    '<img src="http://example.org/x.png" alt="">': "would load something from elsewhere",
    '<img src="//example.org/x.png" alt="">': "would load something from elsewhere",
    '<img src="/\\example.org/x.png" alt="">': "would load something from elsewhere",
    '<img src="\\\\example.org/x.png" alt="">': "would load something from elsewhere",
    '<img src="ht&#10;tp://example.org/x.png" alt="">': "would load something from elsewhere",
    '<img src="data:text/html,x" alt="">': "would load something from elsewhere",
    '<img srcset="a.png 1x, //example.org/x.png 2x" alt="">': "would load something from elsewhere",
    '<input src="x">': "would load something from elsewhere",
    '<a href="javascript:alert(1)">a</a>': "is no address that a page may lead to",
    '<a href="java&#10;script:alert(1)">a</a>': "is no address that a page may lead to",
    '<a href=" javascript:alert(1)">a</a>': "is no address that a page may lead to",
    '<a href="&#x6a;avascript:alert(1)">a</a>': "is no address that a page may lead to",
    '<a href="data:text/html,x">a</a>': "is no address that a page may lead to",
    '<a ping="x" href="#the_page">a</a>': 'the attribute "ping"',
    '<form action="https://example.org/"></form>': 'the attribute "action"',
    '<button formaction="x">a</button>': 'the attribute "formaction"',
    '<p style="color: red">a</p>': "a style attribute would be refused",
    "<style>a{b:u\\72l(x)}</style>": 'in a <style>, "url(x)" would load another file',
    "<style>{{ page.frame.title }}(</style>": "in a <style>",
    '<style media="print">a{}</style>': "a <style> takes no attributes",
    '<svg><image href="x.png"/></svg>': 'may not write "<image>"',
    '<svg><use href="x.svg#a"/></svg>': "would load something from elsewhere",
    '<svg><path fill="url(https://example.org/x)" d="M0 0"/></svg>': 'in "fill", "url(https://example.org/x)"',
    '<svg><path fill="u\\72l(x)" d="M0 0"/></svg>': 'in "fill", "url(x)"',
    '<svg><set attributeName="href" to="x"/></svg>': 'may not write "<set>"',
    "<svg><foreignObject></foreignObject></svg>": 'may not write "<foreignobject>"',
    "<p class='x'>a</p>": "this tag cannot be read for sure",
    "<p class=x>a</p>": "this tag cannot be read for sure",
    '<p title="<b>">a</p>': "this tag cannot be read for sure",
    "<!-- <script> -->": "this tag cannot be read for sure",
    "<!--><script>alert(1)</script>-->": "this tag cannot be read for sure",
    "<![CDATA[x]]>": "this tag cannot be read for sure",
    "<?x?>": "this tag cannot be read for sure",
    "<p": "this tag cannot be read for sure",
    "<title><b>x</b></title>": "a <title> may hold nothing but text",
    "<textarea></textarea>": 'may not write "<textarea>"',
    "<template></template>": 'may not write "<template>"',
    "<noscript></noscript>": 'may not write "<noscript>"',
    "<div>": '"<div>" is never closed',
    "</section>": '"</section>" closes what is not open',
}


@pytest.mark.slow
@pytest.mark.parametrize("text", REACHES)
def test_a_template_reaches_nothing_but_what_its_page_holds(tmp_path, text):
    found = faults(look(tmp_path, text=f"\n{text}"))
    assert any(REACHES[text] in one.message for one in found)
    assert place(found[0]) == ("notices.html.jinja", 2)


@pytest.mark.slow
@pytest.mark.parametrize("name", BOMBS)
def test_a_template_cannot_go_on_or_grow_without_end(tmp_path, name):
    found = fault(look(tmp_path, text=BOMBS[name]))
    assert place(found)[0] == "notices.html.jinja"
    assert "own fault" not in found.message


def test_a_macro_that_calls_itself_is_stopped_long_before_the_stack_is_full(tmp_path):
    assert fault(look(tmp_path, text=BOMBS["itself"])).message == "this calls itself again and again"


def test_two_templates_cannot_include_each_other_without_end(tmp_path):
    again = '{% include "a.jinja" %}{% include "a.jinja" %}'
    found = fault(look(tmp_path, text=again, **{"a.jinja": '{% include "notices.html.jinja" %}'}))
    assert found.message == "this calls or includes itself again and again"


@pytest.mark.slow
@pytest.mark.parametrize("text", FAULTS)
def test_a_fault_in_a_template_is_told_at_its_line(tmp_path, text):
    line, message = FAULTS[text]
    found = fault(look(tmp_path, text=text))
    assert message in found.message
    assert place(found) == ("notices.html.jinja", line)
    assert Path(found.where.file) == tmp_path / "mine" / "notices.html.jinja"


@pytest.mark.slow
@pytest.mark.parametrize("html", WRITTEN)
def test_a_template_writes_nothing_that_loads_or_runs(tmp_path, html):
    found = fault(look(tmp_path, text=f"{PAGE}{html}\n{{% endblock %}}"))
    assert WRITTEN[html] in found.message
    assert found.hints
    assert place(found)[0] == "notices.html.jinja"
    assert found.where.line in (1, 2)
    if "{{" not in html and not html.startswith("</"):
        assert found.where.line == 2


@pytest.mark.slow
@pytest.mark.parametrize(
    "text",
    [
        '<!doctype html>\n<html lang="en"><head><title>x</title><meta charset="utf-8"></head><body></body></html>',
        '<!doctype html>\n<html lang="en"><head><title><meta charset="utf-8"></title></head><body></body></html>',
        '<!doctype html>\n<html lang="en"><body><meta charset="utf-8"></body></html>',
        '<!doctype html>\n<meta charset="utf-8">',
        '<html lang="en"><head><meta charset="utf-8"></head><body></body></html>',
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><meta charset="utf-8"></head></html>',
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-16"></head></html>',
        "<!doctype html>\n{% for a in page.frame.words %}" + " " * 5000 + "<!-- x -->\n{% endfor %}<html>",
        "hello",
        "",
    ],
)
def test_a_page_begins_so_that_its_policy_holds_for_all_of_it(tmp_path, text):
    assert "its policy then holds" in fault(look(tmp_path, text=text)).message


def test_a_page_that_no_phone_could_keep_is_told(tmp_path):
    page = '<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><title>x</title></head><body>{}</body></html>'
    kept = '<p class="saved-copy" role="status" hidden>x</p>'
    for number, body in enumerate(("", kept * 2 + "{{ page.frame.menu.version_line }}", kept)):
        (tmp_path / str(number)).mkdir()
        assert "no phone could keep" in fault(look(tmp_path / str(number), text=page.format(body))).message


def test_what_a_look_may_do_passes(tmp_path):
    """A template that uses all that themes/README.md allows."""
    text = (
        PAGE
        + """{% import "parts.html.jinja" as parts %}
{% set title = page.frame.title ~ " – " ~ page.frame.menu.event %}
{% macro line(words, more="x") %}
<li class="{{ more }}">{{ words|upper|trim }}{{ caller() if caller is defined else "" }}</li>
{% endmacro %}
<h1 title="{{ title }}">{{ page.frame.menu.event|default("none") }}</h1>
<ul role="list" data-a="b" aria-label="c">
{% for section in page.frame.menu.sections %}
{% for drink in section.drinks if not drink.off %}
{{ line(drink.name) }}{{ loop.index }} {{ loop.index + 1 }} {{ loop.cycle("a", "b") }} {{ section.drinks|length }}
{% if not loop.last %}<wbr>{% endif %}
{{ (section.drinks|first).name }} {{ (section.drinks|last).name }} {{ section.drinks[0].name }}
{% else %}<li>none</li>{% endfor %}
{% endfor %}
</ul>
{% with a = 5 %}{{ a % 2 }}{% endwith %}
{% call line("x") %}<b>y</b>{% endcall %}
{% for one in ("a", "b") %}{{ one }}{% endfor %}
{% filter lower %}ABC{% endfilter %}
{% set boxed %}<i>{{ title }}</i>{% endset %}{{ boxed }}
{% include "own.jinja" %}{% include "none.jinja" ignore missing %}
<img src="icon.svg" alt=""><img src="data:image/png;base64,AAAA" alt="">
<a href="index.html">a</a> <a href="#the_page">b</a> <a href="https://example.org/">c</a>
<a href="mailto:a@b.example">d</a>
<style>p{color:red}</style>
<svg viewBox="0 0 1 1" aria-hidden="true"><path fill="url(#a)" d="M0 0h1"/></svg>
{{ self.kind() }}{{ super() }}
{% endblock %}"""
    )
    theme = load_theme(
        [look(tmp_path, text=text, **{"own.jinja": "<p>{{ page.frame.title }}</p>"}), SHIPPED], "mine"
    )
    menu = rich_menu(event='<script>alert("x")</script>')
    page = site_files(menu, theme)["notices.html"].decode()
    assert "&lt;script&gt;alert(&#34;x&#34;)" in page
    assert '<script>alert("x")' not in page
    assert "<b>y</b>" in page
    assert "abc" in page


def test_a_users_words_cannot_become_more_than_text(tmp_path):
    """Words a sloppy template puts where they could run are stopped on the page they would run on."""
    words = "x onclick=alert(1) javascript:alert(1) url(//example.org)"
    for number, html in enumerate(
        (
            "<p class={{ menu.event }}>a</p>",
            '<a href="{{ menu.event }}">a</a>',
            "<style>a{b:{{ menu.event }}}</style>",
            "<script>{{ menu.event }}</script>",
            "<p {{ menu.event }}>a</p>",
        )
    ):
        (tmp_path / str(number)).mkdir()
        text = f"{PAGE}{{% set menu = page.frame.menu %}}{html}{{% endblock %}}"
        theme = load_theme([look(tmp_path / str(number), text=text), SHIPPED], "mine")
        event = "javascript:alert(1)" if "href" in html else words
        with pytest.raises(ThemeFault):
            site_files(rich_menu(event=event), theme)


def test_every_fault_of_a_look_is_told_at_once(tmp_path):
    look(
        tmp_path,
        text="{{ a.__x }}\n{{ b|safe }}",
        **{"drink.html.jinja": "{% if %}", "style.css": "@import 'x';"},
    )
    assert [place(one) for one in faults(tmp_path)] == [
        ("style.css", 1),
        ("drink.html.jinja", 1),
        ("notices.html.jinja", 1),
        ("notices.html.jinja", 2),
    ]


def test_a_template_that_stands_in_without_what_others_use_is_named(tmp_path):
    found = fault(look(tmp_path, "parts.html.jinja", "{% macro lang(language) %}{% endmacro %}"))
    assert place(found)[0] == "parts.html.jinja"
    assert found.message.startswith('"parts.html.jinja" has no "')


def test_templates_of_a_house_s_own_base_are_held_to_the_same(tmp_path):
    (tmp_path / "base").mkdir()
    (tmp_path / "base" / "notices.html.jinja").write_text("{{ page.__class__ }}", encoding="utf-8")
    with pytest.raises(ThemeFault, match="cannot be reached"):
        load_theme([tmp_path, SHIPPED], "slate")


def test_a_fault_of_ours_is_not_called_the_look_s(tmp_path, monkeypatch):
    """A record that cannot be made is a fault of menugen's, whoever placed it."""
    from menugen.writing import site

    theme = load_theme([look(tmp_path, text=PAGE + "x{% endblock %}"), SHIPPED], "mine")
    monkeypatch.setattr(site, "opening_html", lambda *_args, **_more: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        site_files(rich_menu(), theme)


def test_too_many_and_too_large_templates_are_told(tmp_path):
    look(tmp_path, text="x", **{f"a{number}.jinja": "x" for number in range(45)})
    assert "there are 46 templates here" in fault(tmp_path).message
    (tmp_path / "2").mkdir()
    look(tmp_path / "2", text="x", **{f"a{number}.jinja": "x" * 60_000 for number in range(5)})
    assert "larger than 256 KiB in all" in fault(tmp_path / "2").message
    (tmp_path / "3").mkdir()
    assert "a template cannot have this name" in fault(look(tmp_path / "3", "Notices (1).jinja", "x")).message


@pytest.mark.slow
@pytest.mark.parametrize("name", theme_names([SHIPPED]))
def test_the_shipped_templates_keep_the_rules_and_a_tenth_of_the_bounds(name):
    """Whoever copies one of ours into a look of their own finds it good; and what it takes is far from too much."""
    theme = load_theme([SHIPPED], name)
    menu = rich_menu()
    site = site_files(menu, theme)
    steps, characters = theme.templates.left
    theme.templates.begin(sum(len(drink.ways) for section in menu.sections for drink in section.drinks))
    all_steps, all_characters = theme.templates.left
    assert all_steps - steps < all_steps / 10
    assert all_characters - characters < all_characters / 10
    for path, content in site.items():
        if path.endswith(".html"):
            text = content.decode()
            start = text.index('\n<meta http-equiv="Content-Security-Policy"')
            text = text[:start] + text[text.index(">", start) + 1 :]
            style = text.partition("<style>")[2].partition("</style>")[0]
            scripts = tuple(re.findall(r"<script>(.*?)</script>", text))
            own = OwnParts(style, scripts, "", "")
            assert "".join(checked_page((text,), own, AssertionError)) == text


def test_a_copy_of_the_base_is_a_look_of_the_same_bytes(tmp_path):
    copies = {file.name: file.read_text(encoding="utf-8") for file in BASE.glob("*.jinja")}
    look(tmp_path, "frame.html.jinja", copies["frame.html.jinja"], **copies)
    mine = site_files(rich_menu(), load_theme([tmp_path, SHIPPED], "mine"))
    slate = site_files(rich_menu(), load_theme([SHIPPED], "slate"))
    assert {
        path: mine[path].replace(b"assets/mine.", b"assets/slate.") for path in mine if path.endswith(".html")
    } == {path: slate[path] for path in slate if path.endswith(".html")}


def test_nothing_is_offered_to_templates_but_their_page():
    templates = ThemeTemplates((BASE,))
    assert templates.globals == {}
    assert templates.autoescape is True
    assert templates.sandboxed

"""The content policy: exact hashes, in the right place, and nothing let through by name."""

import hashlib
from base64 import b64encode

import pytest

from menugen.writing.policy import SealedPages, inline_hashes, policy, script_hashes, seal

PAGE = '<!doctype html><html><head><meta charset="utf-8"><title>x</title><style>p > a{color:red}</style></head></html>'
HASH = "'sha256-" + b64encode(hashlib.sha256(b"p > a{color:red}").digest()).decode() + "'"


def test_the_policy_stands_straight_after_the_charset_with_the_hash_of_the_exact_bytes():
    sealed = seal(PAGE)
    before, _, after = sealed.partition('<meta charset="utf-8">\n')
    assert before == "<!doctype html><html><head>"
    assert after.startswith(
        '<meta http-equiv="Content-Security-Policy" content="default-src \'none\'; style-src ' + HASH + ";"
    )
    assert after.endswith(PAGE.partition('<meta charset="utf-8">')[2])


def test_one_byte_more_is_another_hash():
    assert inline_hashes(PAGE) == (HASH,)
    assert inline_hashes(PAGE.replace("red", "red ")) != (HASH,)


@pytest.mark.parametrize("rule", [policy([], stylesheet=False), policy([HASH], stylesheet=True)])
def test_nothing_is_let_through_by_name(rule):
    directives = dict(part.split(" ", 1) for part in rule.split("; "))
    assert directives["default-src"] == "'none'"
    assert directives["base-uri"] == directives["form-action"] == "'none'"
    assert not {"script-src", "connect-src", "frame-src", "object-src"} & directives.keys()
    assert "unsafe" not in rule
    assert "*" not in rule
    assert "http" not in rule


SCRIPTED = PAGE.replace("</html>", "<body><script>let x = 1 < 2</script></body></html>")
SCRIPT_HASH = "'sha256-" + b64encode(hashlib.sha256(b"let x = 1 < 2").digest()).decode() + "'"


def test_a_page_with_a_script_may_run_that_one_and_have_a_worker():
    rule = seal(SCRIPTED)
    assert f"script-src {SCRIPT_HASH}; worker-src 'self'; connect-src 'self';" in rule
    assert "script-src 'self'" not in rule
    assert script_hashes(SCRIPTED.replace("1 < 2", "1 < 3")) != (SCRIPT_HASH,)


def test_data_is_no_script_and_needs_no_leave():
    data = PAGE.replace("</html>", '<body><script type="application/ld+json">{}</script></body></html>')
    assert script_hashes(data) == ()
    assert "script-src" not in seal(data)


def test_a_page_that_loads_no_stylesheet_may_not():
    assert "style-src 'none'" in policy([], stylesheet=False)
    assert f"style-src 'self' {HASH}" in policy([HASH], stylesheet=True)


@pytest.mark.parametrize(
    "page",
    [
        PAGE.replace('<meta charset="utf-8">', ""),
        PAGE + '<meta charset="utf-8">',
        PAGE + '<p style="color:red">',
    ],
)
def test_a_page_that_cannot_be_sealed_is_our_own_fault(page):
    with pytest.raises(ValueError, match=r"charset|style attribute"):
        seal(page)


def headers_of(pages: list[str], *, listed: bool = True) -> str:
    sealed = SealedPages()
    for page in pages:
        list(sealed.page((page,)))
    return sealed.headers(listed=listed)


def test_the_headers_allow_what_every_page_needs():
    text = headers_of([PAGE, PAGE, PAGE.replace("red", "blue")])
    lines = text.splitlines()
    assert [line.partition(":")[0] for line in lines] == [
        "Content-Security-Policy",
        "X-Content-Type-Options",
        "Referrer-Policy",
    ]
    assert lines[0].count("sha256-") == 2
    assert lines[0].endswith("frame-ancestors 'none'")


def test_the_headers_hold_every_script_and_keep_an_unlisted_site_out_of_lists():
    text = headers_of([PAGE, SCRIPTED, SCRIPTED.replace("x = 1", "y = 1")])
    assert text.count("sha256-") == 3
    assert SCRIPT_HASH in text
    assert "X-Robots-Tag" not in text
    assert headers_of([PAGE], listed=False).splitlines()[-1] == "X-Robots-Tag: noindex"

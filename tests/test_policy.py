"""The policy of a page: files of the site run, and nothing that stands in it."""

import base64
import hashlib

import pytest

from build_tools.site.policy import policy, with_policy

PAGE = '<!doctype html><html><head><meta charset="utf-8"><style>p{}</style></head><body></body></html>'


def _sha(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def test_policy_page_without_script_allows_own_files_only() -> None:
    assert "script-src 'self';" in policy(PAGE)


def test_policy_allows_no_inline_script_and_hashes_styles_as_csp_level_2_defines() -> None:
    # Hash sources as W3C Content Security Policy defines them: sha256 over the UTF-8 text, base64 (from memory).
    found = policy(PAGE.replace("<body>", "<body><script>go()</script>"))
    assert "script-src 'self';" in found
    assert f"style-src 'self' {_sha('p{}')};" in found


def test_policy_leaves_data_blocks_and_files_unhashed() -> None:
    page = '<meta charset="utf-8"><script src="a.js"></script><script type="application/json">{"a":1}</script>'
    assert policy(page).count("sha256-") == 0


def test_policy_hashes_style_attributes_under_unsafe_hashes() -> None:
    found = policy('<meta charset="utf-8"><p style="color:red">x</p>')
    assert f"'unsafe-hashes' {_sha('color:red')}" in found


def test_policy_hashes_a_style_attribute_as_the_browser_reads_it() -> None:
    # HTML Standard, attribute value state: character references are read before the value is set.
    found = policy('<meta charset="utf-8"><p style="font-family:&quot;A&quot;;content:&#39;a&amp;b&#39;">x</p>')
    read = """font-family:"A";content:'a&b'"""
    assert f"'unsafe-hashes' {_sha(read)}" in found


def test_with_policy_stands_right_after_the_charset() -> None:
    html = with_policy('<head><meta charset="utf-8"><script>x</script></head>')
    assert html.startswith('<head><meta charset="utf-8"><meta http-equiv="Content-Security-Policy"')


def test_with_policy_page_without_charset_is_refused() -> None:
    with pytest.raises(ValueError, match="no charset"):
        with_policy("<head></head>")

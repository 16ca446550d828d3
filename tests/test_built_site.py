"""The proof of a finished site: each fault is found, and a sound site has none."""

from pathlib import Path

import pytest

from build_tools.site.built_site import SiteFault, prove

POLICY = '<meta http-equiv="Content-Security-Policy" content="default-src \'none\'">'


def _site(folder: Path, **bodies: str) -> Path:
    for name, body in bodies.items():
        page = folder / f"{name.replace('__', '/')}.html"
        page.parent.mkdir(parents=True, exist_ok=True)
        page.write_text(f'<meta charset="utf-8">{POLICY}{body}', encoding="utf-8")
    return folder


def test_prove_sound_site_has_no_faults(tmp_path: Path) -> None:
    site = _site(tmp_path, index='<a href="walk/x.html#a">x</a><a href="#here" id="here">y</a>', walk__x='<p id="a">')
    assert prove(site) == ()


def test_prove_lets_a_page_say_where_it_is_published(tmp_path: Path) -> None:
    data = '<script type="application/json">{}</script>'
    assert prove(_site(tmp_path, index=f'<link rel="canonical" href="https://example.org/index.html">{data}')) == ()


@pytest.mark.parametrize(
    ("body", "what"),
    [
        ('<a href="gone.html">x</a>', '"gone.html" leads to a file that does not exist'),
        ('<a href="#gone">x</a>', '"#gone" leads to an anchor that does not exist'),
        ('<img src="https://example.org/x.png">', '"https://example.org/x.png" leads outside the site'),
        ('<script src="//example.org/x.js"></script>', '"//example.org/x.js" leads outside the site'),
        ('<p id="a"></p><p id="a"></p>', 'the id "a" stands 2 times'),
        ('<button onclick="go()">x</button>', 'an inline handler "onclick" would be blocked'),
        ("<script>go()</script>", "an inline script would be blocked"),
        ('<link rel="icon" href="https://example.org/x.svg">', '"https://example.org/x.svg" leads outside the site'),
        (POLICY, "it has 2 content-security policies, not one"),
    ],
)
def test_prove_finds(tmp_path: Path, body: str, what: str) -> None:
    assert prove(_site(tmp_path, index=body)) == (SiteFault("index.html", what),)


def test_prove_style_sheet_that_loads_from_outside(tmp_path: Path) -> None:
    (tmp_path / "a.css").write_text("@import 'https://example.org/b.css'; p{background:url(gone.png)}")
    assert [each.what for each in prove(tmp_path)] == [
        '"gone.png" leads to a file that does not exist',
        '"https://example.org/b.css" leads outside the site',
    ]

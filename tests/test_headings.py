"""Ready HTML to the theme's table of contents."""

from build_tools.site.headings import headings


def test_headings_puts_h3_below_the_h2_before_it() -> None:
    found = headings('<h2 id="a">One</h2><h3 id="b">Two <b>bold</b></h3><h2 id="c">Three</h2>')
    assert [(each["id"], [below["id"] for below in each["children"]]) for each in found] == [("a", ["b"]), ("c", [])]
    assert found[0]["children"][0]["name"] == "Two bold"


def test_headings_leave_text_escaped_since_the_theme_prints_it_as_it_is() -> None:
    (found,) = headings('<h2 id="a">Lead &lt;b&gt; &amp; <i>zinc</i></h2>')
    assert found["name"] == "Lead &lt;b&gt; &amp; zinc"


def test_headings_without_id_are_left_out() -> None:
    assert headings("<h2>One</h2>") == []

"""The worked trial on the site says that it is invented, and takes its colours from the page."""

import re
from pathlib import Path

from waterleaf.site.trial_page import demo_page

PAGE = demo_page(Path(__file__).parents[2] / "course" / "demo")


def test_the_worked_trial_is_marked_as_invented_and_holds_both_reports() -> None:
    """The warning comes first; readings and tasting follow, with what may and may not be said."""
    assert PAGE.index("ever measured") < PAGE.index("## The readings") < PAGE.index("## The tasting")
    assert PAGE.count("### What may not be said") == 2


def test_its_figures_have_words_and_no_colours_of_their_own() -> None:
    """Every figure has a text alternative, names of its own, and only the page's colours."""
    assert PAGE.count("<figure") == PAGE.count('role="img" aria-label="') >= 3
    names = re.findall(r'\bid="([^"]+)"', PAGE)
    assert names and len(names) == len(set(names))
    assert not re.search(r"(fill|stroke): #", PAGE)

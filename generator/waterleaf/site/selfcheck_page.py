"""The page on which a student checks an issued sheet; the sheet's own link brings all that it needs."""

from typing import Final

from waterleaf.site.practice_pages import JUDGE, with_scripts

SCRIPTS: Final = (*JUDGE, "slowhash", "sealed", "selfcheck")


def self_check_page() -> str:
    """The page as Markdown; without a link it says how to get one."""
    return with_scripts(
        SCRIPTS,
        "# Check your sheet\n\n"
        '<link rel="stylesheet" href="assets/selfcheck.css">\n\n'
        "Your worksheet has numbers of its own, and so has this check. Keep the paper beside you: the questions stand "
        "there alone.\n\n"
        "1. Work a question out on paper.\n"
        "2. Type your answer as you would write it, with its unit.\n"
        "3. Press *Check*. You learn whether it is right, not yet right, or in the wrong unit. You do not learn the "
        "answer.\n"
        "4. When you have finished, save your answers as a file and hand that in, if your instructor asks for it.\n\n"
        "Try as often as you like; nobody counts. A check takes a moment, because it is made slow on purpose.\n\n"
        '<div class="wl-check" id="wl-check">\n'
        "<p>This page needs JavaScript to look at your answers. Without it, hand in the paper.</p>\n</div>\n\n"
        "## What to know\n\n"
        "- A later answer may rest on an earlier one of yours. Worked rightly from there, it can earn its marks even "
        "where this page says *not yet*. So put the earlier one right first.\n"
        "- Writing that explains a choice is read by your instructor, not by this page.\n"
        "- What you type stays on this device until you clear it. Nothing is sent anywhere. On a computer that others "
        "use, clear it when you leave.\n",
    )

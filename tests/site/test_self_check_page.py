"""The self-check page in a real browser: it judges as Python does, keeps and saves what was typed, and tells no key."""

import functools
import http.server
import json
import threading
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe

from classroom import BANK, issued_to, students
from on_a_page import Watched
from sealed_script import compared
from waterleaf.draw import draw
from waterleaf.exercise import Exercise, pose
from waterleaf.marking.answerfiles import read_answer_files
from waterleaf.marking.checklink import as_digits, link_bytes
from waterleaf.marking.issuebook import IssueBook, exercises_of
from waterleaf.marking.labels import labelled

pytestmark = pytest.mark.browser
ISSUED = issued_to(1)
CODE = ISSUED.sheets[0].code
EXERCISES = exercises_of(ISSUED, ISSUED.sheets[0], BANK)
KEYS = {item.label: item.part for item in labelled(EXERCISES)}
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]


@functools.cache
def digits(comma: bool = False, ask_unit: bool = False) -> str:
    """The link of the invented sheet, behind its #, as it is really issued."""
    (data,) = link_bytes(CODE, EXERCISES, comma, ask_unit)
    return as_digits(data)


@pytest.fixture
def sheet(opened: Any) -> Callable[..., Any]:
    """Opens the page with the link of the invented sheet."""

    def open_sheet(fragment: str = "", **options: Any) -> Any:
        page = opened("self-check.html", **options)
        page.goto(f"{page.url.partition('#')[0]}#{fragment or digits()}")
        page.wait_for_selector(".wl-check h2, .wl-check [role=status]")
        return page

    return open_sheet


def check(page: Any, label: str, text: str) -> str:
    """Type an answer, press Enter, and read what is said of it."""
    box = page.get_by_label(f"Answer {label}", exact=True)
    box.fill(text)
    box.press("Enter")
    status = page.locator(".wl-check-part").filter(has=box).get_by_role("status")
    status.locator("strong").wait_for()
    said: str = status.inner_text()
    return said


def saved(page: Any) -> tuple[str, str]:
    """The name and the text of the file that the page saves."""
    with page.expect_download() as download:
        page.get_by_role("button", name="Save my answers as a file").click()
    return download.value.suggested_filename, Path(download.value.path()).read_text(encoding="utf-8")


def test_a_student_learns_right_not_yet_and_wrong_unit(sheet: Callable[..., Any]) -> None:
    """Each kind of part with a right and another answer; the key of the others stays unsaid."""
    page = sheet()
    assert page.get_by_role("heading", name=f"Sheet {CODE}").is_visible()
    feed = KEYS["1a"]
    assert check(page, "1a", f"{feed.key_text} g/day").startswith("Right.")
    assert check(page, "1a", f"{feed.key / 1000!r} kg a day").startswith("Right.")
    assert check(page, "1a", f"{feed.key_text} kg/day").startswith("Wrong unit. Your number is right, but not in")
    assert check(page, "1a", "7 m").startswith("Wrong unit. The unit m measures something else")
    other = check(page, "1a", f"{feed.key * 7!r}")
    assert other.startswith("Not yet.")
    assert feed.key_text not in other.replace("\u202f", "")
    assert check(page, "1a", "a lot").startswith("I cannot read this yet.")
    assert check(page, "1a", "").startswith("Nothing is typed here yet.")
    times = next(label for label, part in KEYS.items() if part.kind == "times")
    assert check(page, times, KEYS[times].key_text).startswith("Right.")
    assert check(page, times, "0:01").startswith("Not yet.")
    choice = next(label for label, part in KEYS.items() if part.kind == "choice")
    said = {letter: check(page, choice, letter) for letter in "ABCD"}
    assert said.pop(KEYS[choice].key_text).startswith("Right.")
    assert all(text.startswith("Not yet.") for text in said.values())


def test_the_browser_judges_as_python_does(opened: Any) -> None:
    """Every family of the invented class, at the ends of its bands and in other units, with a hash of one round."""
    page = opened("self-check.html")
    page.evaluate("""() => {
        const slow = Waterleaf.slow.pbkdf2;
        Waterleaf.slow.pbkdf2 = (secret, salt) => slow(secret, salt, 1);
    }""")

    def judged(fragment: str, place: int, texts: Sequence[str]) -> list[dict[str, str]]:
        found: list[dict[str, str]] = page.evaluate("""async ([digits, place, texts]) => {
            const sheet = Waterleaf.sealed.read(digits, Waterleaf.tables), found = [];
            for (const text of texts) found.push(await Waterleaf.sealed.judge(
                sheet.parts[place], text, sheet, Waterleaf.tables, async () => {}));
            return found;
        }""", [fragment, place, list(texts)])
        return found

    def exercises() -> Iterator[Exercise]:
        for family in BANK.values():
            yield pose(draw(family, 11), "metric")
            yield pose(draw(family, 12), "us")

    assert [line for exercise in exercises() for line in compared(judged, exercise, False, True)] == []


def test_what_was_typed_survives_a_reload_until_it_is_cleared(sheet: Callable[..., Any]) -> None:
    """On this device alone, one sheet apart from another, and one button clears it."""
    page = sheet()
    page.get_by_label("Your name").fill("Ines 🐟 \u202eX")
    page.get_by_label("Answer 1a", exact=True).fill("<img src=x onerror=alert(1)> 5 kg")
    page.reload()
    assert page.get_by_label("Answer 1a", exact=True).input_value() == "<img src=x onerror=alert(1)> 5 kg"
    assert page.get_by_label("Your name").input_value() == "Ines 🐟 \u202eX"
    page.on("dialog", lambda dialog: dialog.accept())
    page.get_by_role("button", name="Clear what I typed").click()
    assert page.get_by_label("Answer 1a", exact=True).input_value() == ""
    assert page.evaluate("Object.keys(localStorage).filter((name) => name.startsWith('waterleaf.check'))") == []
    page.get_by_role("button", name="Save my answers as a file").click()
    assert "There is nothing to save yet" in page.locator("#wl-check").inner_text()


def test_the_saved_file_is_read_by_the_marking(sheet: Callable[..., Any], tmp_path: Path) -> None:
    """What the page saves is what the class folder takes, answers as typed."""
    page = sheet()
    typed = {label: f" {part.key_text} " for label, part in KEYS.items()}
    for label, text in typed.items():
        page.get_by_label(f"Answer {label}", exact=True).fill(text)
    page.get_by_label("Your name").fill("Student 0")
    name, text = saved(page)
    assert name == f"answers-{CODE}.json"
    assert json.loads(text)["answers"] == typed
    (tmp_path / "answers").mkdir()
    (tmp_path / "answers" / name).write_text(text, encoding="utf-8")
    found = read_answer_files(tmp_path, ISSUED, IssueBook({ISSUED.id: ISSUED}), list(KEYS), students(1))
    assert list(found.remarks) == []
    (only,) = found.responses
    assert (only.code, only.student, only.fault, only.doubts) == (CODE, "S000", "", {})
    assert only.answers == {label: part.key_text for label, part in KEYS.items()}


def test_a_bad_link_gets_a_kind_word(sheet: Callable[..., Any]) -> None:
    """Nothing of it is shown, nothing runs, and there is a place to paste the whole link."""
    page = sheet()
    for bad in (
        "123", "9" * 3000, "%00%ff", "<img%20src=x%20onerror=alert(1)>", "__proto__", "javascript:alert(1)", "toString"
    ):
        page.evaluate("(bad) => { location.hash = bad; }", bad)
        page.get_by_text("This link was cut short").wait_for()
        assert page.locator("#wl-check img").count() == 0
        assert page.get_by_label("Link of your sheet").is_visible()
        page.evaluate("(good) => { location.hash = good; }", digits())
        page.get_by_role("heading", name=f"Sheet {CODE}").wait_for()


def test_without_a_link_one_can_be_pasted(opened: Any) -> None:
    """Half a link is told as such; the whole one opens the sheet, by keyboard alone."""
    page = opened("self-check.html")
    box = page.get_by_label("Link of your sheet")
    box.fill(f"https://growing.example/self-check.html#{digits()[:-9]}")
    box.press("Enter")
    assert "This is not the whole link" in page.locator("#wl-check").inner_text()
    box.fill(f" https://growing.example/self-check.html#{digits()} ")
    box.press("Enter")
    page.get_by_role("heading", name=f"Sheet {CODE}").wait_for()


def test_where_the_unit_is_asked_for_no_word_gives_it_away(sheet: Callable[..., Any]) -> None:
    """Neither the hint beside the box nor any verdict names the unit."""
    page = sheet(digits(ask_unit=True))
    key = KEYS["1a"].key_text
    said = [check(page, "1a", text) for text in (key, f"{key} kg/day", f"{key} m", "7 m", f"{key} furlongs")]
    assert said[0].startswith("Nearly. Your number is right. Write its unit too.")
    said.append(page.locator(".wl-check-part").first.inner_text())
    assert [text for text in said if "g/day" in text.replace("kg/day", "")] == []
    assert check(page, "1a", f"{key} g/day").startswith("Right.")


def test_a_number_with_two_meanings_is_told_as_such(sheet: Callable[..., Any]) -> None:
    """Where marking would ask the instructor, the page asks the student."""
    page = sheet(digits(comma=True))
    assert check(page, "1a", f"{KEYS['1a'].key:,.0f} g/day").startswith("This can be read in two ways.")


def test_the_page_can_be_walked_by_keyboard(sheet: Callable[..., Any]) -> None:
    """Name, then each box with its button, in the order of the paper; a verdict is announced beside its box."""
    page = sheet()
    page.get_by_label("Your name").focus()
    names = []
    for _ in range(5):
        page.keyboard.press("Tab")
        names.append(page.evaluate(
            "document.activeElement.textContent || document.activeElement.labels[0].textContent"
        ))
    assert names == ["Answer 1a", "Check 1a", "Answer 1b", "Check 1b", "Answer 2a"]
    told = page.get_by_label("Answer 1a", exact=True).get_attribute("aria-describedby").split()
    assert page.locator(f"#{told[0]}").inner_text() == "in g/day"
    assert page.locator(f"#{told[1]}").get_attribute("role") == "status"


def test_the_page_breaks_no_accessibility_rule(sheet: Callable[..., Any]) -> None:
    """axe finds nothing with verdicts on the page, wide and light, and narrow and dark; nothing scrolls sideways."""
    for width, scheme in ((1280, "light"), (320, "dark")):
        page = sheet(width=width, scheme=scheme)
        check(page, "1a", f"{KEYS['1a'].key_text} g/day")
        check(page, "1b", "x" * 190)
        options = {"runOnly": {"type": "tag", "values": RULES}, "preload": False}
        found = Axe().run(page, options=options).response["violations"]
        assert [f"{width}: {one['id']} {one['nodes'][0]['target']}" for one in found] == []
        assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_a_check_needs_no_secure_page_and_no_other_computer(browser: Any, site: Path) -> None:
    """From a plain web server the page works without the browser's own hashes, and asks its own server alone."""
    handler = functools.partial(_Quiet, directory=str(site))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        context = browser.new_context(reduced_motion="reduce")
        context.add_init_script("Object.defineProperty(crypto, 'subtle', { value: undefined })")
        try:
            watched = Watched(context.new_page())
            home = f"http://localhost:{server.server_port}/"
            watched.page.goto(f"{home}self-check.html#{digits()}")
            assert check(watched.page, "1a", f"{KEYS['1a'].key_text} g/day").startswith("Right.")
            assert [told for told in watched.complaints if not told.startswith(home)] == []
            assert all(digits()[:40] not in told for told in watched.complaints)
        finally:
            context.close()
            server.shutdown()


class _Quiet(http.server.SimpleHTTPRequestHandler):
    def log_message(self, *_: Any) -> None:
        """Say nothing of each request."""

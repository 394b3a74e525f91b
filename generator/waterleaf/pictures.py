"""Makes the pictures of the README from the demo data: `python -m waterleaf.pictures`. Needs a Chromium."""

import json
import shutil
import tempfile
from pathlib import Path
from typing import Any

import typst

from waterleaf.bank.builder import load_bank
from waterleaf.draw import draw
from waterleaf.exercise import pose
from waterleaf.home import find_home, load_settings
from waterleaf.sheets import paper
from waterleaf.sheets.paper import Sheet, Style
from waterleaf.sheets.press import TEMPLATES
from waterleaf.site.builder import build_site


def worksheet_picture(home: Path, place: Path) -> None:
    """First page of a worksheet with two exercises."""
    bank = load_bank(home / "question_bank")
    style = Style(load_settings(home).school, room="18mm")
    sheet = Sheet(tuple(pose(draw(bank[key], 1)) for key in ("feed/daily_feed", "sugar/mean_and_spread")))
    data = json.dumps(paper.worksheets([sheet], style))
    pages: Any = typst.Compiler(TEMPLATES / "worksheet.typ", root=TEMPLATES, ignore_system_fonts=True).compile(
        format="png", ppi=80, sys_inputs={"data": data}
    )
    (place / "worksheet.png").write_bytes(pages[0] if isinstance(pages, list) else pages)


def practice_picture(home: Path, place: Path) -> None:
    """A practice page on which a wrong turn has just been named."""
    from playwright.sync_api import sync_playwright

    with tempfile.TemporaryDirectory() as folder, sync_playwright() as driver:
        build_site(home, load_settings(home), load_bank(home / "question_bank"), Path(folder))
        browser = driver.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox", "--disable-gpu"]
        )
        page = browser.new_page(viewport={"width": 900, "height": 900}, color_scheme="light")
        page.goto((Path(folder) / "feed" / "daily_feed.html").as_uri())
        drawn = page.evaluate(
            "new Promise((found) => Waterleaf.sets.need('feed/daily_feed', 'metric', 0, (data, set) => found(set)))"
        )
        low, high = drawn["parts"][0]["expected"][0]["slips"][2]
        page.locator(".wl-question input").first.fill(f"{(low + high) / 2:.0f} g/day")
        page.keyboard.press("Enter")
        page.get_by_role("button", name="Show the working").first.click()
        page.screenshot(path=str(place / "practice.png"))
        browser.close()


def main() -> None:
    """Make both pictures beside the lessons."""
    home = find_home()
    place = home / "course" / "assets" / "pictures"
    place.mkdir(parents=True, exist_ok=True)
    worksheet_picture(home, place)
    practice_picture(home, place)


if __name__ == "__main__":
    main()

"""The same input makes the same bytes anywhere: hash seed, locale, time zone and number of workers do not count."""

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]

# What a class gets, what its instructor keeps, what the site offers and what a spreadsheet opens, as digests.
SCRIPT = """
import hashlib, sys, tempfile
from pathlib import Path
from waterleaf.bank.builder import load_bank
from waterleaf.printing import make_sheets
from waterleaf.sheets import paper, press
from waterleaf.sheets.paper import Style
from waterleaf.site import store
from waterleaf.marking.tableout import write_csv, write_xlsx

root, workers = Path(sys.argv[1]), int(sys.argv[2])
bank = load_bank(root / "question_bank", {"feed/daily_feed", "sugar/mean_and_spread"})
for system, size in (("metric", "a4"), ("us", "letter")):
    style = Style("Ostrel Quay College", "Worksheet", size, system)
    sheets = list(make_sheets(list(bank.values()), 3, 3, style))
    for kind, lay_out in (("worksheet", paper.worksheets), ("key", paper.keys)):
        for pdf in press.packets(kind, [lay_out([sheet], style) for sheet in sheets], workers):
            print(kind, system, hashlib.sha256(pdf).hexdigest())
store._WORTH_SHARING = 1
store.os.cpu_count = lambda: workers
for files in store._made(root, list(bank.values()), 1).values():
    for path, text in sorted(files.items()):
        print(path, hashlib.sha256(text.encode()).hexdigest())
with tempfile.TemporaryDirectory() as folder:
    for name, write in (("t.csv", write_csv), ("t.xlsx", lambda p, h, r: write_xlsx(p, "Table", h, r))):
        write(Path(folder, name), ["sheet", "1a"], [["AB3D-EFGH", 1437.5], ["=x", None]])
        print(name, hashlib.sha256(Path(folder, name).read_bytes()).hexdigest())
"""


def made(workers: int, **environment: str) -> list[str]:
    """The digests of everything, made in a fresh process."""
    ran = subprocess.run(
        [sys.executable, "-P", "-c", SCRIPT, str(ROOT), str(workers)], capture_output=True, text=True, check=True,
        env={**os.environ, "PYTHONPATH": str(ROOT / "generator"), **environment},
    )
    return ran.stdout.splitlines()


def test_sheets_keys_tables_and_site_data_do_not_depend_on_the_machine() -> None:
    """One worker in one corner of the world, two in another."""
    one = made(1, PYTHONHASHSEED="0", LC_ALL="C", TZ="UTC", LANG="C")
    two = made(2, PYTHONHASHSEED="4242", LC_ALL="C.UTF-8", TZ="Asia/Kathmandu", LANG="tr_TR.UTF-8")
    assert len(one) > 20
    assert len(set(one)) == len(one)
    assert one == two

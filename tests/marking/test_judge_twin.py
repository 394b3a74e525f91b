"""The browser's script is held to the Python judge: on the table, on invented answers, and on hostile ones."""

import json
import random
import shutil
import subprocess
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from answer_rows import TASKS, rows
from sealed_script import JUDGE
from waterleaf.marking import vocabulary
from waterleaf.marking.judge import judge, tables
from waterleaf.marking.messages import MESSAGES
from waterleaf.marking.reading import VULGAR, read_answer, read_clock
from waterleaf.marking.units import read_unit

if TYPE_CHECKING:
    from playwright.sync_api import Browser

NAMES = list(TASKS)
MUTATED = 24_000

Case = tuple[str, int, str]  # what was typed, the number of the task, the decimal mark of the page

# Runs in both hosts: everything that the judge finds in one typed answer.
FINDINGS = """
function findings(given, cases) {
  return cases.map(function (one) {
    const text = one[0], expected = given.expected[one[1]], tables = given.tables;
    const read = expected.kind === "clock" ? Waterleaf.reading.clock(text, tables)
      : Waterleaf.reading.answer(text, tables, one[2]);
    return [Waterleaf.judge(text, expected, tables, one[2]), read, Waterleaf.units.read(read.unit_text, tables)];
  });
}
"""
# Reads one line of JSON after the other: first what is given, then lists of cases, each answered by one line.
HOST = """
for (const path of process.argv.slice(1)) require("vm").runInThisContext(require("fs").readFileSync(path, "utf8"));
let given = null;
require("readline").createInterface({ input: process.stdin }).on("line", function (line) {
  const data = JSON.parse(line);
  if (given === null) { given = data; return; }
  process.stdout.write(JSON.stringify(findings(given, data)) + "\\n");
});
"""


def given_data() -> dict[str, Any]:
    """What a page gives to the script."""
    return {"tables": tables(), "expected": [task.to_json() for task in TASKS.values()]}


def in_python(case: Case) -> Any:
    """Everything that the Python judge finds in one typed answer, as the script would write it."""
    text, task, decimal = case
    expected = TASKS[NAMES[task]]
    mark: Any = decimal
    read = read_clock(text) if expected.kind == "clock" else read_answer(text, mark)
    return [judge(text, expected, mark).to_json(), plain(read), plain(read_unit(read.unit_text))]


def plain(found: Any) -> dict[str, Any]:
    """A finding as the script would write it: lists for tuples."""
    return {name: listed(getattr(found, name)) for name in found.__slots__}


def listed(value: Any) -> Any:
    """A tuple as a list, all the way down."""
    return [listed(item) for item in value] if isinstance(value, tuple) else value


class Script:
    """The script in a process of its own, asked in batches."""

    def __init__(self, node: str) -> None:
        self.node = node
        self.process = subprocess.Popen(
            [node, "-e", FINDINGS + HOST, *map(str, JUDGE)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
            encoding="utf-8",
        )
        self._write(given_data())

    def _write(self, data: Any) -> None:
        assert self.process.stdin
        self.process.stdin.write(json.dumps(data) + "\n")
        self.process.stdin.flush()

    def find(self, cases: list[Case]) -> list[Any]:
        """What the script finds in each case."""
        assert self.process.stdout
        self._write(cases)
        # JavaScript writes 1e17 as a whole number; taken as one, it would differ from the float that it is.
        found: list[Any] = json.loads(self.process.stdout.readline(), parse_int=float)
        return found

    def run_apart(self, program: str) -> Any:
        """What a program of its own shows; `load()` runs the script in it."""
        start = (
            f"const given = {json.dumps(given_data())}; const show = (found) => console.log(JSON.stringify(found));"
            "const load = () => { for (const path of process.argv.slice(2))"
            "  require('vm').runInThisContext(require('fs').readFileSync(path, 'utf8')); };"
        )
        done = subprocess.run(
            [self.node, "-", *map(str, JUDGE)], input=start + program, capture_output=True, encoding="utf-8", check=True
        )
        return json.loads(done.stdout)

    def close(self) -> None:
        """End the process and wait for it."""
        self.process.communicate()


@pytest.fixture(scope="module")
def script() -> Iterator[Script]:
    """The script, run by node."""
    node = shutil.which("node")
    if node is None:
        pytest.skip("needs node on the PATH; none was found")
    running = Script(node)
    yield running
    running.close()


def differences(cases: list[Case], found: list[Any]) -> list[str]:
    """A line for each case in which the two do not agree to the last bit and letter."""
    assert len(found) == len(cases)
    lines = []
    for case, theirs in zip(cases, found, strict=True):
        ours = in_python(case)
        if ours != theirs:
            lines.append(f"{case[0]!r} for {NAMES[case[1]]!r}, {case[2]}:\n  Python {ours}\n  script {theirs}")
    return lines


def table_cases() -> list[Case]:
    """The rows of the table, as cases."""
    return [(row.typed, NAMES.index(row.task), row.decimal) for row in rows()]


# ---- Answers invented from pieces, and good answers with something wrong ----

SEPARATORS = [" ", "\u00a0", "\u202f", "\u2009", "\u2007", "\u200b", "\t", ".", ",", "'", "’", "", "", ""]
SIGNS = ["", "", "", "-", "−", "–", "+", "±", "~", "about ", "= ", "x = ", "$", "-$", "US$", "<", "minus "]
POWERS = ["", "", "", "e3", "E-2", "e+05", "x10^3", " × 10³", "*10**-2", "·10⁻⁴", "e999", " x 10^(2)", "²", "^2"]
TAILS = ["", "", ".", ",", " ±2", "-7", " to 9", ":1", ":30", " pm", "am", "h30", " next day", "½", "/4", " 3/4", "= 2"]
JOINTS = ["/", " / ", " per ", " a ", "*", "·", " ", "", "/(", ")", " of ", "-", ".", " per 100 ", "÷", " each "]
WORDS = [
    *(word for _, _, spellings in vocabulary.SPELLINGS for word in spellings.split(", ")),
    *vocabulary.COUNTED.split(", "), *vocabulary.FILLERS.split(", "), "sq", "cubic", "square", "squared",
    "constructor",
    "__proto__", "toString", "valueOf", "furlongs", "ton", "µmol", "GPM", "Kg", "🐟", "İ", "ſ", "\u212a",
]
EXPONENTS = ["", "", "", "2", "²", "^2", "-1", "⁻¹", "^-2", "**3", "^(2)", " ^3", "0", "7", "³"]

GROUPS = ["0", "00", "1", "12", "120", "200", "500", "9999", "7", *VULGAR]

numbers = st.lists(st.sampled_from(GROUPS), max_size=4).flatmap(
    lambda groups: st.sampled_from(SEPARATORS).map(lambda mark: mark.join(groups))
)
units = st.lists(
    st.tuples(st.sampled_from(WORDS), st.sampled_from(EXPONENTS), st.sampled_from(JOINTS)).map("".join), max_size=4
).map("".join)
composed = st.tuples(
    st.sampled_from(SIGNS), numbers, st.sampled_from(["", "", ".5", ",25", ".125"]), st.sampled_from(POWERS),
    st.sampled_from(TAILS), st.sampled_from(["", " "]), units,
).map("".join)
texts = composed | st.text(max_size=30) | st.text(alphabet="0123456789.,' e+-/:x^hampg½²\u202f", max_size=20)
cases_drawn = st.lists(
    st.tuples(texts, st.integers(0, len(NAMES) - 1), st.sampled_from(["point", "comma"])), min_size=1, max_size=12
)


KEYS = "0123456789.,' -+eE/x*^²³⁻½()gkLmdhC°%$:µ\u00a0\u202f\u200b\u202e\x00=~<±_🐟İ"


def mutated(text: str, chance: random.Random) -> str:
    """A good answer after a slip of the finger: characters lost, doubled, exchanged or brought in."""
    letters = list(text)
    for _ in range(chance.randrange(4)):
        place = chance.randrange(len(letters) + 1)
        what = chance.randrange(5)
        if what == 0 and letters:
            letters.pop(min(place, len(letters) - 1))
        elif what == 1 and letters:
            letters.insert(place, letters[min(place, len(letters) - 1)])
        elif what == 2 and place < len(letters):
            letters[place] = chance.choice(KEYS)
        elif what == 3:
            letters.insert(place, chance.choice(JOINTS + SIGNS + POWERS + TAILS + EXPONENTS + WORDS))
        elif place < len(letters):
            letters[place:] = reversed(letters[place:])
    return "".join(letters)


def mutated_cases(count: int) -> list[Case]:
    """Good answers of the table, each changed at random; the same ones in every run."""
    chance = random.Random("slips of the finger")
    good = table_cases()
    found = []
    for _ in range(count):
        text, task, decimal = chance.choice(good)
        if chance.random() < 0.2:
            task = chance.randrange(len(NAMES))
        found.append((mutated(text, chance), task, chance.choice([decimal, "point", "comma"])))
    return found


HOSTILE = [
    "", "\x00", "1\x002", "\u202e5 kg", "5 \u202egk", "__proto__", "5 __proto__", "5 constructor/day",
    "5 hasOwnProperty",
    "1" * 100_000, "kg " * 50_000, "(" * 150, "5 " + "(" * 150, "5 " + "a " * 90, "5 kg" + "/m" * 90,
    "5 kg" + "*kg" * 90,
    "1e" + "9" * 190, "1" + "0" * 199, "0." + "0" * 197, "1," * 100, "1 " * 100, "1/" * 100,
    "<img src=x onerror=alert(1)>",
    "5 <script>", "🐟" * 100, "🐟" * 150, "🐟" * 201, "5 🐟", "5 " + "🐟" * 60, "𝟓 kg", "5 k\u0301g", "\ud83d",
    "5 \ud83d kg", "5\ufeffkg",
    "5 {unit}", "{typed}", "5 $&", "5 $1 $`", "5 \\u0000", "NaN", "Infinity", "-inf", "0x10", "1e", "1e+", "e5",
    "5 K", "5 \u212a",
    "5 İ", "5 ſ", "٣", "１２", "5" + "²" * 50, "5 m" + "²" * 50, "5 m^" + "9" * 90, "5" + "." * 150, "5" + " ." * 90,
    "a" * 31 + "=5", "about " * 30 + "5", "~" * 150 + "5", "-" * 150 + "5", "½" * 100, "12:30" * 30, "12:00:" * 30,
    "0" * 200,
]


def test_table_is_judged_alike(script: Script) -> None:
    """Every row of the table gives the same verdict, message, echo, reading and unit in both languages."""
    cases = table_cases()
    assert not differences(cases, script.find(cases))


def test_mutated_answers_are_judged_alike(script: Script) -> None:
    """Thousands of good answers after a slip of the finger are judged alike in both languages."""
    cases = mutated_cases(MUTATED)
    assert not differences(cases, script.find(cases))


@settings(max_examples=300, suppress_health_check=[HealthCheck.too_slow])
@given(cases=cases_drawn)
def test_invented_answers_are_judged_alike(script: Script, cases: list[Case]) -> None:
    """Answers put together from numbers, units and stray pieces are judged alike in both languages."""
    assert not differences(cases, script.find(cases))


def test_hostile_answers_are_judged_alike(script: Script) -> None:
    """Texts made to break a reader get the same verdict in both languages, for every kind of task."""
    tasks = [NAMES.index(name) for name in ("feed", "share", "plants", "meal", "cash")]
    cases = [(text, task, "point") for text in HOSTILE for task in tasks]
    assert not differences(cases, script.find(cases))


def test_known_words_are_understood_alike(script: Script) -> None:
    """Every word of the vocabulary, alone and below a division, means the same in both languages."""
    cases = [(f"5 {before}{word}", 0, "point") for word in WORDS for before in ("", "kg/", "per 100 ")]
    assert not differences(cases, script.find(cases))


def test_script_sets_one_property_and_keeps_its_tables(script: Script) -> None:
    """The script adds one name to the page, and judging changes neither the tables nor what is expected."""
    names, inside, kept = script.run_apart(
        "const before = new Set(Object.getOwnPropertyNames(globalThis)); load();"
        "const names = Object.getOwnPropertyNames(globalThis).filter((name) => !before.has(name));"
        "const kept = JSON.stringify(given);"
        f"for (const one of {json.dumps(table_cases()[::7])})"
        "  Waterleaf.judge(one[0], given.expected[one[1]], given.tables, one[2]);"
        "show([names, Object.keys(Waterleaf), kept === JSON.stringify(given)]);"
    )
    assert (names, inside, kept) == (["Waterleaf"], [path.stem for path in JUDGE], True)


def test_script_leaves_other_properties_alone(script: Script) -> None:
    """A `Waterleaf` that another script has made keeps what it holds."""
    assert script.run_apart("globalThis.Waterleaf = {other: 7}; load(); show(Waterleaf.other);") == 7


def test_script_takes_what_is_no_text_for_nothing(script: Script) -> None:
    """A missing answer is judged as if nothing had been typed."""
    kinds = script.run_apart(
        "load(); show([undefined, null, 5, {}, ['5 kg']].map("
        "(typed) => Waterleaf.judge(typed, given.expected[0], given.tables, 'point').message));"
    )
    assert kinds == [MESSAGES["empty"]] * 5


@pytest.mark.browser
def test_table_is_judged_alike_in_a_browser(browser: "Browser") -> None:
    """Every row of the table gives the same findings in a browser, where the script will live."""
    cases = table_cases()
    page = browser.new_page()
    try:
        page.set_content("<p>empty</p>")
        for path in JUDGE:
            page.add_script_tag(content=path.read_text(encoding="utf-8"))
        page.add_script_tag(content=FINDINGS)
        found = page.evaluate("([given, cases]) => findings(given, cases)", [given_data(), cases])
    finally:
        page.close()
    assert not differences(cases, found)

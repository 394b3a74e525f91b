"""The guide to one's own system names everything that a growing file may hold."""

import re
from pathlib import Path

from waterleaf.commands.growing import start
from waterleaf.growing.derived import DERIVED
from waterleaf.growing.facts import ASSUMED
from waterleaf.growing.model import Crop, Fish, GrowingFile
from waterleaf.growing.system import names, read_growing
from waterleaf.growing.term_events import read_events
from waterleaf.working import figures
from waterleaf.working.units import written

ROOT = Path(__file__).parents[2]
SECTIONS = vars(GrowingFile(name="a", fish=Fish(species="bluegill")))


def told(text: str) -> str:
    """A meaning as it stands in a table."""
    text = text.rstrip(".")
    return text if text.startswith("pH") else text[0].lower() + text[1:]


def origin(name: str) -> str:
    """Where a value comes from, as the guide says it."""
    section, key = name.split(".")
    places = ["the file"] if key in getattr(type(SECTIONS.get(section)), "model_fields", ()) else []
    places += ["a sum"] if name in DERIVED else []
    if name in ASSUMED:
        places.append(f"assumed {figures.plain(ASSUMED[name].value, 4)}")
    return ", or ".join(places)


def test_the_guide_lists_every_name_with_its_meaning() -> None:
    """What `own` and `measured` may name is documented word for word, with unit and origin, in order."""
    guide = (ROOT / "course" / "instructors" / "own-system.md").read_text(encoding="utf-8")
    listed = guide[guide.index("| name | unit |") : guide.index("For each crop")].strip().splitlines()[2:]
    assert listed == [
        f"| `{name}` | {written(unit) or 'number'} | {told(meaning)} | {origin(name)} |"
        for name, (unit, meaning) in names().items()
    ]


def test_the_guide_lists_every_field_of_a_crop() -> None:
    """What can be said of a crop is documented, with its unit."""
    guide = (ROOT / "course" / "instructors" / "own-system.md").read_text(encoding="utf-8")
    listed = guide[guide.index("For each crop") :]
    fields = {info.alias or key: told(str(info.description)) for key, info in Crop.model_fields.items()}
    assert [
        key for key, meaning in fields.items() if not re.search(rf"\| `{key}` \| .+ \| {re.escape(meaning)} \|", listed)
    ] == []


def test_no_meaning_is_the_name_again() -> None:
    """A meaning says more than its name does."""
    bare = [name for name, (_, meaning) in names().items() if told(meaning) == name.split(".")[1].replace("_", " ")]
    assert bare == []


def test_a_started_file_opens_as_its_first_lines_say(tmp_path: Path) -> None:
    """With the # and one space taken from a line and its section it is read; file and guide both say so."""
    path = tmp_path / "mine.yaml"
    start(path)
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("# site:\n#   altitude", "site:\n  altitude"), encoding="utf-8")
    assert read_growing(path).get("site.altitude") is not None
    guide = (ROOT / "course" / "instructors" / "own-system.md").read_text(encoding="utf-8")
    for words in (text.replace("\n# ", " "), " ".join(guide.split()).replace("`", "")):
        assert "the # and the one space after it" in words


def test_an_event_of_the_guide_with_a_space_is_quoted_where_it_is_typed() -> None:
    """Otherwise a shell would part it."""
    guide = (ROOT / "course" / "instructors" / "own-system.md").read_text(encoding="utf-8")
    spaced = re.findall(r'--if "([^"]+)"', guide)
    assert spaced
    assert [event.kind for event in read_events(spaced, 56)] == ["pump-stop"]

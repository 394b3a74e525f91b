"""A plan put beyond change: its fingerprint, its layout, and what differs when somebody looks again."""

import hashlib
import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from pydantic import ValidationError

from waterleaf import __version__
from waterleaf.faults import refuse
from waterleaf.trial.layout import Unit, lay_out
from waterleaf.trial.plan import Plan
from waterleaf.writing import written_whole

SUFFIX: Final = ".frozen.json"
FORMAT: Final = "waterleaf-frozen-plan"
# The first frozen plans bore neither format nor version; they hold the same fields and are read as version 1.
VERSION: Final = 1
_LARGEST: Final = 1_000_000


def fingerprint(plan: Plan, layout: Sequence[Unit]) -> str:
    """Thirty-two characters that change when anything in the plan or its layout does."""
    data = {"plan": plan.model_dump(mode="json"), "layout": [unit.data() for unit in layout]}
    text = json.dumps(data, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return hashlib.blake2b(text.encode(), digest_size=16).hexdigest()


def short(mark: str) -> str:
    """The first eight characters, which stand on every sheet and in every row of data."""
    return mark[:8]


@dataclass(frozen=True, slots=True)
class Frozen:
    """A frozen plan as it was read back."""

    plan: Plan
    layout: tuple[Unit, ...]
    fingerprint: str
    date: str

    @property
    def intact(self) -> bool:
        """Whether the frozen file still is what was frozen."""
        return fingerprint(self.plan, self.layout) == self.fingerprint


def frozen_path(plan_file: Path) -> Path:
    """Where the frozen plan of a plan file lies: beside it."""
    return plan_file.with_name(plan_file.stem + SUFFIX)


def freeze(plan: Plan, plan_file: Path, date: str) -> tuple[Path, str]:
    """Write the frozen plan beside its file; returns where, and the fingerprint. Freezing the same again is harmless.

    Raises Faults where another plan was frozen there before, or the file cannot be written.
    """
    path, layout = frozen_path(plan_file), lay_out(plan)
    mark = fingerprint(plan, layout)
    earlier = thaw(plan_file)
    if earlier is not None:
        if earlier.fingerprint == mark and earlier.intact:
            return path, mark
        raise refuse(
            path.name,
            f"a plan with another fingerprint ({short(earlier.fingerprint)}) was frozen here. If nothing has been "
            "planted, delete that file and freeze again; otherwise go on with the frozen plan, and the report will "
            "say what changed.",
        )
    data = {
        "format": FORMAT,
        "version": VERSION,
        "made by": f"Waterleaf {__version__}",
        "fingerprint": mark,
        "date": date,
        "plan": plan.model_dump(mode="json"),
        "layout": [unit.data() for unit in layout],
    }
    written_whole(path, json.dumps(data, ensure_ascii=False, indent=1) + "\n")
    return path, mark


def thaw(plan_file: Path) -> Frozen | None:
    """The frozen plan beside a plan file, or nothing where none was frozen. Raises Faults where it is broken."""
    path = frozen_path(plan_file)
    if not path.exists():
        return None
    broken = "this is not a frozen plan that can be read. Put back the copy that was made when the plan was frozen."
    try:
        if path.stat().st_size > _LARGEST:
            raise refuse(path.name, broken)
        data = json.loads(path.read_text(encoding="utf-8"))
        if isinstance(data, dict) and isinstance(data.get("version"), int) and data["version"] > VERSION:
            raise refuse(
                path.name, f"was frozen by a newer kit (version {str(data['version'])[:20]} of the form; this kit "
                f"knows up to {VERSION}). Use the newer kit."
            )
        if not isinstance(data, dict) or (data.get("format", FORMAT), data.get("version", 1)) != (FORMAT, VERSION):
            raise refuse(path.name, broken)
        plan = Plan.model_validate(data["plan"])
        layout = tuple(Unit(**unit) for unit in data["layout"])
        return Frozen(plan, layout, str(data["fingerprint"]), str(data["date"]))
    except OSError as error:
        raise refuse(path.name, f"cannot be read ({error.strerror}). Check the permissions.") from None
    except (json.JSONDecodeError, UnicodeDecodeError, KeyError, TypeError, ValidationError, RecursionError):
        raise refuse(path.name, broken) from None


def differences(frozen: Frozen | None, plan: Plan) -> list[str]:
    """What stands between the plan as it is now and the plan as it was frozen, each in a sentence."""
    if frozen is None:
        return ["The plan was never frozen: nothing shows that it was made before the data."]
    found = [] if frozen.intact else ["The frozen plan itself was changed after it was frozen."]
    before, now = (dict(_flat(one.model_dump(mode="json"))) for one in (frozen.plan, plan))
    fields = (*before, *(key for key in now if key not in before))
    changed = [field for field in fields if before.get(field) != now.get(field)]
    return found + [
        f"{field} was {_said(before.get(field))} when frozen and is {_said(now.get(field))} now." for field in changed
    ]


def _flat(data: dict[str, Any], above: str = "") -> Iterator[tuple[str, Any]]:
    for key, value in data.items():
        if isinstance(value, dict):
            yield from _flat(value, f"{above}{key}.")
        else:
            yield f"{above}{key}", value


def _said(value: Any) -> str:
    if value is None:
        return "absent"
    return ", ".join(str(item) for item in value) or "empty" if isinstance(value, list) else str(value)

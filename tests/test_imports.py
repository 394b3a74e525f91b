"""Knowledge flows one way through the package."""

import ast
from graphlib import TopologicalSorter
from pathlib import Path

PACKAGE = Path(__file__).parents[1] / "generator" / "waterleaf"

# Lowest first. A part may import what stands before it, and itself.
ORDER = [
    "faults",
    "writing",
    "typeset",
    "webpage",
    "sharing",
    "evidence",
    "calc",
    "working",
    "bank",
    "draw",
    "shown",
    "solution",
    "exercise",
    "growing",
    "marking",
    "sheets",
    "trial",
    "printing",
    "proof",
    "home",
    "site",
    "classwork",
    "commands",
    "pictures",
    "known_units",
    "endings",
    "cli",
    "bench",
    "__main__",
]


def parts() -> dict[str, set[str]]:
    """Each part of the package and the parts that it imports."""
    found: dict[str, set[str]] = {}
    for path in PACKAGE.rglob("*.py"):
        own = path.relative_to(PACKAGE).parts[0].removesuffix(".py")
        if own == "__init__":
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            names = (
                [node.module]
                if isinstance(node, ast.ImportFrom) and node.module
                else [alias.name for alias in node.names]
                if isinstance(node, ast.Import)
                else []
            )
            if isinstance(node, ast.ImportFrom) and node.module == "waterleaf":
                names = [f"waterleaf.{alias.name}" for alias in node.names]
            for name in names:
                if name.startswith("waterleaf.") and name != "waterleaf.__version__":
                    found.setdefault(own, set()).add(name.split(".")[1])
    return found


def test_every_part_has_its_place_in_the_order() -> None:
    """A new part is put into the order on purpose."""
    known = {path.name.removesuffix(".py") for path in PACKAGE.iterdir() if path.suffix == ".py" or path.is_dir()}
    assert known - {"__init__", "__pycache__"} <= set(ORDER)


def test_nothing_imports_upward() -> None:
    """An arrow from a lower part to a higher one would let the parts grow into one lump."""
    upward = [
        f"{part} imports {target}"
        for part, targets in parts().items()
        for target in targets
        if ORDER.index(target) > ORDER.index(part)
    ]
    assert not upward


def test_no_module_imports_itself_by_way_of_others() -> None:
    """Modules that need each other are one module in two files; nobody could read either alone."""
    modules = {
        ".".join(("waterleaf", *path.relative_to(PACKAGE).with_suffix("").parts)).removesuffix(".__init__"): path
        for path in PACKAGE.rglob("*.py")
    }
    graph: dict[str, set[str]] = {}
    for name, path in modules.items():
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and node.module:
                named = {node.module, *(f"{node.module}.{alias.name}" for alias in node.names)}
                graph.setdefault(name, set()).update(named & modules.keys() - {name})
    TopologicalSorter(graph).prepare()  # raises CycleError, which names the modules


def test_calc_does_no_input_or_output() -> None:
    """The shared calc module is pure: no files, clocks, printing or network."""
    banned = {"open", "print", "input", "eval", "exec"}
    modules = {"os", "io", "time", "datetime", "pathlib", "socket", "logging", "subprocess", "urllib"}
    for path in (PACKAGE / "calc").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
                assert node.func.id not in banned, f"{path.name}:{node.lineno} calls {node.func.id}"
            if isinstance(node, ast.Import):
                assert not modules & {alias.name.split(".")[0] for alias in node.names}, path.name
            if isinstance(node, ast.ImportFrom):
                assert (node.module or "").split(".")[0] not in modules, path.name


def test_modules_stay_small() -> None:
    """A module that grows beyond about four hundred lines is split by what it is about."""
    for path in PACKAGE.rglob("*.py"):
        if path.name == "sources.py":  # a list of publications is as long as it is
            continue
        lines = path.read_text(encoding="utf-8").count("\n")
        assert lines <= 450, f"{path.relative_to(PACKAGE)} has {lines} lines"

"""The command line: reads words, calls the kit, prints what came of it. Heavy parts load only when a command runs."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Annotated, Any

import typer

from waterleaf import __version__
from waterleaf.commands.growing_cli import growing_app
from waterleaf.commands.trial_cli import trial_app
from waterleaf.commands.words import AsJson, Families, Growing, Out, Paper, Pdf, Seed, Units, Workers
from waterleaf.endings import run_to_end

app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    help="A course and assessment kit for recirculating fish-and-plant growing.",
)
bank_app = typer.Typer(no_args_is_help=True, rich_markup_mode=None, help="Look after the question bank.")
app.add_typer(bank_app, name="bank")
app.add_typer(growing_app, name="growing")
app.add_typer(trial_app, name="trial")


def main() -> None:
    """Run the command line; every fault ends as one line each on standard error and exit status 2."""
    run_to_end(app)


@contextmanager
def _progress(label: str, total: int) -> Iterator[Any]:
    """A progress bar on a terminal; silence elsewhere."""
    if not sys.stderr.isatty() or total < 1:
        yield lambda _n: None
        return
    from rich.console import Console
    from rich.progress import Progress

    with Progress(console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(label, total=total)
        yield lambda n: bar.advance(task, n)


@app.callback(invoke_without_command=True)
def _version(
    version: Annotated[bool, typer.Option("--version", help="Print the version and stop.")] = False,
) -> None:
    if version:
        typer.echo(f"waterleaf {__version__}")
        raise typer.Exit


@app.command()
def build(out: Out = None, seed: Seed = None, units: Units = None, growing: Growing = None) -> None:
    """Make the course site, the worksheets and the keys.

    Example: waterleaf build --seed 7
    """
    from waterleaf.commands.build import build_all

    with _progress("Building", 100) as advance:
        report = build_all(out, seed, units, advance, growing)
    typer.echo(report)


@app.command()
def start(
    folder: Annotated[Path, typer.Argument(help="Name of the new folder.")],
    course: Annotated[
        bool, typer.Option("--course", help="Lay down lessons and question bank too, to change them.")
    ] = False,
    demo: Annotated[
        bool, typer.Option("--demo", help="Lay down an invented class with a growing file and a trial, to try things.")
    ] = False,
) -> None:
    """Lay down a folder for a class, with a commented file for each job.

    Example: waterleaf start classes/spring
    """
    from waterleaf.commands.start import start_folder

    typer.echo(start_folder(folder, course, demo))


@app.command()
def sheets(
    count: Annotated[int, typer.Option(min=1, max=100_000, help="How many different worksheets.")] = 30,
    families: Families = "",
    seed: Seed = None,
    paper: Paper = None,
    units: Units = None,
    title: Annotated[str, typer.Option(help="Title of the sheets.")] = "Worksheet",
    separate: Annotated[bool, typer.Option(help="One file a sheet instead of packets.")] = False,
    growing: Growing = None,
    out: Out = None,
    workers: Workers = None,
) -> None:
    """Make worksheets with keys, every sheet with its own numbers.

    Example: waterleaf sheets --count 24 --families feed,solids/flush_day --seed 7 --paper letter --units us
    """
    from waterleaf.commands.sheets import Wish, make_packets

    wish = Wish(count, families, seed, paper, units, title, separate, growing, out, workers)
    with _progress("Printing", 2 * count) as advance:
        report = make_packets(wish, advance)
    typer.echo(report)


@app.command()
def work(
    family: Annotated[str, typer.Argument(help="A family, for example feed/daily_feed.")],
    given: Annotated[list[str] | None, typer.Argument(help="Own values, as in bed_area=24m^2.")] = None,
    seed: Seed = None,
    units: Units = None,
    growing: Growing = None,
    as_json: AsJson = False,
) -> None:
    """Show one exercise with its worked answer.

    Example: waterleaf work feed/daily_feed bed_area=24m^2 --seed 3
    """
    from waterleaf.commands.work import worked_exercise

    typer.echo(worked_exercise(family, given or [], seed, units, as_json, growing))


@app.command()
def calc(
    name: Annotated[str | None, typer.Argument(help="A relation, for example daily_feed.")] = None,
    values: Annotated[list[str] | None, typer.Argument(help="Values, as in bed_area=64ft^2.")] = None,
    list_all: Annotated[bool, typer.Option("--list", help="List all relations by topic.")] = False,
    into: Annotated[str | None, typer.Option("--in", help="Unit of the answer.")] = None,
    steps: Annotated[bool, typer.Option("--steps", help="Show the working.")] = False,
    source: Annotated[bool, typer.Option("--source", help="Show where the relation comes from.")] = False,
    as_json: AsJson = False,
) -> None:
    """Compute a quantity of the course.

    Example: waterleaf calc daily_feed bed_area=64ft^2 feed_ratio=60g/m^2/day --in lb/day --steps
    """
    from waterleaf.commands.calc import calculate, list_relations

    if list_all or name is None:
        typer.echo(list_relations(as_json))
        return
    typer.echo(calculate(name, values or [], into, steps=steps, source=source, as_json=as_json))


@app.command()
def assign(
    folder: Annotated[Path, typer.Argument(help="Folder of the class, with its class file and assignment.yaml.")],
    assignment: Annotated[str, typer.Option(help="Name of the assignment file.")] = "assignment.yaml",
    again: Annotated[
        str | None,
        typer.Option(help="Print an earlier assignment again, by its id, from the issue book alone."),
    ] = None,
    worked: Annotated[
        str | None,
        typer.Option(help="Make pages of worked answers of an assignment, by its id, for when the work is closed."),
    ] = None,
    growing: Growing = None,
    workers: Workers = None,
) -> None:
    """Give every student of a class a sheet of their own: packets, key book, answer grid and table of answers.

    Example: waterleaf assign classes/spring --assignment week-3.yaml
    """
    from waterleaf.commands.assign import assign_sheets, open_answers

    if worked is not None:
        typer.echo(open_answers(folder, worked))
        return
    with _progress("Printing", 100) as advance:
        report = assign_sheets(folder, assignment, again, advance, growing, workers)
    typer.echo(report)


@app.command()
def papers(
    folder: Annotated[Path, typer.Argument(help="Folder of the class, with its class file and the plan.")],
    plan: Annotated[str, typer.Option(help="Name of the plan file.")] = "test-plan.yaml",
    workers: Workers = None,
) -> None:
    """Make parallel test papers that match question by question, and deal them so that neighbours differ.

    Example: waterleaf papers classes/spring --plan mid-term.yaml
    """
    from waterleaf.commands.papers import make_papers

    with _progress("Printing", 100) as advance:
        report = make_papers(folder, plan, advance, workers)
    typer.echo(report)


@app.command()
def practicals(
    folder: Annotated[Path | None, typer.Argument(help="Folder of the class; blank pages where left out.")] = None,
    tasks: Annotated[str, typer.Option(help="Tasks, separated by commas; all where left out.")] = "",
    beside: Annotated[
        str | None,
        typer.Option(help="Id of the assignment or papers in whose marks table these marks will stand."),
    ] = None,
    blank: Annotated[int, typer.Option(min=1, max=500, help="How many blank pages, where no class is named.")] = 1,
    paper: Paper = None,
    units: Units = None,
    growing: Growing = None,
    out: Out = None,
    again: Annotated[
        bool, typer.Option("--again", help="Print pages given out earlier, from the issue book; give out nothing new.")
    ] = False,
    list_all: Annotated[bool, typer.Option("--list", help="List the tasks of the course.")] = False,
) -> None:
    """Print pages for practical tasks and reports, with cautions and criteria, and a table for their marks.

    Example: waterleaf practicals classes/spring --tasks flush_clarifier,weigh_feed --beside mid-term
    """
    from waterleaf.commands.practicals import Wish, list_tasks, make_practicals

    if list_all:
        typer.echo(list_tasks())
        return
    with _progress("Printing", 100) as advance:
        report = make_practicals(folder, Wish(tasks, beside, blank, units, paper, out, growing, again), advance)
    typer.echo(report)


@app.command()
def mark(
    folder: Annotated[Path, typer.Argument(help="Folder of the class.")],
    assignment: Annotated[
        str | None, typer.Option(help="Id of the assignment; not needed where only one was given out.")
    ] = None,
    feedback: Annotated[bool, typer.Option(help="Print a feedback sheet for every student.")] = True,
    rehearse: Annotated[
        bool, typer.Option("--rehearse", help="Mark invented answers instead, in a folder of their own, to try it.")
    ] = False,
    workers: Workers = None,
) -> None:
    """Mark a class's answers: marks table, feedback, class report, and a short list of what only a person can decide.

    Example: waterleaf mark classes/spring --assignment week-3
    """
    from waterleaf.commands.mark import mark_class

    with _progress("Marking", 100) as advance:
        report, undecided = mark_class(folder, assignment, feedback, advance, workers, rehearse)
    typer.echo(report)
    if undecided:
        raise typer.Exit(1)


@bank_app.command("check")
def bank_check(
    draws: Annotated[int, typer.Option(min=1, max=100_000, help="Draws for each family.")] = 2000,
    families: Families = "",
    out: Annotated[Path | None, typer.Option(help="Write the table to this CSV file too.")] = None,
    as_json: AsJson = False,
    workers: Workers = None,
) -> None:
    """Prove every family over many draws: sensible answers, slips told apart, both unit systems in step.

    Example: waterleaf bank check --draws 200
    """
    from waterleaf.commands.bank import check_bank

    text, sound = check_bank(draws, families, out, as_json, _progress, workers)
    typer.echo(text)
    if not sound:
        raise typer.Exit(1)


@bank_app.command("new")
def bank_new(name: Annotated[str, typer.Argument(help="Topic and name, for example feed/new_bed.")]) -> None:
    """Lay down a commented file for a new family.

    Example: waterleaf bank new feed/new_bed
    """
    from waterleaf.commands.author import new_family

    typer.echo(new_family(name))


@bank_app.command("show")
def bank_show(
    family: Annotated[str, typer.Argument(help="A family, for example feed/daily_feed.")],
    seed: Seed = None,
    units: Units = None,
    pdf: Pdf = None,
) -> None:
    """Show three draws of a family with their keys.

    Example: waterleaf bank show feed/daily_feed --pdf proof.pdf
    """
    from waterleaf.commands.author import show_family

    typer.echo(show_family(family, seed, units, pdf))


@bank_app.command("schema")
def bank_schema() -> None:
    """Print the JSON Schema of a family file, for editors that complete YAML.

    Example: waterleaf bank schema > family.schema.json
    """
    from waterleaf.commands.author import schema

    typer.echo(schema())


@bank_app.command("map")
def bank_map() -> None:
    """Show which goals the bank covers at which level, and the holes.

    Example: waterleaf bank map
    """
    from waterleaf.commands.author import coverage_map

    typer.echo(coverage_map())

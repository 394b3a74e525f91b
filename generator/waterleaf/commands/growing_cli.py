"""The words of `waterleaf growing`: read here, carried out in `commands.growing`, which loads only when it runs."""

from pathlib import Path
from typing import Annotated

import typer

from waterleaf.commands.words import AsJson, GrowingFile, Html, Out, Pdf, Seed

growing_app = typer.Typer(no_args_is_help=True, rich_markup_mode=None, help="Look after the class's own system.")


@growing_app.command("start")
def growing_start(file: Annotated[Path, typer.Argument(help="Name of the new file, as in growing.yaml.")]) -> None:
    """Lay down a commented growing file to fill in.

    Example: waterleaf growing start growing.yaml
    """
    from waterleaf.commands.growing import start

    typer.echo(start(file))


@growing_app.command("duties")
def growing_duties(
    file: GrowingFile,
    crew: Annotated[Path, typer.Option(help="The crew file: first day, names, weekdays.")],
    weeks: Annotated[int, typer.Option(min=1, max=30, help="How many weeks to plan.")] = 2,
    out: Out = None,
) -> None:
    """Share the duties of some weeks among a crew: board, cards with amounts, log sheet and calendar.

    Example: waterleaf growing duties course/demo/growing.yaml --crew course/demo/crew.yaml --weeks 2
    """
    from waterleaf.commands.growing import make_duties

    typer.echo(make_duties(file, weeks, crew, out))


@growing_app.command("ahead")
def growing_ahead(
    file: GrowingFile,
    days: Annotated[int, typer.Option(help="How many days to look ahead.")] = 112,
    events: Annotated[
        list[str] | None,
        typer.Option("--if", help='What goes wrong, as missed-flush:10-14 or "pump-stop:20:5 hours"; may be repeated.'),
    ] = None,
    html: Html = None,
    pdf: Pdf = None,
    as_json: AsJson = False,
) -> None:
    """Look a term ahead, day by day: what happens if a flush is missed, the pump stops, or nobody tops up.

    Example: waterleaf growing ahead course/demo/growing.yaml --days 56 --if missed-flush:10-14
    """
    from waterleaf.commands.growing import tell_ahead

    typer.echo(tell_ahead(file, days, events or [], html, pdf, as_json))


@growing_app.command("watch")
def growing_watch(
    file: GrowingFile,
    seed: Seed = None,
    decisions: Annotated[int, typer.Option(help="How many decisions, 6 to 10.")] = 6,
    out: Out = None,
) -> None:
    """Print a game for a crew: decisions over a term, with what comes of each choice, and a key for the instructor.

    Example: waterleaf growing watch course/demo/growing.yaml --seed 7
    """
    from waterleaf.commands import options
    from waterleaf.commands.growing import print_watch

    typer.echo(print_watch(file, options.seed(seed, 1), decisions, out))


@growing_app.command("crops")
def growing_crops(
    file: GrowingFile,
    beds: Annotated[str, typer.Option(help="Kinds of bed to plan, as in raft,media; else the loop's beds.")] = "",
    html: Html = None,
    pdf: Pdf = None,
    as_json: AsJson = False,
) -> None:
    """Say which crops earn the space this season, which limit binds, and what one unit more of it is worth.

    Example: waterleaf growing crops course/demo/growing.yaml --pdf crops.pdf
    """
    from waterleaf.commands.growing import choose_crops

    told, planned = choose_crops(file, beds, as_json, html, pdf)
    typer.echo(told)
    if not planned:
        raise typer.Exit(1)


@growing_app.command("log")
def growing_log(
    log: Annotated[Path, typer.Argument(help="A log sheet that the crew filled in.")],
    svg: Annotated[Path | None, typer.Option(help="Draw feed, flush and readings into this SVG file.")] = None,
) -> None:
    """Read a filled log back: done against planned, and what drifted.

    Example: waterleaf growing log build/duties/log.csv --svg log.svg
    """
    from waterleaf.commands.growing import read_back

    text, steady = read_back(log, svg)
    typer.echo(text)
    if not steady:
        raise typer.Exit(1)


@growing_app.command("check")
def growing_check(
    file: GrowingFile,
    html: Html = None,
    pdf: Pdf = None,
    as_json: AsJson = False,
) -> None:
    """Hold the system against the course's relations: what to mend first, why, and from which source.

    Example: waterleaf growing check course/demo/growing.yaml --pdf findings.pdf
    """
    from waterleaf.commands.growing import check_system

    text, sound = check_system(file, html, pdf, as_json)
    typer.echo(text)
    if not sound:
        raise typer.Exit(1)

"""The words of `waterleaf trial`: read here, carried out in `commands.trial`, which loads only when it runs."""

from pathlib import Path
from typing import Annotated

import typer

from waterleaf.commands.words import Html, Out, Pdf

trial_app = typer.Typer(no_args_is_help=True, rich_markup_mode=None, help="Compare ways of growing side by side.")

_PlanFile = Annotated[Path, typer.Argument(help="The plan of the trial, a YAML file.")]


@trial_app.command("start")
def trial_start(file: Annotated[Path, typer.Argument(help="Name of the new plan file.")]) -> None:
    """Lay down a commented plan for a trial.

    Example: waterleaf trial start lettuce.yaml
    """
    from waterleaf.commands.trial import start_trial

    typer.echo(start_trial(file))


@trial_app.command("plan")
def trial_plan(
    plan: _PlanFile,
    freeze: Annotated[bool, typer.Option("--freeze", help="Put the plan beyond change, with a fingerprint.")] = False,
    layout: Annotated[bool, typer.Option("--layout", help="Show which unit gets which method.")] = False,
) -> None:
    """Say what a plan can show before anything is planted, and freeze it.

    Example: waterleaf trial plan lettuce.yaml --freeze
    """
    from waterleaf.commands.trial import plan_trial

    typer.echo(plan_trial(plan, freeze, layout))


@trial_app.command("rehearse")
def trial_rehearse(
    plan: _PlanFile,
    seed: Annotated[
        int | None, typer.Option(min=0, max=999_999, help="A whole number; another one gives other data.")
    ] = None,
    reveal: Annotated[bool, typer.Option("--reveal", help="Tell the truth behind the last rehearsal.")] = False,
    out: Out = None,
) -> None:
    """Invent data for a plan, with a truth that stays hidden until you ask, to practise on.

    Example: waterleaf trial rehearse lettuce.yaml --seed 3
    """
    from waterleaf.commands.trial import rehearse_trial, reveal_truth

    typer.echo(reveal_truth(plan, out) if reveal else rehearse_trial(plan, seed, out))


@trial_app.command("print")
def trial_print(
    plan: _PlanFile,
    out: Annotated[Path, typer.Option(help="A new folder for the sheets.")],
) -> None:
    """Print map, tags, protocol, reading sheets, panel sheets and secret keys, and lay down the blank table.

    Example: waterleaf trial print lettuce.yaml --out lettuce-sheets
    """
    from waterleaf.commands.trial import print_trial

    typer.echo(print_trial(plan, out))


_DataFile = Annotated[Path, typer.Argument(help="The filled table, CSV or spreadsheet.")]


@trial_app.command("read")
def trial_read(plan: _PlanFile, data: _DataFile) -> None:
    """Hold a filled table against its plan: missing, doubled, swapped, in another unit, beyond the instrument.

    Example: waterleaf trial read lettuce.yaml readings.csv
    """
    from waterleaf.commands.trial import read_trial

    text, clean = read_trial(plan, data)
    typer.echo(text)
    if not clean:
        raise typer.Exit(1)


@trial_app.command("taste")
def trial_taste(
    plan: _PlanFile,
    data: Annotated[Path, typer.Argument(help="The filled table of the panel's answers, CSV or spreadsheet.")],
    html: Html = None,
    pdf: Pdf = None,
) -> None:
    """Hold a panel's answers against the serving plan, analyse them, and say what may be said.

    Example: waterleaf trial taste lettuce.yaml answers.csv --pdf tasting.pdf
    """
    from waterleaf.commands.trial import taste_trial

    text, clean = taste_trial(plan, data, html, pdf)
    typer.echo(text)
    if not clean:
        raise typer.Exit(1)


@trial_app.command("report")
def trial_report(
    plan: _PlanFile,
    data: _DataFile,
    html: Html = None,
    pdf: Pdf = None,
) -> None:
    """Analyse a filled table by its plan, and say what may be said.

    Example: waterleaf trial report lettuce.yaml readings.csv --html report.html --pdf report.pdf
    """
    from waterleaf.commands.trial import report_trial

    text, clean = report_trial(plan, data, html, pdf)
    typer.echo(text)
    if not clean:
        raise typer.Exit(1)

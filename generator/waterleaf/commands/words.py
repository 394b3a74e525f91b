"""What several commands take, said once, so that one option reads the same wherever it stands."""

from pathlib import Path
from typing import Annotated

import typer

Out = Annotated[Path | None, typer.Option("--out", help="Folder for the output.")]
Seed = Annotated[str | None, typer.Option("--seed", help="A whole number; another one gives other values.")]
Units = Annotated[str | None, typer.Option("--units", help="metric or us; left out, as in the settings.")]
Paper = Annotated[str | None, typer.Option("--paper", help="a4 or letter; left out, as in the settings.")]
Families = Annotated[
    str, typer.Option("--families", help="Families or topics, separated by commas; all where left out.")
]
Growing = Annotated[
    Path | None, typer.Option("--growing", help="Pose exercises with the numbers of this growing file where they fit.")
]
GrowingFile = Annotated[Path, typer.Argument(help="The growing file.")]
Html = Annotated[Path | None, typer.Option("--html", help="Write it to this HTML file too.")]
Pdf = Annotated[Path | None, typer.Option("--pdf", help="Print it to this PDF file too.")]
AsJson = Annotated[bool, typer.Option("--json", help="Print data for a program.")]
Workers = Annotated[
    str | None,
    typer.Option(
        "--workers",
        help="How many processes share the work, or the address of a Dask scheduler, as in tcp://127.0.0.1:8786. "
        "Whoever reaches a scheduler can run programs on its workers, and names and keys cross the network unsealed: "
        "keep it to a network that is yours.",
    ),
]

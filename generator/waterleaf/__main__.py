"""`python -m waterleaf` is the command `waterleaf`."""

from waterleaf.cli import main

main()

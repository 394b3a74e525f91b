"""`python -m waterleaf` is the command `waterleaf`."""

import sys


def run() -> None:
    """The command from its very start: Ctrl-C while its parts are still loading ends like any other."""
    try:
        from waterleaf.cli import main
    except KeyboardInterrupt:
        sys.stderr.write("Stopped. Whatever was finished before is untouched.\n")
        sys.exit(130)
    main()


if __name__ == "__main__":  # a process that helps with the work loads this file too
    run()

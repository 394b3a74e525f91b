"""`python -m waterleaf` is the command `waterleaf`."""

from waterleaf.cli import main

if __name__ == "__main__":  # a process that helps with the work loads this file too
    main()

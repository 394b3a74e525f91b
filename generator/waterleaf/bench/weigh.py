"""Starts a command and says what it cost: `weigh.py NUMBER COMMAND...`, where NUMBER is an open file to say it to.

Standard library only, and run by a Python with nothing loaded: a process counts what its parent held when it was
started among its own memory, so a parent must be small to measure a child by.
"""

import json
import os
import sys
import time


def main() -> None:
    """Run the command and write its seconds, its largest memory in kilobytes and how it ended."""
    number, command = int(sys.argv[1]), sys.argv[2:]
    os.set_inheritable(number, False)
    start = time.perf_counter()
    child = os.fork()
    if child == 0:
        try:
            os.execv(command[0], command)
        finally:
            os._exit(127)
    _, status, usage = os.wait4(child, 0)
    cost = [time.perf_counter() - start, usage.ru_maxrss, os.waitstatus_to_exitcode(status)]
    os.write(number, json.dumps(cost).encode())


if __name__ == "__main__":
    main()

"""Runs Python checks, each in its own process, and sums up.

    run_checks.py [--standard-library-only] FILE...

A check is a program that leaves with 0 when all is well; it finds the program under test by TYMPAN_BIN. With
--standard-library-only those that import anything else are left to the second tier (tests/outside/all).
"""

import ast
import pathlib
import subprocess
import sys
import time

LONGEST_SECONDS = 900


def imported(file, seen):
    """The top-level modules a file imports, those of its neighbours included."""
    names = set()
    for node in ast.walk(ast.parse(file.read_text("utf-8"), str(file))):
        if isinstance(node, ast.Import):
            names |= {name.name.partition(".")[0] for name in node.names}
        elif isinstance(node, ast.ImportFrom) and node.level == 0:
            names.add(node.module.partition(".")[0])
    for name in list(names):
        neighbour = file.with_name(f"{name}.py")
        if neighbour.exists():
            names.discard(name)
            if neighbour not in seen:
                names |= imported(neighbour, seen | {neighbour})
    return names


def run(file):
    began = time.monotonic()
    try:
        done = subprocess.run(
            [sys.executable, str(file)], stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
            text=True, errors="replace", timeout=LONGEST_SECONDS,
        )
        code, said = done.returncode, done.stdout
    except subprocess.TimeoutExpired as late:
        code, said = "none", f"{late.stdout or ''}\nnot done after {LONGEST_SECONDS} s"
    print(f"{'ok    ' if code == 0 else 'FAILED'} {file.name} ({time.monotonic() - began:.1f} s)")
    lines = said.rstrip().splitlines()
    for line in lines if code != 0 else lines[-3:]:
        print(f"       {line}")
    sys.stdout.flush()
    return code == 0


def main(arguments):
    plain_only = "--standard-library-only" in arguments
    files = [pathlib.Path(a).resolve() for a in arguments if not a.startswith("--")]
    if plain_only:
        files = [f for f in files if imported(f, {f}) <= sys.stdlib_module_names]
    results = [run(file) for file in files]
    print(f"python: {results.count(True)} passed, {results.count(False)} failed")
    if not results:
        print("no check was found to run", file=sys.stderr)
    return 0 if results and all(results) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

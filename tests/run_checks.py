"""Runs Python checks, each in its own process, as many at once as there are processors, and sums up.

    run_checks.py [--standard-library-only] FILE...

A check is a program that leaves with 0 when all is well; it finds the program under test by TYMPAN_BIN. With
--standard-library-only those that import anything else are left to the second tier (tests/outside/all), and so are those
that need a program of packages.txt and say so by a line `SECOND_TIER = "…"`.
"""

import ast
import concurrent.futures
import os
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


def needs_a_program(file):
    body = ast.parse(file.read_text("utf-8"), str(file)).body
    names = [target.id for node in body if isinstance(node, ast.Assign) for target in node.targets if isinstance(target, ast.Name)]
    return "SECOND_TIER" in names


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
    return file, code == 0, time.monotonic() - began, said.rstrip().splitlines()


def tell(file, passed, seconds, lines):
    print(f"{'ok    ' if passed else 'FAILED'} {file.name} ({seconds:.1f} s)")
    for line in lines[-3:] if passed else lines:
        print(f"       {line}")
    sys.stdout.flush()


def main(arguments):
    plain_only = "--standard-library-only" in arguments
    files = [pathlib.Path(a).resolve() for a in arguments if not a.startswith("--")]
    if plain_only:
        files = [f for f in files if imported(f, {f}) <= sys.stdlib_module_names and not needs_a_program(f)]
    results = []
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as hands:
        for done in concurrent.futures.as_completed([hands.submit(run, file) for file in files]):
            tell(*done.result())
            results.append(done.result()[1])
    print(f"python: {results.count(True)} passed, {results.count(False)} failed")
    if not results:
        print("no check was found to run", file=sys.stderr)
    return 0 if results and all(results) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

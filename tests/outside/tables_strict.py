"""The demo school's tables, taken by `tympan export`, read by the csv module of Python's standard library.

Reference: csv.reader with strict=True for RFC 4180, datetime and zoneinfo for instants and due dates, decimal for numbers.
Every table of the demo class: UTF-8 without a mark, CRLF row ends, as many cells in each row as in the header, no cell that
a spreadsheet program could take for a formula; what `columns` says of a column holds for every cell in it; and ids join.
Then 100,000 etch logs are put into the record: the program that writes them needs hardly more memory than before.
"""

import csv
import io
import json
import os
import re
import signal
import sqlite3
import subprocess
import sys
import tempfile
import time
import zoneinfo
from datetime import date, datetime, timezone
from decimal import Decimal
from pathlib import Path

PROGRAM = os.environ.get("TYMPAN_BIN", "target/debug/tympan")
AT = "2026-11-10T19:20:00Z"
TERM = "Term of September 2026"
TABLES = ["roster", "prints", "plates", "etches", "signoffs", "grades", "scores", "attendance", "goals", "journal", "columns"]
MANY = 100_000  # so that holding them would need more than the program needs at its start
DANGERS = set("=+-@\t\r\n\0＝＋－＠")
NUMBER = re.compile(r"-?\d+(\.\d+)?")
INSTANT = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z")


def start(folder):
    """A demo school in the folder, its server, and what the server said: the address and the sign-ins."""
    log = open(folder / "log", "w", encoding="utf-8")
    demo = subprocess.Popen(
        [PROGRAM, "demo", "--at", AT, "--listen", "127.0.0.1:0", "--folder", str(folder / "school")],
        stdin=subprocess.DEVNULL, stdout=log, stderr=subprocess.STDOUT)
    deadline = time.monotonic() + 300
    while "sign-in student:" not in (said := (folder / "log").read_text("utf-8")):
        if demo.poll() is not None or time.monotonic() > deadline:
            sys.exit("the demo school was not made: " + said[-500:])
        time.sleep(0.2)
    return folder / "school", demo, dict(line.split(": ", 1) for line in said.splitlines() if ": " in line)


def stop(demo):
    demo.send_signal(signal.SIGTERM)
    demo.wait(60)


def furnish(folder):
    """A demo school in the folder; the server is stopped once it has made it."""
    school, demo, _ = start(folder)
    time.sleep(0.5)
    stop(demo)
    return school


def export(school, *more):
    return subprocess.run([PROGRAM, "export", *more], env={**os.environ, "TYMPAN_DATA": str(school)},
                          stdin=subprocess.DEVNULL, capture_output=True)


def taken(school, table):
    out = school.parent / f"{table}.csv"
    named = ("--class", "LIT-B", "--term", TERM)
    done = export(school, table, *named, "--out", str(out))
    assert done.returncode == 0 and not done.stdout, done.stderr.decode()
    if table not in ("prints", "plates"):  # what lies open grows later from moment to moment
        assert export(school, table, *named, "--out", "-").stdout == out.read_bytes(), f"{table}: file and output differ"
    return out.read_bytes()


def rows_of(table, raw):
    text = raw.decode("utf-8")
    assert not raw.startswith(b"\xef\xbb\xbf") and text.endswith("\r\n"), table
    rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    assert all(len(row) == len(rows[0]) for row in rows), f"{table}: rows of different lengths"
    bare = re.sub(r'"(?:[^"]|"")*"', "", text)
    assert bare.count("\n") == bare.count("\r\n") == bare.count("\r") == len(rows), f"{table}: line ends"
    for row in rows:
        for cell in row:
            assert cell[:1] not in DANGERS or NUMBER.fullmatch(cell), f"{table}: {cell!r} could be a formula"
    return [dict(zip(rows[0], row)) for row in rows[1:]], rows[0]


def fits(cell, column):
    if not cell:
        return True
    words = column["words"].split(";") if column["words"] else None
    if column["holds"] == "text":
        return words is None or all(word in words for word in cell.split(";"))
    if column["holds"] == "number":
        return NUMBER.fullmatch(cell) is not None and Decimal(cell) is not None
    if column["holds"] == "date":
        return date.fromisoformat(cell).isoformat() == cell
    if column["holds"] == "instant":
        return INSTANT.fullmatch(cell) is not None and datetime.fromisoformat(cell.replace("Z", "+00:00")) is not None
    return column["holds"] == "yes_no" and cell in ("yes", "no")


def check_due(row):
    local = datetime.fromisoformat(row["due_local"]).replace(tzinfo=zoneinfo.ZoneInfo(row["due_zone"]))
    due = datetime.fromisoformat(row["due_at"].replace("Z", "+00:00"))
    assert local.astimezone(timezone.utc) == due, row


def peak_kib(school, out):
    """The most memory the export of the etches needed, and how many bytes it wrote."""
    asked = [PROGRAM, "export", "etches", "--class", "LIT-B", "--term", TERM, "--out", str(out)]
    child = subprocess.Popen(asked, env={**os.environ, "TYMPAN_DATA": str(school)}, stdin=subprocess.DEVNULL)
    _, status, usage = os.wait4(child.pid, 0)
    child.returncode = os.waitstatus_to_exitcode(status)
    assert child.returncode == 0, "the etches were not exported"
    return usage.ru_maxrss, out.stat().st_size


def log_many(school, count):
    with sqlite3.connect(school / "tympan.db") as record:
        class_id, plate, run, by = record.execute(
            "SELECT class_id, plate_id, id, by_id FROM step_run WHERE step_key = 'first-etch' LIMIT 1").fetchone()
        ids = [f"00000000-0000-7000-8000-{number:012}" for number in range(count)]
        record.executemany(
            "INSERT INTO etch (id, class_id, plate_id, step_run_id, step_key, root, reason, by_id, at, received_at, known_how,"
            " recipe, gum_microlitres, gum_unit, drops, gum_baume_tenths, gum_ph_hundredths, gum_sour, acid_weight_bp,"
            " acid_kind, tool, helper, seen) VALUES (?, ?, ?, ?, 'first-etch', ?, '', ?, ?, 0, 'told', 'acid_in_gum', 29574,"
            " 'us_fl_oz', ?, 140, 430, 0, 8500, 'phosphoric', 'brush', '', ?)",
            [(one, class_id, plate, run, one, by, 1_790_000_000_000 + place, place % 9, f"=film {place}, \"even\"")
             for place, one in enumerate(ids)])
        record.executemany("INSERT INTO etch_application VALUES (?, ?, ?)",
                           [(one, place, 60 * place) for one in ids for place in (1, 2)])
    record.close()


def check_memory(school):
    out = school.parent / "many.csv"
    before, small = peak_kib(school, out)
    log_many(school, MANY)
    after, large = peak_kib(school, out)
    rows, _ = rows_of("etches", out.read_bytes())
    many = [row for row in rows if row["seen"].startswith("'=film")]
    assert len(many) == MANY and all(row["application_seconds"] == "60;120" for row in many)
    assert large - small > 300 * MANY and after - before < 6_000, f"{before} KiB, then {after} KiB for {large} bytes"
    return {"etches": MANY, "bytes": large, "peak_kib_before": before, "peak_kib": after}


def main():
    with tempfile.TemporaryDirectory() as temporary:
        school = furnish(Path(temporary))
        read = {table: rows_of(table, taken(school, table)) for table in TABLES}
        wrong = export(school, "people", "--class", "LIT-B", "--term", TERM, "--out", "-")
        assert wrong.returncode == 2 and b"roster" in wrong.stderr and wrong.stderr.count(b"\n") == 1, wrong
        memory = check_memory(school)
        unknown = export(school, "roster", "--class", "LIT-X", "--term", TERM, "--out", "-")
        assert unknown.returncode == 2 and b"LIT-B" in unknown.stderr, unknown
    columns, _ = read["columns"]
    for table, (rows, heads) in read.items():
        told = {column["column_name"]: column for column in columns if column["table_name"] == table}
        assert list(told) == heads, f"{table}: the dictionary names other columns"
        for row in rows:
            for head, cell in row.items():
                assert fits(cell, told[head]), f"{table}.{head}: {cell!r} is no {told[head]['holds']}"
    people = {row["person_id"] for row in read["roster"][0]}
    plates = {row["plate_id"] for row in read["plates"][0]}
    prints = {row["print_id"] for row in read["prints"][0]}
    for table in ("prints", "plates", "signoffs", "attendance", "grades", "scores", "etches"):
        assert all(row["person_id"] in people for row in read[table][0]), table
    assert all(row["print_id"] in prints for row in read["plates"][0])
    assert all(row["plate_id"] in plates for row in read["etches"][0])
    for table in ("prints", "plates"):
        for row in read[table][0]:
            check_due(row)
    counts = {table: len(rows) for table, (rows, _) in read.items()}
    assert counts["roster"] >= 18 and counts["prints"] >= 18 and counts["signoffs"] > 0, counts
    print(json.dumps({**counts, "memory": memory}))


if __name__ == "__main__":
    main()

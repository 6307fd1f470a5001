"""Tables for people, opened in a spreadsheet program: no cell of them becomes a formula.

Reference: LibreOffice Calc opens the tables as a person's double click would, with its readings at their keenest (formulas
evaluated, special numbers recognised, quoted text not held to be text), and saves them as a workbook; openpyxl tells which
cells are formulas. The same text without our apostrophe goes through beside it: where it makes no formula, the check would
prove nothing, so at least the plain `=` must make one. Then the demo school's own tables, with etch logs whose words begin
like formulas.
"""

import csv
import json
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile

import openpyxl
import tables_strict

ROOT = pathlib.Path(__file__).resolve().parents[2]
TARGET = pathlib.Path(os.environ.get("CARGO_TARGET_DIR", ROOT / "target"))
# Comma, quotation mark, UTF-8, from line 1; then quoted text as text: no; special numbers: yes; ... evaluate formulas.
KEEN = "CSV:44,34,76,1,,0,false,true,false,false,false,0,true"
USUAL = "CSV:44,34,76,1"
TEXT_COLUMNS = (0, 5)
NUMBER_COLUMN = 1


def write_tables():
    """The Rust test that Python's strict reader judges writes the tables; here they are opened once more."""
    name = "outside::tables::python_reads_dangerous_cells_as_they_were_meant"
    subprocess.run(["cargo", "test", "--locked", "--quiet", "--test", "studio", "--", "--exact", name],
                   cwd=ROOT, check=True, stdout=subprocess.DEVNULL)
    return [TARGET / "tmp" / name for name in ("dangerous.csv", "dangerous-marked.csv")]


def read(table):
    with open(table, encoding="utf-8-sig", newline="") as lines:
        return list(csv.reader(lines, strict=True))


def bared(table, folder):
    """The same table as if it had been written without care: apostrophes taken off again."""
    bare = folder / "bare.csv"
    with open(bare, "w", encoding="utf-8", newline="") as lines:
        csv.writer(lines).writerows([cell.removeprefix("'") for cell in row] for row in read(table))
    return bare


def opened(table, reading, folder):
    """The cells of a table after LibreOffice opened it and saved a workbook."""
    into = folder / f"{table.stem}-{len(os.listdir(folder))}"
    program = shutil.which("soffice") or sys.exit("soffice is missing: run tests/setup outside")
    done = subprocess.run(
        [program, "--headless", f"-env:UserInstallation={(folder / 'profile').as_uri()}", f"--infilter={reading}",
         "--convert-to", "xlsx", "--outdir", str(into), str(table)],
        stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, timeout=300)
    book = into / f"{table.stem}.xlsx"
    if not book.exists():
        sys.exit(f"LibreOffice saved no workbook: {done.stdout}")
    return list(openpyxl.load_workbook(book).active.iter_rows())


def formulas(rows):
    return [cell for row in rows for cell in row if cell.data_type == "f"]


def spaces_aside(text):
    """LibreOffice leaves out NUL and writes its own line ends; neither makes a formula."""
    return "".join(str(text if text is not None else "").replace("_x000D_", "").replace("\0", "").split())


def check(table, reading, folder):
    written, rows = read(table), opened(table, reading, folder)
    found = formulas(rows)
    assert not found, f"{table.name}, {reading}: formulas in {[cell.coordinate for cell in found]}"
    # The last row of the table is empty; a workbook does not hold it.
    assert len(rows) in (len(written), len(written) - 1), (len(rows), len(written))
    for wanted, row in zip(written[1:], rows[1:]):
        for column in TEXT_COLUMNS:
            assert spaces_aside(row[column].value) == spaces_aside(wanted[column]), (wanted, row[column].value)
        if wanted[NUMBER_COLUMN]:
            number = row[NUMBER_COLUMN]
            assert number.data_type == "n" and abs(number.value + 4.3) < 1e-12, (wanted, number.value)
    return len(rows) * len(rows[0])


def check_exports(folder):
    """Every table of the demo school, opened at the keenest: how many cells there were."""
    school = tables_strict.furnish(folder)
    tables_strict.log_many(school, 50)
    cells = 0
    for table in tables_strict.TABLES:
        tables_strict.taken(school, table)
        rows = opened(folder / f"{table}.csv", KEEN, folder)
        found = formulas(rows)
        assert not found, f"{table}: formulas in {[cell.coordinate for cell in found]}"
        cells += sum(len(row) for row in rows)
    return cells


def main():
    tables = write_tables()
    with tempfile.TemporaryDirectory() as temporary:
        folder = pathlib.Path(temporary)
        cells = sum(check(table, reading, folder) for table in tables for reading in (USUAL, KEEN))
        control = formulas(opened(bared(tables[0], folder), KEEN, folder))
        dangers = sorted({str(cell.value)[:1] for cell in control})
        assert any(cell.value == "=1+1" for cell in control), "without the apostrophe nothing became a formula"
        exported = check_exports(folder)
    print(json.dumps({"cells": cells, "exported_cells": exported, "formulas": 0, "formulas_without_apostrophe": len(control), "begin": dangers}))


if __name__ == "__main__":
    main()

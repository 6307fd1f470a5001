"""Tables for people, packages and archives, read by pandas as somebody who evaluates a term would.

References: pandas for reading and types (what `columns` says of a column is what pandas makes of it, and a number written
back with its places is the cell again), openpyxl beneath DataFrame.to_excel, which makes a formula of every text that
begins with `=`, for what a workbook would hold. Every CSV file of `tympan export`, of `tympan archive` and of the OneRoster
package: pandas reads the cells Python's strict reader reads, and writes the same bytes again. The record was made awkward before,
so that cells begin like formulas; bared of our apostrophe they become some, else the check would prove nothing.
"""

import csv
import io
import json
import pathlib
import re
import sys
import tempfile
import zipfile

import openpyxl
import pandas

from archive_zipfile import archive
from oneroster_checker import make_awkward
from tables_strict import NUMBER, TABLES, TERM, export, furnish, log_many, taken

# What a spreadsheet program takes for the beginning of a formula, or for white space before one.
DANGERS = tuple("=+-@\t\r＝＋－＠")
MOVING = {"prints", "plates"}  # what lies open grows later from moment to moment


def as_text(raw):
    return pandas.read_csv(io.BytesIO(raw), dtype=str, keep_default_na=False, na_filter=False, encoding="utf-8")


def check_bytes(name, raw):
    """Cells as the strict reader has them, and the same bytes when written again."""
    frame = as_text(raw)
    rows = list(csv.reader(io.StringIO(raw.decode("utf-8"), newline=""), strict=True))
    assert list(frame.columns) == rows[0] and frame.values.tolist() == rows[1:], f"{name}: pandas reads other cells"
    again = frame.to_csv(index=False, lineterminator="\r\n").encode("utf-8")
    assert again == raw, f"{name}: written again it is another file"
    return frame


def check_types(table, raw, told):
    """Each column read by itself, with nothing but its cells to go by."""
    frame = pandas.read_csv(io.BytesIO(raw), keep_default_na=False, na_values=[""], encoding="utf-8")
    text = as_text(raw)
    kinds = {}
    for name, cells in text.items():
        filled, holds = cells[cells != ""], told[table, name]
        kinds[holds] = kinds.get(holds, 0) + (len(filled) > 0)
        if filled.empty:
            continue
        if holds == "number":
            assert pandas.api.types.is_numeric_dtype(frame[name]), f"{table}.{name}: {frame[name].dtype}"
            places = filled.str.partition(".")[2].str.len()
            back = [f"{value:.{place}f}" for value, place in zip(frame[name][filled.index], places)]
            assert back == filled.tolist(), f"{table}.{name}: a number became another"
        elif holds in ("date", "instant"):
            form = "%Y-%m-%d" if holds == "date" else "%Y-%m-%dT%H:%M:%S.%fZ"
            times = pandas.to_datetime(filled, format=form, errors="raise")
            back = times.dt.strftime("%Y-%m-%d") if holds == "date" else times.dt.strftime("%Y-%m-%dT%H:%M:%S.%f").str[:-3] + "Z"
            assert back.tolist() == filled.tolist(), f"{table}.{name}: a time became another"
        elif holds == "yes_no":
            assert set(filled) <= {"yes", "no"}, f"{table}.{name}: {set(filled)}"
        else:
            assert holds == "text", holds
    return kinds


def formulas(frame, folder):
    """The cells of a workbook of the frame that became formulas."""
    book = folder / "table.xlsx"
    # A workbook holds no control characters; none of them begins a formula.
    frame.map(lambda cell: re.sub(r"[\x00-\x08\x0b-\x1f]", " ", cell)).to_excel(book, index=False, engine="openpyxl")
    return [cell.value for row in openpyxl.load_workbook(book).active.iter_rows() for cell in row if cell.data_type == "f"]


def check_formulas(name, frame, folder):
    for cells in frame.values.tolist():
        for cell in cells:
            assert not cell.startswith(DANGERS) or NUMBER.fullmatch(cell), f"{name}: {cell!r} could be a formula"
    assert not formulas(frame, folder), name
    bare = frame.map(lambda cell: re.sub(r"^'(?=[=+\-@\t\r＝＋－＠])", "", cell))
    return len(formulas(bare, folder)) if not bare.equals(frame) else 0


def entries(raw, under=""):
    with zipfile.ZipFile(io.BytesIO(raw)) as zipped:
        return {name: zipped.read(name) for name in zipped.namelist() if name.startswith(under) and name.endswith(".csv")}


def main():
    with tempfile.TemporaryDirectory() as temporary:
        folder = pathlib.Path(temporary)
        school = furnish(folder)
        make_awkward(school)
        log_many(school, 20)
        tables = {table: taken(school, table) for table in TABLES}
        kept = entries(archive(school, folder / "term.zip"), "csv/")
        package = entries(export(school, "oneroster", "--class", "LIT-B", "--term", TERM, "--out", "-").stdout)
        told = {(row["table_name"], row["column_name"]): row["holds"] for row in as_text(tables["columns"]).to_dict("records")}
        cells = controls = 0
        kinds = {}
        for where, files in (("export", tables), ("archive", kept)):
            for name, raw in files.items():
                frame = check_bytes(name, raw)
                for kind, count in check_types(pathlib.PurePath(name).stem, raw, told).items():
                    kinds[kind] = kinds.get(kind, 0) + count
                controls += check_formulas(f"{where} {name}", frame, folder)
                cells += frame.size
        assert {pathlib.PurePath(name).stem for name in kept} == set(TABLES), list(kept)
        for name, raw in kept.items():
            table = pathlib.PurePath(name).stem
            assert raw == tables[table] or table in MOVING, f"{table}: another in the archive"
        for name, raw in package.items():
            check_bytes(name, raw)
        assert controls > 0, "without the apostrophe nothing became a formula"
        assert set(kinds) == {"text", "number", "date", "instant", "yes_no"} and all(kinds.values()), kinds
    print(json.dumps({"cells": cells, "columns": kinds, "formulas": 0, "formulas_without_apostrophe": controls, "package": len(package)}))


if __name__ == "__main__":
    sys.exit(main())

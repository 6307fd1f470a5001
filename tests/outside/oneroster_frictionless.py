"""The demo school's OneRoster package, read by a validator of tables that is not ours: keys and references between files.

References: frictionless (Frictionless Data's Table Schema and Data Package, with primary and foreign keys) for the judgement;
1EdTech OneRoster 1.2 CSV Binding for which column names a row of which file. Each reference is broken once too, and so
is a heading, a key, a word and a day: the validator must say so, else its silence would prove nothing.
"""

import csv
import io
import json
import pathlib
import sys
import tempfile
import zipfile

from frictionless import Package, system

from oneroster_rules import columns
from tables_strict import TERM, export, furnish

KINDS = {"date": "date", "year": "year", "boolean": "boolean", "whole": "integer", "number": "number"}


def field(column):
    name, needed, sign, what = column
    told = {"name": name, "type": KINDS.get(what, "string"), "constraints": {"required": bool(needed)}}
    if sign == "=":
        told["constraints"]["enum"] = what.replace("_", " ").split("|")
    return told


def described(files):
    """A data package of the files, each column with what the binding says of it."""
    resources = []
    for file in files:
        keys = [{"fields": [name], "reference": {"resource": "" if other == file else other.lower(), "fields": ["sourcedId"]}}
                for name, _, sign, other in columns(file) if sign in (">", ">>") and other in files]
        extra = [{"name": name, "type": "string"} for name in files[file][0] if name.startswith("metadata.")]
        resources.append({"name": file.lower(), "path": f"{file}.csv", "schema": {
            "fields": [*map(field, columns(file)), *extra], "primaryKey": ["sourcedId"], "foreignKeys": keys}})
    return Package.from_descriptor({"name": "package", "resources": resources})


def complaints(files):
    """What the validator says of the files: kind of error and file."""
    with tempfile.TemporaryDirectory() as folder, system.use_context(trusted=True):
        for file, rows in files.items():
            with open(pathlib.Path(folder, f"{file}.csv"), "w", encoding="utf-8", newline="") as out:
                csv.writer(out).writerows(rows)
        package = described(files)
        package.basepath = folder
        report = package.validate()
    assert not report.errors, report.errors
    return {(error.type, task.name) for task in report.tasks for error in task.errors}


def spoiled(files, file, name, value):
    copy = {one: [list(row) for row in rows] for one, rows in files.items()}
    copy[file][1][copy[file][0].index(name)] = value
    return copy


def main():
    with tempfile.TemporaryDirectory() as temporary:
        school = furnish(pathlib.Path(temporary))
        done = export(school, "oneroster", "--class", "LIT-B", "--term", TERM, "--out", "-")
    zipped = zipfile.ZipFile(io.BytesIO(done.stdout))
    files = {name.removesuffix(".csv"): list(csv.reader(io.StringIO(zipped.read(name).decode("utf-8"), newline=""), strict=True))
             for name in zipped.namelist() if name != "manifest.csv"}
    assert complaints(files) == set(), complaints(files)
    references = [(file, name) for file in files for name, _, sign, other in columns(file) if sign in (">", ">>") and other in files]
    for file, name in references:
        found = complaints(spoiled(files, file, name, "nobody"))
        assert found == {("foreign-key", file.lower())}, (file, name, found)
    for (file, name, value), kind in {
        ("users", "sourcedId", files["users"][2][0]): "primary-key", ("orgs", "type", "college"): "constraint-error",
        ("lineItems", "dueDate", "2026-02-30"): "type-error", ("users", "familyName", ""): "constraint-error",
        ("users", "enabledUser", "yes"): "type-error", ("categories", "weight", "33.3"): "type-error",
    }.items():
        found = complaints(spoiled(files, file, name, value))
        assert (kind, file.lower()) in found, (file, name, value, found)
    swapped = {**files, "orgs": [[row[4], *row[1:4], row[0], *row[5:]] for row in files["orgs"]]}
    assert ("incorrect-label", "orgs") in complaints(swapped), complaints(swapped)
    print(json.dumps({"references": len(references), **{file: len(rows) - 1 for file, rows in files.items()}}))


if __name__ == "__main__":
    sys.exit(main())

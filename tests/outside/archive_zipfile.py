"""The demo school's archive, made by `tympan archive`, read by zipfile and hashlib of Python's standard library.

Reference: zipfile for the format (names, CRC-32 of every file, methods, times, modes), hashlib for the manifest, csv for the
tables, json for the rows, sqlite3 for how many of them the record has. The journal's chain of SHA-256 is reckoned anew from
the rows. Made twice as of one moment the file is the same; checked by `tympan check` it is whole, and with one byte of
the manifest changed it is not.
"""

import csv
import hashlib
import io
import json
import os
import sqlite3
import subprocess
import sys
import tempfile
import zipfile
from pathlib import Path

from tables_strict import AT, PROGRAM, TABLES, TERM, furnish


def run(school, *more):
    return subprocess.run([PROGRAM, *more], env={**os.environ, "TYMPAN_DATA": str(school)},
                          stdin=subprocess.DEVNULL, capture_output=True)


def archive(school, out):
    done = run(school, "archive", "--class", "LIT-B", "--term", TERM, "--as-of", AT, "--out", str(out))
    assert done.returncode == 0, done.stderr.decode()
    return out.read_bytes()


def rows(zipped, table):
    lines = zipped.read(f"data/{table}.jsonl").decode("utf-8").splitlines()
    heads = json.loads(lines[0])
    return [dict(zip(heads, json.loads(line), strict=True)) for line in lines[1:]]


def check_entries(zipped):
    names = [entry.filename for entry in zipped.infolist()]
    assert names == sorted(names) and len(set(names)) == len(names), "names are sorted and each is there once"
    assert zipped.testzip() is None, "a CRC is wrong"
    for entry in zipped.infolist():
        assert entry.date_time == (1980, 1, 1, 0, 0, 0), entry
        assert entry.external_attr >> 16 & 0o777 == 0o644, entry
        stored = entry.filename.startswith(("images/", "data-sheets/"))
        assert entry.compress_type == (zipfile.ZIP_STORED if stored else zipfile.ZIP_DEFLATED), entry
    told = dict(reversed(line.split("  ", 1)) for line in zipped.read("manifest-sha256.txt").decode().splitlines())
    assert set(told) == set(names) - {"manifest-sha256.txt"}, "the manifest names every other file"
    for name, digest in told.items():
        assert hashlib.sha256(zipped.read(name)).hexdigest() == digest, name
    return names


def check_journal(zipped):
    details = {row["seq"]: row for row in rows(zipped, "journal_detail")}
    heads = json.loads(zipped.read("journal-heads.json"))
    before, journal = "", sorted(rows(zipped, "journal"), key=lambda row: row["seq"])
    for row in journal:
        detail = details[row["seq"]]
        assert hashlib.sha256(f"{detail['salt']}\0{detail['detail']}".encode()).hexdigest() == row["detail_hash"]
        fields = [before, row["scope"], row["seq"], row["at"], row["person_id"] or "", row["act"], row["subject"],
                  row["detail_hash"]]
        before = hashlib.sha256("".join(f"{field}\0" for field in fields).encode()).hexdigest()
        assert before == row["hash"], row
    assert [(head["seq"], head["hash"]) for head in heads] == [(journal[-1]["seq"], before)]
    return len(journal)


def main():
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)
        school = furnish(folder)
        raw = archive(school, folder / "one.zip")
        assert raw == archive(school, folder / "two.zip"), "made twice as of one moment it differs"
        with zipfile.ZipFile(io.BytesIO(raw)) as zipped:
            names = check_entries(zipped)
            for table in TABLES:
                name = "csv/columns.csv" if table == "columns" else f"csv/LIT-B/{table}.csv"
                text = zipped.read(name).decode("utf-8")
                assert list(csv.reader(io.StringIO(text, newline=""), strict=True)), name
            acts = check_journal(zipped)
            people = rows(zipped, "person")
            assert people and all(row["password_hash"] is None and not row["keeper"] for row in people)
            with sqlite3.connect(school / "tympan.db") as record:
                class_id = rows(zipped, "class")[0]["id"]
                for table in ["plate", "etch", "score", "proof", "sign_off", "photo"]:
                    (count,) = record.execute(f"SELECT COUNT(*) FROM {table} WHERE class_id = ?", (class_id,)).fetchone()
                    assert len(rows(zipped, table)) == count, table
            pictures = [name for name in names if name.endswith("/full.jpg")]
            assert pictures and all(zipped.read(name).startswith(b"\xff\xd8") for name in pictures)
            # Photos are stored, so one stands in the file as it is.
            place = raw.index(zipped.read(pictures[0])[:200])
        whole = run(school, "check", str(folder / "one.zip"))
        assert whole.returncode == 0 and b": whole. LIT-B" in whole.stderr, whole.stderr.decode()
        (folder / "bad.zip").write_bytes(raw[:place + 40] + bytes([raw[place + 40] ^ 1]) + raw[place + 41:])
        bad = run(school, "check", str(folder / "bad.zip"))
        assert bad.returncode == 2 and pictures[0].encode() in bad.stderr, bad.stderr.decode()
        chains = run(school, "check", "--against", str(folder / "one.zip"))
        assert chains.returncode == 0 and b"the chain holds" in chains.stderr, chains.stderr.decode()
        print(f"{len(names)} files, {len(pictures)} photos, {acts} acts of the journal")


if __name__ == "__main__":
    sys.exit(main())

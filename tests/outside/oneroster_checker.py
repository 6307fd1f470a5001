"""The demo school's OneRoster package, made by `tympan export`, and what the page of a class list says to spoiled ones.

Reference: 1EdTech OneRoster 1.2 CSV Binding (final release 1.2.1), by the rules of oneroster_rules.py. The package of the demo
school has no fault, nor has that of a record made awkward (remarks of several lines, quotation marks, a score corrected
after it was handed back, thirds as weights, two instructors), and both say what the tables `roster`, `scores` and
`grades` say. Then packages spoiled on purpose: the rules name the fault, the page refuses them with a sentence that names it
too, and the database stays as it was; the sound one is read.
"""

import csv
import html
import http.cookiejar
import io
import json
import os
import re
import secrets
import sqlite3
import subprocess
import sys
import tempfile
import urllib.error
import urllib.parse
import urllib.request
import uuid
import zipfile
import zoneinfo
from datetime import datetime
from fractions import Fraction
from pathlib import Path

from oneroster_rules import faults, read_package
from tables_strict import PROGRAM, TERM, export, start, stop

ZONE = zoneinfo.ZoneInfo("America/New_York")  # of the demo school


def package_of(raw):
    """Rows by id of every data file of a package without faults."""
    found = faults(raw)
    assert not found, "\n".join(found)
    return read_package(zipfile.ZipFile(io.BytesIO(raw)), found.append)


def make_awkward(school, package=None):
    """What no demo tells, put into the record as the pages would store it. Answers ids of another system for ours."""
    kinds = {"school": ("orgs", "school"), "department": ("orgs", "department"), "year": ("academicSessions", "schoolYear"),
             "term": ("academicSessions", "semester"), "course": ("courses", None), "class": ("classes", None),
             "category": ("categories", None), "assessment": ("lineItems", None)}
    theirs = {f"registrar/{kind}.1": (kind, next(row["sourcedId"] for row in package[file].values() if row.get("type") == what))
              for kind, (file, what) in kinds.items() if package}
    with sqlite3.connect(school / "tympan.db") as record:
        class_id, item, student, score = record.execute(
            "SELECT class_id, assessment_id, person_id, id FROM score WHERE status = 'graded' AND handed_back_at IS NOT NULL"
            " ORDER BY id LIMIT 1").fetchone()

        def correct(before, points, back, again):
            """A later score that corrects one; handed back again or not."""
            one = str(uuid.UUID(int=uuid.UUID(before).int + 1))
            record.execute("CREATE TEMP TABLE later AS SELECT * FROM score WHERE id = ?", (before,))
            record.execute("UPDATE later SET id = ?, corrects = ?, points_hundredths = ?, reason = 'added up anew', at = at + ?,"
                           " handed_back_at = handed_back_at + ?", (one, before, points, back, back if again else None))
            record.execute("UPDATE score SET superseded_at = at + ? WHERE id = ?", (back, before))
            record.execute("INSERT INTO score SELECT * FROM later")
            record.execute("DROP TABLE later")
            return one

        correct(correct(score, 1_125, 7_200_000, True), 1_250, 9_000_000, False)
        others = record.execute("SELECT id FROM score WHERE status = 'graded' AND handed_back_at IS NOT NULL AND assessment_id = ?"
                                " AND superseded_at IS NULL AND person_id <> ? ORDER BY id LIMIT 3", (item, student)).fetchall()
        record.execute("UPDATE score SET words = ? WHERE id = ?", ("=1+1, she said \"so\"\r\nand\tleft\n\n@home", others[0][0]))
        record.execute("UPDATE score SET status = 'excused', points_hundredths = NULL WHERE id = ?", others[1])
        record.execute("UPDATE score SET points_hundredths = 533 WHERE id = ?", others[2])
        for weight, (category,) in zip((3_333, 3_333, 3_334), record.execute("SELECT id FROM category ORDER BY id").fetchall()):
            record.execute("UPDATE category SET weight_bp = ?, title = title || ', \"as agreed\"' WHERE id = ?", (weight, category))
        record.execute("UPDATE person SET family_name = 'O\"Neil, the younger', given_name = 'Łucja ' || given_name WHERE id = ?", (student,))
        theirs["registrar/4711"] = ("person", student)
        record.executemany("INSERT INTO external_id (kind, source, ours, theirs) VALUES (?, 'roster', ?, ?)",
                           [(kind, ours, name) for name, (kind, ours) in theirs.items()])
        keeper = record.execute("SELECT id FROM person WHERE keeper AND id NOT IN (SELECT person_id FROM enrolment) LIMIT 1").fetchone()
        record.execute("INSERT INTO enrolment SELECT ?, class_id, ?, listing_id, role, state, since, incomplete_until, lapses_to,"
                       " joined_at, version FROM enrolment WHERE role = 'instructor'", (str(uuid.UUID(int=1)), *keeper))
    record.close()
    return {name: ours for name, (_, ours) in theirs.items()}


def table(visitor, what):
    return list(csv.DictReader(io.StringIO(visitor.get(f"{visitor.class_path}/records/{what}.csv").decode("utf-8"), newline=""), strict=True))


def with_our_ids(package, ours):
    """The ids of another system, which go back to it with a package, as ours."""
    for file, rows in package.items():
        for row in rows.values():
            for name in [name for name in row if "sourcedid" in name.lower()]:
                row[name] = ",".join(ours.get(one, one) for one in row[name].split(","))
        package[file] = {row["sourcedId"]: row for row in rows.values()}
    return package


def unmarked(text):
    """A cell of a table for people without the apostrophe that keeps it from being a formula."""
    return text[1:] if re.match(r"'[=+\-@\t\r\n＝＋－＠]", text) else text


def check_against_people(package, roster):
    people = {row["person_id"]: row for row in roster}
    assert set(package["users"]) == set(people), "users and roster differ"
    for user in package["users"].values():
        told = people[user["sourcedId"]]
        names = [unmarked(told[name]) for name in ("given_name", "family_name", "student_number", "email")]
        assert [user["givenName"], user["familyName"], user["identifier"], user["email"]] == names, (user, told)
    for role in package["roles"].values():
        told = {"student": "student", "assistant": "aide", "instructor": "teacher"}[people[role["userSourcedId"]]["role"]]
        assert role["role"] == told, (role, told)
    seats = {row["sourcedId"]: row for row in package["enrollments"].values()}
    assert set(seats) == {row["enrolment_id"] for row in roster}, "enrollments and roster differ"
    for row in roster:
        seat = seats[row["enrolment_id"]]
        role = {"student": "student", "assistant": "proctor", "instructor": "teacher"}[row["role"]]
        assert (seat["userSourcedId"], seat["role"]) == (row["person_id"], role), (seat, row)
        gone = row["state"] in ("dropped", "withdrawn")
        assert seat["endDate"] == (row["state_since"] if gone else ""), (seat, row)


def check_against_scores(package, scores):
    """A result is the score handed back last, with its points; nothing that was not handed back is one."""
    results = {(row["lineItemSourcedId"], row["studentSourcedId"]): row for row in package["results"].values()}
    assert len(results) == len(package["results"]), "a line item has several results of one student"
    told = {(row["assessment_id"], row["person_id"]): row for row in scores}
    assert len(told) == len(scores) and set(results) <= set(told), set(results) - set(told)
    for key, score in told.items():
        if not score["handed_back_at"]:
            # The correction that was not handed back yet is nowhere, what it corrects may be.
            assert key not in results or score["corrects_score_id"], score
            continue
        result = results[key]
        # A correction is the same result with another score, under the id of the first.
        assert (result["sourcedId"] == score["score_id"]) == (not score["corrects_score_id"]), (result, score)
        status = {"graded": "fully graded", "excused": "exempt", "missing": "not submitted", "pending": "submitted"}[score["status"]]
        assert result["scoreStatus"] == status and (result["missing"] == "true") == (score["status"] == "missing"), (result, score)
        points = score["points"] and Fraction(score["points"])
        assert (result["score"] and Fraction(result["score"])) == points, (result, score)
        assert result["comment"].split() == unmarked(score["comment"]).split(), (result, score)
        back = datetime.fromisoformat(score["handed_back_at"].replace("Z", "+00:00")).astimezone(ZONE)
        assert result["scoreDate"] == back.date().isoformat(), (result, score)
        most = package["lineItems"][result["lineItemSourcedId"]]["resultValueMax"]
        assert Fraction(most) == Fraction(score["possible_points"]), (most, score)


def check_against_grades(package, grades):
    """Grades reckoned from results and weights alone are those of the table, where nothing was late or missing."""
    items, same = package["lineItems"], 0
    exact = {row["sourcedId"]: Fraction(row.get("metadata.exactWeight") or row["weight"]) for row in package["categories"].values()}
    for grade in grades:
        mine = [row for row in package["results"].values() if row["studentSourcedId"] == grade["person_id"]]
        if not grade["percent"] or any(row["late"] == "true" or row["missing"] == "true" for row in mine):
            continue
        parts = {}
        for row in mine:
            if row["score"]:
                item = items[row["lineItemSourcedId"]]
                parts.setdefault(item["categorySourcedId"], []).append((Fraction(row["score"]), Fraction(item["resultValueMax"])))
        weighed = sum(exact[one] * sum(score for score, _ in part) / sum(most for _, most in part) for one, part in parts.items())
        percent = 100 * weighed / sum(exact[one] for one in parts)
        assert abs(percent - Fraction(grade["percent"])) <= Fraction(1, 20_000), (grade, float(percent))
        same += 1
    assert same > 0, "no grade was compared"
    return same


def check_all(visitor, ours):
    raw = visitor.get(f"{visitor.class_path}/records/oneroster.zip")
    package = package_of(raw)
    assert set(ours) <= {one for rows in package.values() for one in rows}, "an id another system gave was not written back"
    left = {cell for rows in package.values() for row in rows.values() for cell in row.values()} & set(ours.values())
    assert not left, f"named by our id where another system gave one: {left}"
    package = with_our_ids(package, ours)
    full = {file for file, rows in package.items() if rows}
    assert full >= set("academicSessions categories classes courses enrollments lineItems orgs results roles users".split()), full
    check_against_people(package, table(visitor, "roster"))
    check_against_scores(package, table(visitor, "scores"))
    same = check_against_grades(package, table(visitor, "grades"))
    return raw, {"grades": same, **{file: len(rows) for file, rows in package.items() if rows}}


class Visitor:
    """Somebody signed in, with a browser's cookies."""

    def __init__(self, said, role):
        self.base = said["address"]
        self.opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(http.cookiejar.CookieJar()))
        email, password = said[f"sign-in {role}"].split()
        body = urllib.parse.urlencode({"seal": self.seal("/sign-in"), "email": email, "password": password})
        _, page = self.ask("/sign-in", body.encode())
        self.class_path = re.search(r'href="(/classes/[0-9a-f-]{36})', page.decode()).group(1)

    def ask(self, path, body=None, kind="application/x-www-form-urlencoded"):
        """Status and body of the answer."""
        asked = urllib.request.Request(self.base + path, body, {"Content-Type": kind} if body else {})
        try:
            with self.opener.open(asked, timeout=60) as answer:
                return answer.status, answer.read()
        except urllib.error.HTTPError as refused:
            return refused.code, refused.read()

    def get(self, path):
        status, body = self.ask(path)
        assert status == 200, (path, status)
        return body

    def seal(self, path):
        return re.search(rb'name="seal" value="([^"]*)"', self.get(path)).group(1).decode()

    def upload(self, path, seal, raw):
        """Status, and the page as it is read."""
        part = "--edge\r\nContent-Disposition: form-data; name=\"{}\"{}\r\n\r\n"
        body = b"".join([part.format("seal", "").encode(), seal.encode(), b"\r\n",
                         part.format("once", "").encode(), secrets.token_hex(16).encode(), b"\r\n",
                         part.format("file", '; filename="package.zip"\r\nContent-Type: application/zip').encode(), raw,
                         b"\r\n--edge--\r\n"])
        status, page = self.ask(path, body, "multipart/form-data; boundary=edge")
        return status, html.unescape(page.decode())


def with_cell(file, name, value, row=1):
    """Puts a value into a cell; where it is a function, what it makes of all rows."""
    def spoil(files):
        rows = list(csv.reader(io.StringIO(files[file], newline="")))
        rows[row][rows[0].index(name)] = value(rows) if callable(value) else value
        text = io.StringIO(newline="")
        csv.writer(text).writerows(rows)
        files[file] = text.getvalue()
    return spoil


def circle(file):
    """The one at the top becomes a child of one below it."""
    def spoil(files):
        rows = list(csv.DictReader(io.StringIO(files[file], newline="")))
        top = next(place for place, row in enumerate(rows, 1) if not row["parentSourcedId"])
        child = next(row["sourcedId"] for row in rows if row["parentSourcedId"] == rows[top - 1]["sourcedId"])
        with_cell(file, "parentSourcedId", child, top)(files)
    return spoil


def replaced(file, old, new):
    def spoil(files):
        assert old in files[file], (file, old)
        files[file] = files[file].replace(old, new, 1)
    return spoil


def without(file):
    return lambda files: files.pop(file)


# How a package is spoiled, what the rules say of it, and what the page says.
SPOILED = [
    (without("manifest.csv"), "manifest.csv: missing", "no manifest.csv"),
    (without("users.csv"), "users.csv is missing", "calls users bulk, yet users.csv is missing"),
    (without("results.csv"), "results.csv is missing", "calls results bulk, yet results.csv is missing"),
    (replaced("manifest.csv", "file.roles,bulk", "file.roles,absent"), "roles.csv is there", "calls roles absent, yet roles.csv is there"),
    (replaced("manifest.csv", "file.users,bulk", "file.users,delta"), "a change has a status", "users holds changes alone (delta)"),
    (replaced("manifest.csv", "file.users,bulk", "file.users,bulk\r\nfile.users,bulk"), "2 times", "names file.users twice"),
    (replaced("manifest.csv", "oneroster.version,1.2", "oneroster.version,1.1"), "version is 1.1", "OneRoster version “1.1”"),
    (with_cell("users.csv", "sourcedId", lambda rows: rows[2][0]), "stands there twice", "users.csv, line 3: the id"),
    (with_cell("enrollments.csv", "sourcedId", lambda rows: rows[2][0]), "stands there twice", "enrollments.csv, line 3: the id"),
    (with_cell("users.csv", "sourcedId", "no such id"), "is no id", "users.csv, line 2: “no such id” is no id"),
    *((with_cell(f"{file}.csv", name, "nobody"), f"{name} nobody is not in {other}.csv", f"names “nobody”, which is not in {other}.csv")
      for file, name, other in [
          ("academicSessions", "parentSourcedId", "academicSessions"), ("classes", "courseSourcedId", "courses"),
          ("classes", "schoolSourcedId", "orgs"), ("classes", "termSourcedIds", "academicSessions"),
          ("courses", "orgSourcedId", "orgs"), ("courses", "schoolYearSourcedId", "academicSessions"),
          ("enrollments", "classSourcedId", "classes"), ("enrollments", "userSourcedId", "users"),
          ("lineItems", "categorySourcedId", "categories"), ("results", "lineItemSourcedId", "lineItems"),
          ("results", "studentSourcedId", "users"), ("roles", "userSourcedId", "users"), ("users", "primaryOrgSourcedId", "orgs")]),
    (with_cell("orgs.csv", "parentSourcedId", "nobody"), "not in orgs.csv", "names “nobody”, which is not in orgs.csv"),
    (circle("orgs.csv"), "circle of 2", "is its own parent"),
    (circle("academicSessions.csv"), "circle of 2", "is its own parent"),
    (with_cell("enrollments.csv", "role", "pupil"), "role “pupil” is none of", "enrollments.csv, line 2: “pupil” is nothing role can hold"),
    (with_cell("orgs.csv", "type", "college"), "type “college” is none of", "orgs.csv, line 2: “college” is nothing type can hold"),
    (with_cell("results.csv", "scoreStatus", "graded"), "is none of", "results.csv, line 2: “graded” is nothing scoreStatus can hold"),
    (with_cell("users.csv", "enabledUser", "yes"), "no boolean", "users.csv, line 2: “yes” is nothing enabledUser can hold"),
    (with_cell("academicSessions.csv", "startDate", "2026-02-30"), "no date", "“2026-02-30” is nothing startDate can hold"),
    (with_cell("enrollments.csv", "beginDate", "21.9.2026"), "no date", "“21.9.2026” is nothing beginDate can hold"),
    (with_cell("academicSessions.csv", "schoolYear", "27"), "no year", "“27” is nothing schoolYear can hold"),
    (with_cell("categories.csv", "weight", "33.3"), "no whole", "“33.3” is nothing weight can hold"),
    (with_cell("results.csv", "score", "17,25"), "no number", "“17,25” is nothing score can hold"),
    (with_cell("users.csv", "familyName", ""), "familyName is empty", "users.csv, line 2: familyName is empty"),
    (replaced("users.csv", "givenName,familyName", "familyName,givenName"), "users.csv: headings", "The columns of users.csv"),
    (replaced("enrollments.csv", "sourcedId", "SourcedId"), "enrollments.csv: headings", "The columns of enrollments.csv"),
    (replaced("classes.csv", ",periods", ""), "classes.csv: headings", "classes.csv, line 2: the row has"),
    (replaced("users.csv", "\r\n", "\r\n\""), "RFC 4180", "users.csv, line 2: the row has"),
    (lambda files: files.update({"users.csv": files["users.csv"].encode("cp1252", "replace")}), "not UTF-8", "users.csv” is not UTF-8"),
    (lambda files: files.update({f"school/{name}": files.pop(name) for name in list(files)}), "no file of the binding", "no manifest.csv"),
    (lambda files: files.update({"Users.csv": files.pop("users.csv")}), "users.csv is missing", "yet users.csv is missing"),
]


def packed(files):
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED) as zipped:
        for name, text in files.items():
            zipped.writestr(name, text)
    return whole.getvalue()


def content(school):
    """Everything in the record but who is signed in."""
    with sqlite3.connect(school / "tympan.db") as record:
        told = [line for line in record.iterdump() if not line.startswith(('INSERT INTO "session"', 'INSERT INTO "letter"'))]
    record.close()
    return told


def check_refusals(school, visitor, raw):
    package, path = package_of(raw), f"{visitor.class_path}/people/list"
    seal, before = visitor.seal(path), content(school)
    status, page = visitor.upload(path, seal, raw)
    here = [package["users"][seat["userSourcedId"]] for seat in package["enrollments"].values()
            if seat["role"] == "student" and not seat["endDate"]]
    assert status == 200 and all(user["familyName"] in page for user in here), "the sound package is read"
    zipped = zipfile.ZipFile(io.BytesIO(raw))
    sound = {name: zipped.read(name).decode() for name in zipped.namelist()}
    place = raw.index(b"users.csv") + 60
    cases = [(raw[:place] + bytes([raw[place] ^ 255]) + raw[place + 1:], "the zip file is damaged", "“users.csv” is damaged")]
    for spoiled, said in [
        (raw[:len(raw) // 2], "This is no zip file, or a damaged one."),
        (packed({**sound, "../users.csv": sound["users.csv"]}), "leads out of the zip file by “..”"),
        (packed({**sound, "notes.csv": " " * (8 << 20)}), "more than three hundred times its size"),
        (packed({"[Content_Types].xml": "<Types/>", "xl/workbook.xml": "<workbook/>"}), "The file is a spreadsheet"),
    ]:
        status, page = visitor.upload(path, seal, spoiled)
        assert status == 422 and said in page, (status, said, re.findall(r'class="complaint"[^>]*>([^<]*)', page))
    for spoil, ruled, said in SPOILED:
        files = dict(sound)
        spoil(files)
        cases.append((packed(files), ruled, said))
    for spoiled, ruled, said in cases:
        found = faults(spoiled)
        assert any(ruled in sentence for sentence in found), (ruled, found)
        status, page = visitor.upload(path, seal, spoiled)
        assert status == 422 and said in page, (status, said, re.findall(r'class="complaint"[^>]*>([^<]*)', page))
    assert content(school) == before, "a package that was refused left something behind"
    out = school.parent / "spoiled.zip"
    out.write_bytes(cases[-1][0])
    done = subprocess.run([PROGRAM, "import", "roster", "--apply", "--class", "LIT-B", "--term", TERM, str(out)],
                          env={**os.environ, "TYMPAN_DATA": str(school)}, stdin=subprocess.DEVNULL, capture_output=True)
    assert done.returncode != 0 and done.stderr and content(school) == before, done
    return len(cases)


def main():
    with tempfile.TemporaryDirectory() as temporary:
        school, server, said = start(Path(temporary))
        try:
            visitor = Visitor(said, "instructor")
            raw, demo = check_all(visitor, {})
            done = export(school, "oneroster", "--class", "LIT-B", "--term", TERM, "--out", "-")
            assert done.stdout == raw, "page and command give another package"
            raw, awkward = check_all(visitor, make_awkward(school, package_of(raw)))
            refused = check_refusals(school, visitor, raw)
        finally:
            stop(server)
    print(json.dumps({"demo": demo, "awkward": awkward, "refused": refused}))


if __name__ == "__main__":
    sys.exit(main())

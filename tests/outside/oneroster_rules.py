"""OneRoster packages held against the binding, by rules written down anew here.

Reference: 1EdTech OneRoster 1.2 CSV Binding (final release 1.2.1, 22 August 2023) for files, columns, vocabularies and
references; RFC 4180 for the CSV. The table below was written from the binding, not from the program's own.
`faults(bytes)` answers a sentence for everything wrong with a package; with files named on the command line it prints them.
oneroster_example.py shows that these rules let pass and find what they should; oneroster_checker.py puts the program to them.
"""

import csv
import io
import re
import sys
import zipfile
import zlib
from collections import Counter
from datetime import date, datetime, timedelta
from fractions import Fraction
from pathlib import Path

ELSEWHERE = "classResources courseResources demographics lineItemLearningObjectiveIds resources " \
    "resultLearningObjectiveIds userProfiles userResources"  # of the version, but nothing this record could fill
COMMON = "sourcedId! status dateLastModified"
# A column, `!` where a value must be there, then what it holds: `=a|b` one of these words, `>file` an id of that file,
# `>>file` several, `:kind` a kind of value. Nothing said is text.
COLUMNS = {
    "academicSessions": "title! type!=gradingPeriod|semester|schoolYear|term startDate!:date endDate!:date"
    " parentSourcedId>academicSessions schoolYear!:year",
    "categories": "title! weight:whole",
    "classes": "title! grades:list courseSourcedId!>courses classCode classType!=homeroom|scheduled location"
    " schoolSourcedId!>orgs termSourcedIds!>>academicSessions subjects:list subjectCodes:list periods:list",
    "courses": "schoolYearSourcedId>academicSessions title! courseCode grades:list orgSourcedId!>orgs subjects:list"
    " subjectCodes:list",
    "enrollments": "classSourcedId!>classes schoolSourcedId!>orgs userSourcedId!>users"
    " role!=administrator|proctor|student|teacher primary:boolean beginDate:date endDate:date",
    "lineItems": "title! description assignDate!:date dueDate!:date classSourcedId!>classes categorySourcedId!>categories"
    " academicSessionSourcedId!>academicSessions resultValueMin:number resultValueMax:number schoolSourcedId!>orgs",
    "lineItemScoreScales": "title lineItemSourcedId!>lineItems scoreScaleSourcedId!>scoreScales",
    "orgs": "name! type!=department|school|district|local|state|national identifier parentSourcedId>orgs",
    "results": "lineItemSourcedId!>lineItems studentSourcedId!>users"
    " scoreStatus!=exempt|fully_graded|not_submitted|partially_graded|submitted score:number scoreDate!:date comment textScore"
    " classSourcedId>classes inProgress:boolean incomplete:boolean late:boolean missing:boolean",
    "resultScoreScales": "title resultSourcedId!>results scoreScaleSourcedId!>scoreScales",
    "roles": "userSourcedId!>users roleType!=primary|secondary role!=aide|counselor|districtAdministrator|guardian|parent|"
    "principal|proctor|relative|siteAdministrator|student|systemAdministrator|teacher beginDate:date endDate:date"
    " orgSourcedId!>orgs userProfileSourcedId>userProfiles",
    "scoreScales": "title! type! orgSourcedId!>orgs courseSourcedId!>courses classSourcedId!>classes scoreScaleValue!:scale",
    "users": "enabledUser!:boolean username! userIds:pairs givenName! familyName! middleName identifier email sms phone"
    " agentSourcedIds>>users grades:list password userMasterIdentifier preferredGivenName preferredMiddleName"
    " preferredFamilyName primaryOrgSourcedId>orgs pronouns",
}
EXTENDED = {"type", "classType", "role", "scoreStatus"}  # vocabularies to which ext:… may be added
FILES = sorted([*COLUMNS, *ELSEWHERE.split()])
COLUMN = re.compile(r"(\w+)(!?)(?:([=:]|>>?)(.+))?")
CELL = r'(?:"(?:[^"\r\n]|"")*"|[^",\r\n]*)'
ROW = re.compile(f"{CELL}(?:,{CELL})*")
GUID = re.compile(r"[0-9A-Za-z.\-_/@]{1,255}")
PAIR = r"\{[^{}:,]+:[^{}:,]+\}"


def calendar_day(text):
    return re.fullmatch(r"\d{4}-\d\d-\d\d", text) is not None and text == date.fromisoformat(text).isoformat()


def instant(text):
    return re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z", text) is not None and datetime.fromisoformat(text[:-1]) is not None


def matches(pattern):
    return lambda text: re.fullmatch(pattern, text) is not None


KINDS = {
    "date": calendar_day,
    "year": matches(r"\d{4}"),
    "boolean": matches("true|false"),
    "whole": matches(r"-?\d+"),
    "number": matches(r"-?\d+(\.\d+)?"),
    "list": matches(r"[^,\s](?:[^,]*[^,\s])?(?:,[^,\s](?:[^,]*[^,\s])?)*"),
    "pairs": matches(f"{PAIR}(?:,{PAIR})*"),
    "scale": matches(f"{PAIR}(?:,{PAIR})*"),
}


def columns(file):
    """Name, whether it must be there, the sign of what it holds, and that; of every column of a file."""
    return [COLUMN.fullmatch(word).groups() for word in f"{COMMON} {COLUMNS[file]}".split()]


def holds(kind, text):
    try:
        return KINDS[kind](text)
    except ValueError:
        return False


def rows_of(name, raw, wrong):
    """The rows of a CSV file as dictionaries with their line, and the headings."""
    if raw.startswith(b"\xef\xbb\xbf"):
        wrong(f"{name}: begins with a byte order mark")
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        wrong(f"{name}: not UTF-8 ({error.reason})")
        return [], []
    if not text.endswith("\r\n"):
        wrong(f"{name}: the last row does not end with CR LF")
    lines, read = text.removeprefix("\ufeff").removesuffix("\r\n").split("\r\n"), []
    for number, line in enumerate(lines, 1):
        if not ROW.fullmatch(line):
            wrong(f"{name}, line {number}: not a row of RFC 4180 within one line")
            return [], []
        if re.search(r"[\x00-\x08\x0b-\x1f\x7f]", line):
            wrong(f"{name}, line {number}: holds a control character")
        read.append(next(csv.reader([line], strict=True), []))
    heads = read[0]
    for number, row in enumerate(read[1:], 2):
        if len(row) != len(heads):
            wrong(f"{name}, line {number}: {len(row)} cells under {len(heads)} headings")
    return [{**dict(zip(heads, row)), "": number} for number, row in enumerate(read[1:], 2) if len(row) == len(heads)], heads


def read_manifest(zipped, names, wrong):
    """Which files the manifest says are there, and in which mode."""
    if "manifest.csv" not in names:
        wrong("manifest.csv: missing")
        return {}
    rows, heads = rows_of("manifest.csv", zipped.read("manifest.csv"), wrong)
    if heads != ["propertyName", "value"]:
        wrong(f"manifest.csv: headings {heads}")
        return {}
    said = {row["propertyName"]: row["value"] for row in rows}
    known = {"manifest.version", "oneroster.version", "source.systemName", "source.systemCode", *(f"file.{file}" for file in FILES)}
    for name, times in Counter(row["propertyName"] for row in rows).items():
        if times > 1:
            wrong(f"manifest.csv: {name} stands there {times} times")
        if name not in known:
            wrong(f"manifest.csv: unknown property {name}")
    for name, value in (("manifest.version", "1.0"), ("oneroster.version", "1.2")):
        if said.get(name) != value:
            wrong(f"manifest.csv: {name} is {said.get(name)}, not {value}")
    modes = {}
    for file in FILES:
        mode = said.get(f"file.{file}")
        if mode not in ("absent", "bulk", "delta"):
            wrong(f"manifest.csv: file.{file} is {mode}")
        elif (mode != "absent") != (f"{file}.csv" in names):
            wrong(f"manifest.csv: file.{file} is {mode}, yet {file}.csv is {'there' if f'{file}.csv' in names else 'missing'}")
        elif mode != "absent":
            modes[file] = mode
    return modes


def check_cells(file, mode, rows, wrong):
    for row in rows:
        place = f"{file}.csv, line {row['']}"
        for name, needed, sign, what in columns(file):
            text = row[name]
            if needed and not text:
                wrong(f"{place}: {name} is empty")
            words = (what or "").replace("_", " ").split("|")
            if not text or name in COMMON:
                continue
            if sign == ":" and not holds(what, text):
                wrong(f"{place}: {name} “{text}” is no {what}")
            if sign == "=" and text not in words and not (name in EXTENDED and re.fullmatch(r"ext:[A-Za-z0-9.\-_]+", text)):
                wrong(f"{place}: {name} “{text}” is none of {', '.join(words)}")
        if not GUID.fullmatch(row["sourcedId"]):
            wrong(f"{place}: sourcedId “{row['sourcedId']}” is no id")
        if mode == "bulk" and (row["status"] or row["dateLastModified"]):
            wrong(f"{place}: status and dateLastModified are blank in bulk")
        if mode == "delta" and not (row["status"] in ("active", "tobedeleted") and instant(row["dateLastModified"])):
            wrong(f"{place}: a change has a status and the dateTime of it")


def read_package(zipped, wrong):
    """Every data file, rows by id; what concerns a single file has been checked."""
    names = zipped.namelist()
    for name, times in Counter(names).items():
        if times > 1:
            wrong(f"{name}: in the zip file {times} times")
        if name != "manifest.csv" and name.removesuffix(".csv") not in FILES or not name.endswith(".csv"):
            wrong(f"{name}: no file of the binding")
    package = {file: {} for file in COLUMNS}
    for file, mode in read_manifest(zipped, names, wrong).items():
        if file not in COLUMNS:
            wrong(f"{file}.csv: nothing this record could fill")
            continue
        rows, heads = rows_of(f"{file}.csv", zipped.read(f"{file}.csv"), wrong)
        wanted = [name for name, *_ in columns(file)]
        if heads[:len(wanted)] != wanted:
            wrong(f"{file}.csv: headings {','.join(heads)} and not {','.join(wanted)}")
            continue
        extra = heads[len(wanted):]
        if len(set(extra)) < len(extra) or not all(re.fullmatch(r"metadata\.\S+", name) for name in extra):
            wrong(f"{file}.csv: more headings than the binding has: {','.join(extra)}")
        check_cells(file, mode, rows, wrong)
        for row in rows:
            if row["sourcedId"] in package[file]:
                wrong(f"{file}.csv, line {row['']}: sourcedId {row['sourcedId']} stands there twice")
            package[file][row["sourcedId"]] = row
    return package


def check_references(package, wrong):
    for file, rows in package.items():
        for name, _, sign, other in columns(file):
            if sign not in (">", ">>"):
                continue
            for row in rows.values():
                ids = row[name].split(",") if sign == ">>" else [row[name]]
                for one in ids if row[name] else []:
                    if one not in package.get(other, {}):
                        wrong(f"{file}.csv, line {row['']}: {name} {one} is not in {other}.csv")
    for file in ("orgs", "academicSessions"):
        for row in package[file].values():
            seen, at = set(), row
            while at and at["sourcedId"] not in seen:
                seen.add(at["sourcedId"])
                at = package[file].get(at["parentSourcedId"])
            if at and at is row:
                wrong(f"{file}.csv, line {row['']}: its own parent, in a circle of {len(seen)}")


def check_sessions(package, wrong):
    sessions = package["academicSessions"]
    for row in sessions.values():
        place, above = f"academicSessions.csv, line {row['']}", sessions.get(row["parentSourcedId"])
        if row["startDate"] >= row["endDate"]:
            wrong(f"{place}: ends before it begins")
        if above and not above["startDate"] <= row["startDate"] <= row["endDate"] <= above["endDate"]:
            wrong(f"{place}: not within its parent")
        if above and above["schoolYear"] != row["schoolYear"]:
            wrong(f"{place}: another schoolYear than its parent")
        # A range ends before its end date, and a school year is called by the year it ends in.
        if row["type"] == "schoolYear" and (date.fromisoformat(row["endDate"]) - timedelta(days=1)).year != int(row["schoolYear"]):
            wrong(f"{place}: schoolYear {row['schoolYear']} is not the year it ends in")


def check_classes(package, wrong):
    sessions = package["academicSessions"]
    for row in package["courses"].values():
        if row["schoolYearSourcedId"] and sessions[row["schoolYearSourcedId"]]["type"] != "schoolYear":
            wrong(f"courses.csv, line {row['']}: schoolYearSourcedId is no session of type schoolYear")
    for row in package["classes"].values():
        if package["orgs"][row["schoolSourcedId"]]["type"] != "school":
            wrong(f"classes.csv, line {row['']}: schoolSourcedId is no org of type school")


def check_people(package, wrong):
    classes, roles = package["classes"], Counter()
    for row in package["users"].values():
        place = f"users.csv, line {row['']}"
        if row["password"]:
            wrong(f"{place}: a password is written")
        if row["sourcedId"] in (row["identifier"], row["email"], row["sms"], row["phone"]):
            wrong(f"{place}: sourcedId says who it is")
    for row in package["roles"].values():
        roles[row["userSourcedId"], row["orgSourcedId"]] += row["roleType"] == "primary"
    for (user, org), times in roles.items():
        if times != 1:
            wrong(f"roles.csv: user {user} has {times} primary roles in org {org}, not one")
    for user in package["users"].keys() - {user for user, _ in roles}:
        wrong(f"roles.csv: user {user} has no role")
    seats = Counter()
    for row in package["enrollments"].values():
        place, its = f"enrollments.csv, line {row['']}", classes[row["classSourcedId"]]
        seats[row["classSourcedId"], row["userSourcedId"], row["role"]] += 1
        if row["primary"] == "true" and row["role"] != "teacher":
            wrong(f"{place}: primary is for teachers")
        if row["schoolSourcedId"] != its["schoolSourcedId"]:
            wrong(f"{place}: schoolSourcedId is not that of the class")
        terms = [package["academicSessions"][term] for term in its["termSourcedIds"].split(",")]
        first, last = min(term["startDate"] for term in terms), max(term["endDate"] for term in terms)
        begin, end = row["beginDate"] or first, row["endDate"] or last
        if not first <= begin <= end <= last:
            wrong(f"{place}: {begin} to {end} is not within the term")
    for (_, user, role), times in seats.items():
        if times > 1:
            wrong(f"enrollments.csv: user {user} is {role} of one class {times} times")
    first_teachers = Counter(row["classSourcedId"] for row in package["enrollments"].values() if row["primary"] == "true")
    for one, times in first_teachers.items():
        if times > 1:
            wrong(f"enrollments.csv: class {one} has {times} primary teachers")


def check_scores(package, wrong):
    items, students = package["lineItems"], {
        (row["classSourcedId"], row["userSourcedId"]) for row in package["enrollments"].values() if row["role"] == "student"}
    weights = [int(row["weight"] or 0) for row in package["categories"].values()]
    if weights and sum(weights) != 100:
        wrong(f"categories.csv: the weights sum to {sum(weights)}, not 100")
    for row in items.values():
        place, its = f"lineItems.csv, line {row['']}", package["classes"][row["classSourcedId"]]
        session = package["academicSessions"][row["academicSessionSourcedId"]]
        if session["type"] == "schoolYear" or row["academicSessionSourcedId"] not in its["termSourcedIds"].split(","):
            wrong(f"{place}: academicSessionSourcedId is no term of the class")
        if row["schoolSourcedId"] != its["schoolSourcedId"]:
            wrong(f"{place}: schoolSourcedId is not that of the class")
        if not session["startDate"] <= row["assignDate"] <= row["dueDate"] < session["endDate"]:
            wrong(f"{place}: {row['assignDate']} to {row['dueDate']} is not within the term")
        if row["resultValueMin"] and row["resultValueMax"] and Fraction(row["resultValueMin"]) > Fraction(row["resultValueMax"]):
            wrong(f"{place}: resultValueMin is more than resultValueMax")
    for row in package["results"].values():
        place, item = f"results.csv, line {row['']}", items[row["lineItemSourcedId"]]
        if (item["classSourcedId"], row["studentSourcedId"]) not in students:
            wrong(f"{place}: no student of the class")
        if row["classSourcedId"] not in ("", item["classSourcedId"]):
            wrong(f"{place}: classSourcedId is not that of the line item")
        if row["score"] and item["resultValueMin"] and Fraction(row["score"]) < Fraction(item["resultValueMin"]):
            wrong(f"{place}: score {row['score']} is less than {item['resultValueMin']}")
        if (row["scoreStatus"] == "fully graded") != bool(row["score"] or row["textScore"]):
            wrong(f"{place}: score “{row['score']}” with {row['scoreStatus']}")


def faults(raw):
    """A sentence for everything wrong with a package. What hangs on ids is looked at when all ids hold."""
    found = []
    try:
        zipped = zipfile.ZipFile(io.BytesIO(raw))
        damaged = zipped.testzip()
    except (zipfile.BadZipFile, zlib.error, EOFError) as error:
        return [f"the zip file is damaged: {error}"]
    if damaged:
        return [f"the zip file is damaged: {damaged}"]
    package = read_package(zipped, found.append)
    check_references(package, found.append)
    if not found:
        for look in (check_sessions, check_classes, check_people, check_scores):
            look(package, found.append)
    return found


def package_of(raw):
    """Rows by id of every data file of a package without faults."""
    found = faults(raw)
    assert not found, "\n".join(found)
    return read_package(zipfile.ZipFile(io.BytesIO(raw)), found.append)


def main(files):
    assert all(what in (KINDS if sign == ":" else FILES) for file in COLUMNS for _, _, sign, what in columns(file) if sign in (":", ">", ">>"))
    found = {name: faults(Path(name).read_bytes()) for name in files}
    for name, sentences in found.items():
        print(f"{name}: {len(sentences)} faults", *sentences, sep="\n  ")
    return 1 if any(found.values()) else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

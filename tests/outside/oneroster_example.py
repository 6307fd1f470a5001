"""The rules of oneroster_rules.py put to a package written by hand: it has no fault, and each way to spoil it is named.

Reference: 1EdTech OneRoster 1.2 CSV Binding (final release 1.2.1), RFC 4180. The example holds what the program never
writes too: changes alone (delta), score scales, added words (`ext:…`).
"""

import csv
import io
import zipfile

from oneroster_rules import FILES, columns, faults

EXAMPLE = {
    "orgs": [["north", "", "", "North", "school", "", ""], ["hall", "", "", "Hall", "ext:wing", "", "north"]],
    "academicSessions": [["y27", "", "", "2026/2027", "schoolYear", "2026-07-01", "2027-07-01", "", "2027"],
                         ["fall", "", "", "Fall", "term", "2026-09-01", "2026-12-20", "y27", "2027"]],
    "courses": [["litho", "", "", "y27", "Stones, plates", "L1", "", "north", "art,print", "1,2"]],
    "classes": [["litho-1", "", "", "The \"early\" class", "", "litho", "", "scheduled", "", "north", "fall", "", "", ""]],
    "users": [["u-1", "", "", "true", "u-1", "{card:7},{door:8}", "Ilka", "Bo", *[""] * 14],
              ["u-0", "", "", "true", "u-0", "", "Ada", "Li", *[""] * 14],
              ["u-2", "", "", "false", "u-2", "", "=Ulf", "-Roe", *[""] * 14]],
    "roles": [["r-1", "", "", "u-1", "primary", "teacher", "", "", "north", ""],
              ["r-0", "", "", "u-0", "primary", "aide", "", "", "north", ""],
              ["r-2", "", "", "u-2", "primary", "student", "2026-09-01", "2026-12-20", "north", ""],
              ["r-3", "", "", "u-2", "secondary", "ext:monitor", "", "", "north", ""]],
    "enrollments": [["e-1", "", "", "litho-1", "north", "u-1", "teacher", "true", "", ""],
                    ["e-0", "", "", "litho-1", "north", "u-0", "teacher", "false", "", ""],
                    ["e-2", "", "", "litho-1", "north", "u-2", "student", "false", "2026-09-01", "2026-12-20"]],
    "categories": [["prints", "", "", "Prints", "67"], ["logs", "", "", "Logs", "33"]],
    "lineItems": [["i-1", "", "", "First print", "", "2026-09-08", "2026-10-01", "litho-1", "prints", "fall", "0", "20", "north"]],
    "results": [["s-1", "", "", "i-1", "u-2", "fully graded", "17.25", "2026-10-04", "", "", "litho-1", "", "", "true", "false"]],
    "scoreScales": [["letters", "", "", "Letters", "letter", "north", "litho", "litho-1", "{A:90},{B:80}"]],
    "lineItemScoreScales": [["k-1", "", "", "", "i-1", "letters"]],
    "resultScoreScales": [["k-2", "", "", "", "s-1", "letters"]],
}
CHANGED = ["active", "2026-10-05T08:00:00.000Z"]
# What is put where in the example (file, row, column, value), and what the fault must speak of.
SPOILED = [
    (("orgs", 0, "type", "college"), "type “college”"),
    (("orgs", 0, "parentSourcedId", "hall"), "circle of 2"),
    (("orgs", 1, "sourcedId", "north"), "stands there twice"),
    (("orgs", 1, "sourcedId", "the hall"), "is no id"),
    (("orgs", 0, "status", "active"), "blank in bulk"),
    (("academicSessions", 1, "startDate", "2026-02-30"), "no date"),
    (("academicSessions", 1, "startDate", "20260901"), "no date"),
    (("academicSessions", 1, "endDate", "2027-07-02"), "not within its parent"),
    (("academicSessions", 1, "endDate", "2026-08-20"), "ends before it begins"),
    (("academicSessions", 0, "schoolYear", "2026"), "not the year it ends in"),
    (("academicSessions", 0, "schoolYear", "26"), "no year"),
    (("courses", 0, "schoolYearSourcedId", "fall"), "no session of type schoolYear"),
    (("courses", 0, "subjects", "art, print"), "no list"),
    (("classes", 0, "termSourcedIds", "fall,spring"), "spring is not in academicSessions.csv"),
    (("classes", 0, "schoolSourcedId", "nowhere"), "nowhere is not in orgs.csv"),
    (("classes", 0, "title", ""), "title is empty"),
    (("users", 0, "enabledUser", "yes"), "no boolean"),
    (("users", 0, "enabledUser", "True"), "no boolean"),
    (("users", 0, "userIds", "card:7"), "no pairs"),
    (("users", 0, "password", "secret"), "a password is written"),
    (("users", 2, "identifier", "u-2"), "says who it is"),
    (("users", 2, "givenName", "Ulf\nAndreas"), "RFC 4180"),
    (("roles", 2, "roleType", "secondary"), "0 primary roles"),
    (("roles", 3, "roleType", "primary"), "2 primary roles"),
    (("roles", 3, "role", "ext:two words"), "role “ext:two words”"),
    (("roles", 0, "userSourcedId", "u-2"), "user u-1 has no role"),
    (("enrollments", 2, "primary", "true"), "primary is for teachers"),
    (("enrollments", 2, "endDate", "2026-12-21"), "not within the term"),
    (("enrollments", 2, "schoolSourcedId", "hall"), "not that of the class"),
    (("enrollments", 2, "role", "teacher"), "no student of the class"),
    (("enrollments", 1, "primary", "true"), "2 primary teachers"),
    (("categories", 1, "weight", "34"), "sum to 101"),
    (("categories", 1, "weight", "33.3"), "no whole"),
    (("lineItems", 0, "academicSessionSourcedId", "y27"), "no term of the class"),
    (("lineItems", 0, "dueDate", "2026-12-20"), "not within the term"),
    (("lineItems", 0, "resultValueMin", "21"), "more than resultValueMax"),
    (("results", 0, "score", "-1"), "less than 0"),
    (("results", 0, "score", "17,25"), "no number"),
    (("results", 0, "score", ""), "with fully graded"),
    (("results", 0, "scoreStatus", "graded"), "scoreStatus “graded”"),
    (("results", 0, "lineItemSourcedId", "i-2"), "i-2 is not in lineItems.csv"),
    (("scoreScales", 0, "scoreScaleValue", "A:90"), "no scale"),
    (("resultScoreScales", 0, "resultSourcedId", "s-2"), "s-2 is not in results.csv"),
]


def example(files, manifest=(), mode="bulk", after=lambda name, raw: raw):
    """A package as a zip file; `after` may spoil the bytes of a file."""
    said = [("manifest.version", "1.0"), ("oneroster.version", "1.2"),
            *((f"file.{file}", mode if file in files else "absent") for file in FILES), *manifest]
    tables = {"manifest": [["propertyName", "value"], *said],
              **{file: [[name for name, *_ in columns(file)], *rows] for file, rows in files.items()}}
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w") as zipped:
        for file, rows in tables.items():
            text = io.StringIO(newline="")
            csv.writer(text).writerows(rows)
            zipped.writestr(f"{file}.csv", after(file, text.getvalue().encode()))
    return whole.getvalue()


def names_it(raw, wanted):
    found = faults(raw)
    assert any(wanted in sentence for sentence in found), (wanted, found)


def main():
    assert not faults(example(EXAMPLE)), faults(example(EXAMPLE))
    changes = {file: [[row[0], *CHANGED, *row[3:]] for row in rows] for file, rows in EXAMPLE.items()}
    assert not faults(example(changes, mode="delta")), "changes alone are a package too"
    for (file, place, name, value), wanted in SPOILED:
        files = {one: [list(row) for row in rows] for one, rows in EXAMPLE.items()}
        files[file][place][[column for column, *_ in columns(file)].index(name)] = value
        names_it(example(files), wanted)
    names_it(example(EXAMPLE, mode="delta"), "a status and the dateTime")
    names_it(example({file: rows for file, rows in EXAMPLE.items() if file != "orgs"}), "not in orgs.csv")
    for manifest, wanted in ([("file.orgs", "bulk")], "2 times"), ([("file.plates", "bulk")], "unknown property"):
        names_it(example(EXAMPLE, manifest), wanted)
    # The bytes of one file: mark, line ends, encoding, order of the headings, one cell too many, quotation.
    for old, new, wanted in [(b"sourcedId", b"\xef\xbb\xbfsourcedId", "byte order mark"), (b"\r\n", b"\n", "CR LF"),
                             (b"North", b"N\xf8rth", "not UTF-8"), (b"name,type", b"type,name", "headings"),
                             (b"type,identifier", b"type,Identifier", "headings"), (b"North,", b"North,,", "8 cells"),
                             (b"North,", b'No"rth,', "RFC 4180"), (b"parentSourcedId\r", b"parentSourcedId,metadata.x\r", "cells"),
                             (b"parentSourcedId\r", b"parentSourcedId,extra\r", "more headings")]:
        names_it(example(EXAMPLE, after=lambda file, raw, old=old, new=new: raw.replace(old, new) if file == "orgs" else raw), wanted)
    print(f"{len(SPOILED)} spoiled cells named")


if __name__ == "__main__":
    main()

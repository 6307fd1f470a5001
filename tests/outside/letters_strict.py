"""Letters the program writes as files, read by the standard library's strict reader.

Reference: email.policy.strict of the Python standard library, which raises on every defect it finds, after RFC 5322,
2045 to 2047 and 2231; limits of RFC 5322 2.1.1 (998 and 78 characters a line) and RFC 2047 2 (75 an encoded word);
List-Unsubscribe of RFC 8058 3.1; Auto-Submitted of RFC 3834 5; hmac and base64 for the one-time links' secrets.
"""

import base64
import datetime
import email
import email.header
import email.policy
import email.utils
import hashlib
import hmac
import html.parser
import json
import os
import pathlib
import re
import sqlite3
import stat
import subprocess
import tempfile
import time
import unittest
import uuid

KEY = bytes(range(32))
HOST = "tympan.college.example"
NAMES = [
    ("Sami", "Vale"), ("Zoë", "Łącki-Świętosława"), ("李", "小龍"), ("محمد", "علي"), ("Ana 🖨", "O’Hara"),
    ('Jo "Ink"', "Vale, Jr. (press)"), ("<b>Bo</b>", "a@b.example>"), ("Ev\r\nBcc: all@college.example", "End\r\n\r\nbody"),
    ("\\", '"'), ("=?utf-8?q?Eve?=", "x"), ("A" * 80, "Ż" * 80), ("Tab\there", "nul\x1fend"),
]
VOID = {"meta", "br", "hr", "img", "link", "input"}


class Tags(html.parser.HTMLParser):
    """Raises when elements are not closed in the order they were opened."""

    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.open, self.links, self.words = [], [], []

    def handle_starttag(self, tag, attributes):
        if tag not in VOID:
            self.open.append(tag)
        self.links += [value for name, value in attributes if name == "href"]

    def handle_endtag(self, tag):
        assert self.open and self.open.pop() == tag, f"</{tag}> closes something else"

    def handle_data(self, data):
        self.words.append(data)


def shown(given, family):
    """A name as it may stand in a header: one line, no control characters."""
    name = "".join(" " if ord(c) < 32 or 127 <= ord(c) < 160 else c for c in f"{given} {family}")
    return " ".join(name.split())


def secret(purpose, row):
    code = hmac.new(KEY, b"link\0" + purpose.encode() + b"\0" + row.encode() + b"\0", hashlib.sha256).digest()
    return base64.urlsafe_b64encode(code).rstrip(b"=").decode()


class School:
    def __init__(self, folder):
        self.folder, self.now = folder, int(time.time() * 1000)
        (folder / "key").write_bytes(KEY)
        self.environment = {
            **os.environ, "TYMPAN_DATA": str(folder), "TYMPAN_PUBLIC_URL": f"https://{HOST}:8443", "TYMPAN_LOG": "error",
            "TYMPAN_MAIL_FROM": "Print studio, Alder Hill <studio@college.example>",
            "TYMPAN_DATABASE_URL": f"sqlite:{folder / 'tympan.db'}",
        }
        self.run("migrate")
        self.db = sqlite3.connect(folder / "tympan.db")
        self.db.execute("PRAGMA foreign_keys = ON")
        self.put("school", id="school", name="Alder Hill “Art” & Craft", safety_office="Ext. 4100", second_factor=0,
                 demo=0, created_at=self.now, version=1)

    def run(self, *arguments):
        done = subprocess.run([os.environ["TYMPAN_BIN"], *arguments], env=self.environment, capture_output=True, text=True)
        assert done.returncode == 0, done.stderr

    def put(self, table, **row):
        names = ", ".join(row)
        self.db.execute(f"INSERT INTO {table} ({names}) VALUES ({', '.join('?' * len(row))})", list(row.values()))

    def at_school(self):
        """A class whose term is over, in a zone where it is noon or so now: no letter waits for the morning."""
        self.term, self.studio, self.class_, self.project, procedure = (str(uuid.uuid4()) for _ in range(5))
        ahead = 12 - datetime.datetime.now(datetime.timezone.utc).hour
        self.zone = f"Etc/GMT{-ahead:+d}" if ahead else "Etc/GMT"
        made = {"created_at": self.now, "version": 1}
        self.put("term", id=self.term, name="Autumn", starts="2019-09-02", ends="2019-12-20", zone=self.zone, **made)
        self.put("studio", id=self.studio, name="Lower “print” studio", room_address="", eyewash="", emergency_numbers="", **made)
        self.put("class", id=self.class_, term_id=self.term, studio_id=self.studio, code="LIT-B",
                 title="Plate <lithography> & “stone”", go_ahead=1, shares_logs=0, **made)
        self.put("procedure", id=procedure, class_id=self.class_, name="Plate", surface="plate", created_at=self.now)
        self.put("project", id=self.project, class_id=self.class_, position=1, title="A room at <night>", brief="",
                 due_local="2019-12-01T16:30", edition_asked=8, procedure_id=procedure, **made)

    def enrol(self, person, role):
        self.put("enrolment", id=str(uuid.uuid4()), class_id=self.class_, person_id=person, role=role, state="enrolled",
                 since="2019-09-02", joined_at=self.now, version=1)

    def person(self, given, family, n, language=None):
        row = str(uuid.uuid4())
        self.put("person", id=row, given_name=given, family_name=family, email=f"p{n}@students.example", language=language,
                 email_key=f"p{n}@students.example", keeper=0, records=0, safety_officer=0, volume_unit="ml",
                 daily_letter=1, failed_sign_ins=0, created_at=self.now, version=1)
        return row

    def link(self, purpose, person):
        row = str(uuid.uuid4())
        digest = hashlib.sha256(secret(purpose, row).encode()).hexdigest()
        self.put("link", id=row, purpose=purpose, person_id=person, secret_hash=digest, bound="", created_at=self.now,
                 expires_at=self.now + 1_800_000)
        return row

    def letter(self, kind, person, detail, class_=None):
        row = str(uuid.uuid4())
        self.put("letter", id=row, kind=kind, person_id=person, detail=json.dumps(detail), created_at=self.now,
                 not_before=self.now, attempts=0, class_id=class_)
        return row

    def of_class(self, person):
        """A letter of every kind that is of a class, as the acts that cause them write their rows."""
        hours = lambda count: self.now + count * 3_600_000
        plate = {"who": "Zoë Łącki", "number": 3, "title": "Kettle & <window>", "step": "Second etch"}
        group = lambda count: {"count": count, "plates": [plate] * count}
        details = {
            "urgent": {"class": self.class_, "zone": self.zone, "plate": str(uuid.uuid4()), "number": 3, "same_day": True,
                       "title": "Kettle & <window>", "step": "Second etch", "by": hours(4), "limit": hours(8)},
            "week": {"class": self.class_, "monday": "2019-10-21", "zone": self.zone, "at": self.now, "plates": 72,
                     "late": group(2), "stuck": group(1), "waiting": group(3),
                     "due": [{"title": "A room at <night>", "at": hours(24), "open": 5}],
                     "fits": {"fits": 40, "asked": 48, "first": "Ana Bird"}, "unreached": ["Otis Wren"], "acts": 812,
                     "digest": "5f0c" * 16},
            "handed-back": {"titles": ["A room at <night>", "Ferry & “rain”"]},
            "second-look-asked": {"title": "A room at <night>", "name": "Sami & Vale", "assessment": str(uuid.uuid4()),
                                  "person": person},
            "second-look-answered": {"title": "A room at <night>"},
            "grade-submitted": {"changed": True},
            "due-moved": {"project": self.project, "title": "A room at <night>", "whose": "class",
                          "from": "2019-11-24T16:30", "to": "2019-12-01T16:30", "reason": "The press & the slab were down"},
        }
        return {self.letter(kind, person, detail, self.class_): kind for kind, detail in details.items()}


def daily():
    item = {"what": "ready", "class": str(uuid.uuid4()), "class_title": "Plate lithography", "plate": str(uuid.uuid4()),
            "number": 3, "title": "Kettle & <window> “at night”, " + "long " * 30, "step": "First etch", "topic": None,
            "grade": None, "due": int(time.time() * 1000) + 86_400_000}
    missing = {**item, "what": "sign-off", "topic": "Press", "grade": "watched", "step": "Proof"}
    return {"date": str(datetime.datetime.now(datetime.timezone.utc).date()), "zone": "UTC", "first": missing,
            "also": [item, {**item, "what": "due", "plate": None, "number": None, "step": None}], "left_out": 1}


class Letters(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        held = tempfile.TemporaryDirectory()
        cls.addClassCleanup(held.cleanup)
        school = School(pathlib.Path(held.name))
        school.at_school()
        cls.wanted, cls.language = {}, {}
        everybody = [(n, name, "en") for n, name in enumerate(NAMES)] + [(100 + n, name, "es") for n, name in enumerate(NAMES)]
        for n, (given, family), language in everybody:
            person = school.person(given, family, n, language)
            school.enrol(person, "student")
            known = set(cls.wanted)
            for purpose in ("invitation", "reset"):
                row = school.link(purpose, person)
                letter = school.letter(purpose, person, {"link": row})
                cls.wanted[letter] = (purpose, shown(given, family), f"p{n}@students.example", secret(purpose, row))
            moved = {"to": f"p{n}@students.example", "email": f"new-{n}@students.example"}
            for kind, detail in (("password-changed", {}), ("email-changed", moved), ("daily", daily())):
                letter = school.letter(kind, person, detail)
                cls.wanted[letter] = (kind, shown(given, family), f"p{n}@students.example", None)
            for letter, kind in school.of_class(person).items():
                cls.wanted[letter] = (kind, shown(given, family), f"p{n}@students.example", None)
            cls.language |= {letter: language for letter in set(cls.wanted) - known}
        school.db.commit()
        school.run("remind", "--once")
        cls.files = sorted((school.folder / "letters").iterdir())
        cls.raw = {file.stem: file.read_bytes() for file in cls.files}
        cls.read = {name: email.message_from_bytes(raw, policy=email.policy.strict) for name, raw in cls.raw.items()}
        cls.left = school.db.execute("SELECT kind, last_error FROM letter WHERE sent_at IS NULL").fetchall()

    def each(self, look):
        """Looks at every letter: its name, its message, and what was wanted of it."""
        for name, message in self.read.items():
            with self.subTest(letter=self.wanted[name]):
                look(name, message, *self.wanted[name])

    def test_every_letter_became_a_file_for_one_pair_of_eyes(self):
        self.assertEqual(self.left, [])
        self.assertEqual(set(self.raw), set(self.wanted))
        for file in self.files:
            self.assertEqual((file.suffix, stat.S_IMODE(file.stat().st_mode)), (".eml", 0o600))

    def test_every_kind_the_program_knows_is_looked_at_in_both_languages(self):
        # The words of `store::letters::Kind`, as the templates' folders have them.
        folders = pathlib.Path(__file__).parents[2] / "templates" / "letters"
        kinds = {folder.name for folder in folders.iterdir() if folder.is_dir()}
        self.assertEqual(len(kinds), 12)
        for language in ("en", "es"):
            seen = {self.wanted[letter][0] for letter, known in self.language.items() if known == language}
            self.assertEqual(seen, kinds, language)

    def test_each_speaks_the_language_of_whom_it_is_for(self):
        subjects = {"en": {}, "es": {}}
        for name, message in self.read.items():
            with self.subTest(letter=self.wanted[name]):
                _, page = message.iter_parts()
                language = self.language[name]
                self.assertIn(f'lang="{language}"', page.get_content())
                subjects[language].setdefault(self.wanted[name][0], message["Subject"])
        for kind, subject in subjects["en"].items():
            self.assertNotEqual(subject, subjects["es"][kind], kind)

    def test_headers_are_there_once_and_say_what_they_should(self):
        def look(name, message, _, person, address, __):
            for header in ("From", "To", "Subject", "Date", "Message-ID", "MIME-Version", "Auto-Submitted"):
                self.assertEqual(len(message.get_all(header, [])), 1, header)
            for header in ("Bcc", "Cc", "Reply-To"):
                self.assertIsNone(message[header])
            (to,) = message["To"].addresses
            self.assertEqual(to.addr_spec, address)
            # The strict reader of some versions keeps the space between two encoded words, which RFC 2047 6.2 takes away.
            plain = email.message_from_bytes(self.raw[name], policy=email.policy.compat32)
            encoded, _ = email.utils.parseaddr(plain["To"])
            self.assertEqual(str(email.header.make_header(email.header.decode_header(encoded))), person)
            (sender,) = message["From"].addresses
            self.assertEqual(sender.addr_spec, "studio@college.example")
            self.assertEqual(sender.display_name, "Print studio, Alder Hill")
            self.assertEqual(message["Message-ID"], f"<{name}@{HOST}>")
            self.assertEqual(message["Auto-Submitted"], "auto-generated")
            sent = email.utils.parsedate_to_datetime(message["Date"])
            self.assertLess(abs(sent.timestamp() - time.time()), 600)
            self.assertTrue(message["Subject"].strip())
            defects = [*message.defects, *message["To"].defects, *message["Subject"].defects]
            self.assertEqual(defects, [])

        self.each(look)

    def test_what_concerns_an_account_is_not_stopped_by_one_click(self):
        def look(_, message, kind, *__):
            if kind not in ("invitation", "reset", "password-changed", "email-changed"):
                self.assertRegex(message["List-Unsubscribe"], rf"^<https://{HOST}:8443/letters/stop/[\w-]+>$")
                self.assertEqual(message["List-Unsubscribe-Post"], "List-Unsubscribe=One-Click")
            else:
                self.assertIsNone(message["List-Unsubscribe"])
                self.assertIsNone(message["List-Unsubscribe-Post"])

        self.each(look)

    def test_lines_are_short_and_end_as_they_must(self):
        def look(name, *_):
            raw = self.raw[name]
            raw.decode("ascii")
            self.assertNotRegex(raw, rb"(?<!\r)\n|\r(?!\n)")
            head, _, body = raw.partition(b"\r\n\r\n")
            # One word that cannot be folded is let past 78: the address in List-Unsubscribe.
            for line in head.split(b"\r\n"):
                most = 998 if line.startswith(b"List-Unsub") else 76 if b"=?" in line else 78
                self.assertLessEqual(len(line), most, line)
            for line in body.split(b"\r\n"):
                self.assertLessEqual(len(line), 998)
            for word in re.findall(rb"=\?[^?\s]+\?[bq]\?[^?\s]*\?=", head, re.IGNORECASE):
                self.assertLessEqual(len(word), 75)

        self.each(look)

    def test_both_parts_read_well(self):
        def look(_, message, __, ___, ____, code):
            self.assertEqual(message.get_content_type(), "multipart/alternative")
            text, page = message.iter_parts()
            self.assertEqual([text.get_content_type(), page.get_content_type()], ["text/plain", "text/html"])
            self.assertEqual([part.get_content_charset() for part in (text, page)], ["utf-8", "utf-8"])
            words, tags = text.get_content().replace("\r\n", "\n"), Tags()
            for line in words.splitlines():
                self.assertTrue(len(line) <= 78 or " " not in line.strip(), line)
            tags.feed(page.get_content())
            tags.close()
            self.assertEqual(tags.open, [])
            self.assertIn("Alder Hill “Art” & Craft", " ".join(words.split()))
            self.assertIn("Alder Hill “Art” & Craft", "".join(tags.words))
            for link in tags.links:
                self.assertIn(link, words, "what the page leads to, the text names")
            if code:
                self.assertIn(f"\nhttps://{HOST}:8443/links/{code}\n", words)

        self.each(look)


if __name__ == "__main__":
    unittest.main()

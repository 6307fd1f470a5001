"""The calendar feed of a demo school, read by parsers that are not ours.

References: icalendar and vobject as parsers, python-dateutil for what the repeats of RFC 5545 3.8.5.3 mean, and zoneinfo
of the standard library for what the local times mean.

The feed writes no other repeat than FREQ=WEEKLY with one BYDAY and UNTIL, and the program reads no calendars, so there is no
expansion of ours to hold against other rules of RFC 5545 3.8.5.3 (WKST, MONTHLY).
"""

import datetime
import html
import http.cookiejar
import os
import pathlib
import re
import secrets
import subprocess
import tempfile
import unittest
import urllib.parse
import urllib.request
import zoneinfo

import dateutil.rrule
import icalendar
import vobject

NEW_YORK = zoneinfo.ZoneInfo("America/New_York")


class Visitor:
    def __init__(self, base):
        self.base = base
        self.open = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(http.cookiejar.CookieJar())).open

    def get(self, path):
        return self.open(self.base + path, timeout=60).read().decode()

    def post(self, path, seen, **fields):
        seal = re.search(r'name="seal" value="([^"]*)"', seen).group(1)
        body = urllib.parse.urlencode({"seal": html.unescape(seal), "once": secrets.token_hex(16), **fields}).encode()
        return self.open(self.base + path, body, timeout=60).read().decode()


class Feed(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        school = [os.environ["TYMPAN_BIN"], "demo", "--at", "2026-10-20T14:00:00Z", "--listen", "127.0.0.1:0",
                  "--folder", str(pathlib.Path(cls.folder.name) / "school")]
        cls.server = subprocess.Popen(school, stderr=subprocess.PIPE, text=True)
        said = {}
        for line in cls.server.stderr:
            name, _, rest = line.partition(": ")
            said[name] = rest.strip()
            if "address" in said and "sign-in student" in said and "sign-in instructor" in said:
                break
        cls.bytes = {role: cls.feed(said["address"], *said[f"sign-in {role}"].split()) for role in ["student", "instructor"]}

    @classmethod
    def tearDownClass(cls):
        cls.server.terminate()
        cls.server.wait()
        cls.server.stderr.close()
        cls.folder.cleanup()

    @staticmethod
    def feed(base, email, password):
        visitor = Visitor(base)
        visitor.post("/sign-in", visitor.get("/sign-in"), email=email, password=password)
        page = visitor.post("/account/calendar", visitor.get("/account"))
        path = re.search(r"/calendar/[^<\"]*\.ics", page).group(0)
        return urllib.request.urlopen(base + path, timeout=60).read()

    def test_two_parsers_read_the_same_events(self):
        for role, text in self.bytes.items():
            calendar = icalendar.Calendar.from_ical(text)
            self.assertEqual(calendar.errors, [])
            events = calendar.walk("VEVENT")
            self.assertGreater(len(events), 5, role)
            self.assertTrue(all(not event.errors for event in events))
            other = vobject.readOne(text.decode())
            found = sorted((str(event["UID"]), event["DTSTART"].dt, str(event["SUMMARY"])) for event in events)
            also = sorted((event.uid.value, event.dtstart.value, event.summary.value) for event in other.vevent_list)
            self.assertEqual([(uid, at.astimezone(datetime.timezone.utc), title) for uid, at, title in found],
                             [(uid, at.astimezone(datetime.timezone.utc), title) for uid, at, title in also])

    def test_repeats_keep_their_local_hour_across_the_change_of_the_clock(self):
        calendar = icalendar.Calendar.from_ical(self.bytes["student"])
        weekly = [event for event in calendar.walk("VEVENT") if "RRULE" in event]
        self.assertTrue(weekly)
        # 15 U.S.C. 260a: the clocks go back on 1 November 2026.
        seen = set()
        for event in weekly:
            first = event["DTSTART"].dt
            rule = dateutil.rrule.rrulestr(event["RRULE"].to_ical().decode(), dtstart=first)
            times = list(rule)
            self.assertEqual(times[0], first, "the first time is one of the rule")
            self.assertEqual(times[-1].astimezone(datetime.timezone.utc), event["RRULE"]["UNTIL"][0], "and so is the last")
            for at in times:
                self.assertEqual((at.hour, at.minute, at.weekday()), (first.hour, first.minute, first.weekday()))
                wall = at.replace(tzinfo=None)
                self.assertEqual(at.utcoffset(), wall.replace(tzinfo=NEW_YORK).utcoffset(), event["SUMMARY"])
                seen.add(at.utcoffset())
        self.assertEqual(seen, {datetime.timedelta(hours=-4), datetime.timedelta(hours=-5)})

    def test_the_zone_it_carries_agrees_with_the_zone_data(self):
        calendar = icalendar.Calendar.from_ical(self.bytes["student"])
        [zone] = calendar.walk("VTIMEZONE")
        carried = zone.to_tz(lookup_tzid=False)
        at = datetime.datetime(2026, 8, 31, tzinfo=datetime.timezone.utc)
        for _ in range(24 * 110):
            self.assertEqual(at.astimezone(carried).utcoffset(), at.astimezone(NEW_YORK).utcoffset(), at)
            at += datetime.timedelta(hours=1)

    def test_it_names_nobody_but_the_staff(self):
        text = self.bytes["instructor"].decode()
        self.assertNotIn("@student.example", text)
        self.assertEqual(len(re.findall("SUMMARY:Start by", text)), 0)


if __name__ == "__main__":
    unittest.main()

"""Letters the program hands to a real mail server, read from the mailboxes it filled.

Reference: Postfix of Debian's packages (packages.txt), with a configuration of its own in a temporary folder, on a free
port of loopback, sending nothing on; email.policy.strict of the Python standard library for what lies in the mailboxes.
RFC 5321 4.5.1 wants the text of a letter to arrive as it was sent; RFC 3463 has the code 5.1.1 for an unknown mailbox.

Postfix starts as root only; run as somebody else this says so and fails.
"""

import email
import email.policy
import os
import pathlib
import pwd
import socket
import subprocess
import sys
import tempfile
import time
import unittest

from letters_strict import HOST, NAMES, School, daily, shown

SECOND_TIER = "postfix"
SERVICES = """\
127.0.0.1:{port} inet n - n - - smtpd
pickup unix n - n 60 1 pickup
cleanup unix n - n - 0 cleanup
qmgr unix n - n 300 1 qmgr
rewrite unix - - n - - trivial-rewrite
bounce unix - - n - 0 bounce
defer unix - - n - 0 bounce
trace unix - - n - 0 bounce
proxymap unix - - n - - proxymap
virtual unix - n n - - virtual
error unix - - n - - error
retry unix - - n - - error
discard unix - - n - - discard
anvil unix - - n - 1 anvil
postlog unix-dgram n - n - 1 postlogd
"""
SETTINGS = """\
compatibility_level = 3.6
queue_directory = {folder}/queue
data_directory = {folder}/data
command_directory = /usr/sbin
daemon_directory = /usr/lib/postfix/sbin
mail_owner = postfix
setgid_group = postdrop
maillog_file = {folder}/log
maillog_file_prefixes = {folder}
inet_interfaces = 127.0.0.1
inet_protocols = ipv4
myhostname = mail.college.example
mydestination =
mynetworks = 127.0.0.0/8
alias_maps =
local_recipient_maps =
default_transport = error:this server sends nothing on
relay_transport = error:this server sends nothing on
virtual_mailbox_domains = students.example
virtual_mailbox_base = {folder}/boxes
virtual_mailbox_maps = texthash:{folder}/mailboxes
virtual_uid_maps = static:{user}
virtual_gid_maps = static:{group}
virtual_minimum_uid = 1
biff = no
"""


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


class MailServer:
    def __init__(self, folder, mailboxes):
        self.folder, self.port = folder, free_port()
        owner = pwd.getpwnam("postfix")
        for name in ("etc", "queue", "data", "boxes"):
            (folder / name).mkdir()
        for name in ("data", "boxes"):
            os.chown(folder / name, owner.pw_uid, owner.pw_gid)
        folder.chmod(0o755)
        (folder / "mailboxes").write_text("".join(f"{address} {address.partition('@')[0]}/\n" for address in mailboxes))
        facts = {"folder": folder, "port": self.port, "user": owner.pw_uid, "group": owner.pw_gid}
        (folder / "etc" / "main.cf").write_text(SETTINGS.format(**facts))
        (folder / "etc" / "master.cf").write_text(SERVICES.format(**facts))

    def order(self, what):
        done = subprocess.run(["/usr/sbin/postfix", "-c", self.folder / "etc", what], capture_output=True, text=True)
        if done.returncode != 0:
            log = self.folder / "log"
            raise AssertionError(f"postfix {what}: {done.stderr}{log.read_text() if log.exists() else ''}")

    def __enter__(self):
        self.order("start")
        for _ in range(100):
            try:
                with socket.create_connection(("127.0.0.1", self.port), timeout=5) as line:
                    if line.recv(200).startswith(b"220 "):
                        return self
            except OSError:
                time.sleep(0.1)
        self.order("stop")
        raise AssertionError("postfix does not greet: " + (self.folder / "log").read_text())

    def __exit__(self, *_):
        self.order("stop")

    def letters(self, mailbox):
        new = self.folder / "boxes" / mailbox / "new"
        return [file.read_bytes() for file in sorted(new.iterdir())] if new.is_dir() else []


class Postfix(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        if os.geteuid() != 0:
            sys.exit("letters_postfix.py: Postfix starts as root only; run this check as root.")
        school_folder, mail_folder = tempfile.TemporaryDirectory(), tempfile.TemporaryDirectory(prefix="postfix-")
        for held in (school_folder, mail_folder):
            cls.addClassCleanup(held.cleanup)
        cls.school = School(pathlib.Path(school_folder.name))
        addresses = [f"p{n}@students.example" for n in range(len(NAMES))]
        cls.server = MailServer(pathlib.Path(mail_folder.name), addresses)
        cls.school.environment["TYMPAN_SMTP_URL"] = f"smtp://127.0.0.1:{cls.server.port}"
        cls.school.at_school()
        # Every other one reads Spanish.
        cls.people = [cls.school.person(given, family, n, ("en", "es")[n % 2]) for n, (given, family) in enumerate(NAMES)]
        for person in cls.people:
            cls.school.enrol(person, "student")
        cls.server.__enter__()
        cls.addClassCleanup(cls.server.__exit__)

    def deliver(self):
        self.school.db.commit()
        self.school.run("remind", "--once")

    def arrived(self, mailbox, count):
        """The letters in a mailbox, once there are so many; Postfix delivers when it comes to it."""
        for _ in range(300):
            found = self.server.letters(mailbox)
            if len(found) >= count:
                return found
            time.sleep(0.1)
        raise AssertionError(f"{mailbox}: {len(found)} of {count}\n" + (self.server.folder / "log").read_text())

    def test_every_letter_arrives_once_whole_and_without_a_defect(self):
        wanted = {}
        for n, person in enumerate(self.people):
            row = self.school.link("reset", person)
            letters = [self.school.letter("reset", person, {"link": row}), self.school.letter("daily", person, daily())]
            letters += self.school.of_class(person)
            wanted[f"p{n}"] = {f"<{letter}@{HOST}>" for letter in letters}
        self.deliver()
        for n, (given, family) in enumerate(NAMES):
            read = [email.message_from_bytes(raw, policy=email.policy.strict) for raw in self.arrived(f"p{n}", 9)]
            with self.subTest(person=shown(given, family)):
                self.assertEqual({message["Message-ID"] for message in read}, wanted[f"p{n}"])
                self.assertEqual(len(read), 9, "reset, daily and the seven of a class")
                for message in read:
                    self.assertEqual(message["Delivered-To"], f"p{n}@students.example")
                    self.assertEqual(message["Return-Path"], "<studio@college.example>")
                    self.assertEqual([*message.defects, *message["To"].defects], [])
                    text, page = message.iter_parts()
                    self.assertIn("Alder Hill “Art” & Craft", " ".join(text.get_content().split()))
                    self.assertIn("</html>", page.get_content())
        left = self.school.db.execute("SELECT count(*) FROM letter WHERE sent_at IS NULL AND failed_at IS NULL AND dropped_at IS NULL").fetchone()
        self.assertEqual(left, (0,))

    def test_an_unknown_mailbox_refused_three_times_rests(self):
        nobody = self.school.person("Nia", "Gone", 999)
        for refused in range(1, 4):
            letter = self.school.letter("password-changed", nobody, {})
            self.deliver()
            failed, said = self.school.db.execute(
                "SELECT failed_at IS NOT NULL, last_error FROM letter WHERE id = ?", (letter,)).fetchone()
            self.assertEqual(failed, 1)
            self.assertRegex(said, "550 5.1.1|User unknown")
            rests, = self.school.db.execute(
                "SELECT mail_rests_since IS NOT NULL FROM person WHERE id = ?", (nobody,)).fetchone()
            self.assertEqual(rests, refused == 3)
        letter = self.school.letter("daily", nobody, daily())
        self.deliver()
        dropped = self.school.db.execute("SELECT last_error FROM letter WHERE id = ?", (letter,)).fetchone()
        self.assertEqual(dropped, ("address-rests",))


if __name__ == "__main__":
    unittest.main()

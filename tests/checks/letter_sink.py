"""The letter sink itself: what the standard library's SMTP client sends arrives whole, and refusals are refused.

Reference: smtplib and email.policy of the Python standard library; codes of RFC 5321 4.2.3 and RFC 3463.
"""

import email
import email.policy
import os
import pathlib
import smtplib
import unittest
from email.message import EmailMessage
from urllib.parse import urlsplit


def letter(to):
    message = EmailMessage(policy=email.policy.SMTP)
    message["From"] = "Tympan <studio@tympan.example>"
    message["To"] = to
    message["Subject"] = "Résumé of your week"
    message.set_content("Plate 2: second etch by 20:15.\n.a line that begins with a dot\n")
    return message


class Sink(unittest.TestCase):
    def setUp(self):
        url = urlsplit(os.environ["TYMPAN_TEST_SMTP_URL"])
        self.folder = pathlib.Path(os.environ["TYMPAN_TEST_SMTP_FOLDER"])
        self.client = smtplib.SMTP(url.hostname, url.port, timeout=10)
        self.addCleanup(self.client.close)

    def test_a_letter_arrives_whole(self):
        before = set(self.folder.glob("*.eml"))
        sent = letter("wren@students.example")
        self.client.send_message(sent)
        (kept,) = set(self.folder.glob("*.eml")) - before
        read = email.message_from_bytes(kept.read_bytes(), policy=email.policy.default)
        self.assertEqual(read["Subject"], "Résumé of your week")
        self.assertEqual(read["X-Envelope-To"], "<wren@students.example>")
        self.assertEqual(read.get_content().replace("\r\n", "\n"), sent.get_content().replace("\r\n", "\n"))

    def test_a_busy_a_gone_and_a_full_mailbox(self):
        for mailbox, code in (("busy", 450), ("gone", 550)):
            with self.assertRaises(smtplib.SMTPRecipientsRefused) as refused:
                self.client.send_message(letter(f"{mailbox}@students.example"))
            self.assertEqual([code], [answer[0] for answer in refused.exception.recipients.values()])
        with self.assertRaises(smtplib.SMTPDataError) as refused:
            self.client.send_message(letter("full@students.example"))
        self.assertEqual(552, refused.exception.smtp_code)

    def test_an_overlong_line_is_refused(self):
        with self.assertRaises(smtplib.SMTPDataError):
            self.client.sendmail("studio@tympan.example", ["wren@students.example"], b"Subject: x\r\n\r\n" + b"a" * 1200)


if __name__ == "__main__":
    unittest.main()

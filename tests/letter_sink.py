"""Takes every letter sent to it and keeps each as a file: the receiving end for tests of the SMTP transport.

    letter_sink.py FOLDER [CERTIFICATE KEY]

Listens on free ports of 127.0.0.1 and prints `listening PORT` once it does; with a certificate and its key (PEM files)
`listening PORT TLS STARTTLS`: on the second TLS is spoken from the first byte, on the third nothing is taken before
STARTTLS. A letter arrives
as FOLDER/NNNN.eml, numbered as they came, first under another name so that whoever watches the folder never reads
half a letter; what the envelope said stands in the header lines X-Envelope-From and X-Envelope-To that the sink
puts on top. The address decides how the sink behaves, so that a test can ask for trouble:

    busy@...      450, try again later          gone@...      550, no such mailbox
    full@...      552, refused after the text of the letter has been sent

Lines over 1000 bytes and letters over 1 MiB are refused, as RFC 5321 4.5.3.1 lets a server do.
"""

import asyncio
import pathlib
import ssl
import sys

from aiosmtpd.smtp import SMTP


class Sink:
    def __init__(self, folder):
        self.folder = pathlib.Path(folder)
        self.folder.mkdir(parents=True, exist_ok=True)
        self.count = 0

    async def handle_RCPT(self, server, session, envelope, address, rcpt_options):
        mailbox = address.partition("@")[0]
        if mailbox == "busy":
            return "450 4.2.1 mailbox busy, try again later"
        if mailbox == "gone":
            return "550 5.1.1 no such mailbox"
        envelope.rcpt_tos.append(address)
        return "250 2.1.5 OK"

    async def handle_DATA(self, server, session, envelope):
        if any(address.partition("@")[0] == "full" for address in envelope.rcpt_tos):
            return "552 5.2.2 mailbox full"
        self.count += 1
        head = f"X-Envelope-From: <{envelope.mail_from}>\r\n"
        head += "".join(f"X-Envelope-To: <{address}>\r\n" for address in envelope.rcpt_tos)
        unread = self.folder / f"{self.count:04}.part"
        unread.write_bytes(head.encode("utf-8") + envelope.original_content)
        unread.rename(unread.with_suffix(".eml"))
        return f"250 2.0.0 kept as {self.count:04}"


async def listen(folder, certificate):
    sink = Sink(folder)
    loop = asyncio.get_running_loop()

    def session(**more):
        return lambda: SMTP(sink, hostname="sink.example", enable_SMTPUTF8=True, data_size_limit=1 << 20, **more)

    servers = [await loop.create_server(session(), "127.0.0.1", 0)]
    if certificate:
        tls = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        tls.load_cert_chain(*certificate)
        servers.append(await loop.create_server(session(), "127.0.0.1", 0, ssl=tls))
        servers.append(await loop.create_server(session(tls_context=tls, require_starttls=True), "127.0.0.1", 0))
    print("listening", *(server.sockets[0].getsockname()[1] for server in servers), flush=True)
    await asyncio.gather(*(server.serve_forever() for server in servers))


if __name__ == "__main__":
    if len(sys.argv) not in (2, 4):
        sys.exit("usage: letter_sink.py FOLDER [CERTIFICATE KEY]")
    try:
        asyncio.run(listen(sys.argv[1], sys.argv[2:]))
    except KeyboardInterrupt:
        pass

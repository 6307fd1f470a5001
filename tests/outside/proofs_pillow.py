"""Photos sent to a running program and fetched again, read by Pillow.

Pillow (https://pillow.readthedocs.io, pinned in requirements.txt) turns the received file upright by its own
ImageOps.exif_transpose; what the program serves must be that picture, in the size it says, without EXIF, GPS, profile or
comment. Files: tests/pictures, made by ImageMagick and ExifTool as their README says.
"""

import http.cookiejar
import io
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import urllib.parse
import urllib.request
import uuid

from PIL import Image, ImageChops, ImageOps, ImageStat

PICTURES = pathlib.Path(__file__).resolve().parents[1] / "pictures"
NAMES = [f"orientation-{code}.jpg" for code in range(1, 9)] + [
    "orientation-6.png", "orientation-6.webp", "progressive.jpg", "whole.jpg",
]
BORDER = "check-border-51c2"


class Visitor:
    def __init__(self, address):
        self.address = address
        jar = urllib.request.HTTPCookieProcessor(http.cookiejar.CookieJar())
        self.opener = urllib.request.build_opener(jar)

    def get(self, path):
        with self.opener.open(self.address + path, timeout=60) as answer:
            return answer.read()

    def seal(self, path):
        return re.search(rb'name="seal" value="([^"]+)"', self.get(path)).group(1).decode()

    def sign_in(self, email, password):
        fields = {"seal": self.seal("/sign-in"), "once": uuid.uuid4().hex, "email": email, "password": password}
        self.opener.open(self.address + "/sign-in", urllib.parse.urlencode(fields).encode(), timeout=60).read()

    def upload(self, path, fields, name, content):
        told = {"seal": self.seal(path), "once": uuid.uuid4().hex, **fields}
        parts = [
            f'--{BORDER}\r\nContent-Disposition: form-data; name="{key}"\r\n\r\n{value}\r\n'.encode()
            for key, value in told.items()
        ]
        head = f'--{BORDER}\r\nContent-Disposition: form-data; name="file"; filename="{name}"\r\n\r\n'.encode()
        body = b"".join(parts) + head + content + f"\r\n--{BORDER}--\r\n".encode()
        request = urllib.request.Request(
            self.address + path, body, {"Content-Type": f"multipart/form-data; boundary={BORDER}"}
        )
        with self.opener.open(request, timeout=60) as answer:
            return answer.geturl(), answer.read()


def start(folder):
    command = [os.environ["TYMPAN_BIN"], "demo", "--seed", "1", "--at", "2026-11-10T19:20:00Z", "--listen", "127.0.0.1:0"]
    program = subprocess.Popen(
        command, cwd=folder, env={**os.environ, "TMPDIR": folder}, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE,
        text=True,
    )
    address = student = None
    for line in program.stderr:
        if found := re.match(r"address: (\S+)", line):
            address = found.group(1).rstrip("/")
        if found := re.match(r"sign-in student: (\S+) (\S+)", line):
            student = found.groups()
        if address and student:
            return program, address, student
    raise SystemExit("the demo gave no address and sign-in")


def difference(one, other):
    """Root of the mean squared difference over all samples."""
    squares = ImageStat.Stat(ImageChops.difference(one, other)).sum2
    return (sum(squares) / (one.width * one.height * 3)) ** 0.5


def upright(content):
    return ImageOps.exif_transpose(Image.open(io.BytesIO(content))).convert("RGB")


def compare(name, size, served, wanted):
    picture = Image.open(io.BytesIO(served))
    assert picture.format == "JPEG" and picture.size == wanted.size, f"{name} {size}: {picture.format} {picture.size}"
    assert not picture.getexif() and not picture.app.get("APP1"), f"{name} {size} keeps EXIF"
    extra = {"exif", "icc_profile", "comment", "photoshop", "xmp"} & set(picture.info)
    assert not extra, f"{name} {size} keeps {extra}"
    far = difference(picture.convert("RGB"), wanted)
    assert far < 9, f"{name} {size}: {far:.1f} from what Pillow turns upright"
    return far


def check(address, student):
    visitor = Visitor(address)
    visitor.sign_in(*student)
    home = re.search(rb'href="(/classes/[0-9a-f-]{36})"', visitor.get("/")).group(1).decode()
    plate = re.search(rf'href="({home}/plates/[0-9a-f-]{{36}})"'.encode(), visitor.get(f"{home}/plates")).group(1).decode()
    furthest = 0
    received_exif = 0
    for name in NAMES:
        content = (PICTURES / name).read_bytes()
        received_exif += bool(Image.open(io.BytesIO(content)).getexif())
        # Every picture is another file for the plate; the eight turned ones differ in their bytes.
        told = {"kind": "trial", "pulled": "2026-11-09T10:00", "note": name}
        place, _ = visitor.upload(f"{plate}/proofs/new", told, name, content)
        assert "done=done-proof-added" in place, f"{name} was not kept: {place}"
        photo = re.search(r"#photo-([0-9a-f-]{36})", place).group(1)
        wanted = upright(content)
        for size in ["full", "1600", "320"]:
            served = visitor.get(f"{home}/photos/{photo}/{size}")
            furthest = max(furthest, compare(name, size, served, wanted))
    assert received_exif >= 8, "the files that were sent had EXIF to lose"
    print(f"{len(NAMES)} pictures upright and bare; the furthest from Pillow's by {furthest:.1f} of 255")


def main():
    with tempfile.TemporaryDirectory() as folder:
        program, address, student = start(folder)
        try:
            check(address, student)
        finally:
            program.terminate()
            program.wait(30)
    return 0


if __name__ == "__main__":
    sys.exit(main())

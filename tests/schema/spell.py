#!/usr/bin/env python3
"""Spells the PostgreSQL migrations for SQLite, so that the two folders never drift.

PostgreSQL is the text people write. For SQLite the collation goes, and every column gets a CHECK of its storage
class, because tables are not STRICT (STRICT refuses BOOLEAN and DATE). Run without arguments it rewrites
`migrations/sqlite`; with `--check` it changes nothing and fails when the folder differs. A file whose first line is
`-- spelled by hand` in the SQLite folder is left alone.
"""
import pathlib
import re
import sys

STORAGE = {"TEXT": "text", "BIGINT": "integer", "INTEGER": "integer", "BOOLEAN": "integer", "DATE": "text"}
COLUMN = re.compile(r'^(\s+|ALTER TABLE \w+ ADD COLUMN )(\w+) (TEXT|BIGINT|INTEGER|BOOLEAN|DATE)\b(.*?)([,;]?)$')


def spell(text: str) -> str:
    lines = []
    for line in text.replace(' COLLATE "C"', "").splitlines():
        found = COLUMN.match(line)
        if found:
            lead, name, kind, rest, end = found.groups()
            held = f"typeof({name}) = '{STORAGE[kind]}'"
            if "NOT NULL" not in rest:
                held = f"typeof({name}) IN ('{STORAGE[kind]}', 'null')"
            line = f"{lead}{name} {kind}{rest} CHECK ({held}){end}"
        lines.append(line)
    return "\n".join(lines) + "\n"


def main() -> int:
    root = pathlib.Path(__file__).resolve().parents[2] / "migrations"
    differs = []
    for source in sorted((root / "postgres").glob("*/*.sql")):
        target = root / "sqlite" / source.parent.name / source.name
        old = target.read_text() if target.exists() else None
        if old is not None and old.startswith("-- spelled by hand"):
            continue
        new = spell(source.read_text())
        if old != new:
            differs.append(str(target.relative_to(root.parent)))
            if "--check" not in sys.argv:
                target.parent.mkdir(parents=True, exist_ok=True)
                target.write_text(new)
    for name in differs:
        print("differs:" if "--check" in sys.argv else "written:", name)
    return 1 if differs and "--check" in sys.argv else 0


if __name__ == "__main__":
    sys.exit(main())

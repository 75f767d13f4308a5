"""What hurts in a request, and one of ours made wrong with it."""

from __future__ import annotations

import random
import re
from typing import Any

STRANGE = (
    "",
    " ",
    "\0",
    "a\0b",
    "\x1b[31m",
    "\ud7ff",
    "﻿",
    "‮abc",
    "é" * 40,
    "👢‍👢",
    "a" + "́" * 60,
    "'",
    '"',
    "'; DROP TABLE tickets; --",
    "<script>alert(1)</script>",
    "{{7*7}}",
    "{% raw %}",
    "%s%n",
    "${7*7}",
    "../../etc/passwd",
    "javascript:alert(1)",
    "=cmd|' /C calc'!A0",
    "-1",
    "0",
    "1e400",
    "NaN",
    "inf",
    "9" * 19,
    "9" * 400,
    "1/0",
    "16 1/4",
    "16¼",
    "٣",
    "１６",
    "²",
    "x" * 81,
    "x" * 4001,
    "2026-02-30",
    "99999-01-01",
    "2026-04-25",
    "25:61",
    "18:30",
    "on",
    "y",
    "null",
    "undefined",
    "[]",
    "a\r\nX-Evil: 1",
    "a\nb",
    "\t",
    "−3",
    "0x10",
    "1_6",
    "١",
    "true",
)
TYPES = (
    "text/plain",
    "application/json",
    "multipart/form-data",
    "multipart/form-data; boundary=x",
    "application/x-www-form-urlencoded; charset=utf-16",
    "image/png",
    "x",
    "",
)
HEADERS: tuple[tuple[str, str], ...] = (
    ("Origin", "https://evil.example"),
    ("Origin", "null"),
    ("Sec-Fetch-Site", "cross-site"),
    ("Accept", "application/json"),
    ("X-Forwarded-For", "203.0.113.9"),
    ("Outbox", "later"),
    ("Outbox-Age", "9" * 40),
    ("Outbox-Age", "-1"),
    ("Content-Encoding", "gzip"),
    ("User-Agent", "\x7f" * 300),
    ("Cookie", "fitcounter=%00garbage"),
    ("Accept-Language", "x" * 9000),
    ("If-None-Match", "*"),
    ("Range", "bytes=9-1"),
    ("Host", "evil.example"),
    ("Transfer-Encoding", "chunked"),
)
METHODS = ("GET", "HEAD", "OPTIONS", "PUT", "DELETE", "PATCH", "TRACE", "PROPFIND", "get")


class Spoiler:
    """Makes requests wrong; the same chance makes the same ones wrong in the same way."""

    def __init__(self, chance: random.Random) -> None:
        self.chance = chance
        self.flood = [self.text() for _ in range(3000)]

    def wrong(self, fields: list[tuple[str, str]], more: dict[str, Any]) -> list[tuple[str, str]]:
        """One more thing that is wrong."""
        at = self.chance.randrange(len(fields)) if fields else 0
        how = self.chance.random()
        if how < 0.55 and fields:
            fields[at] = (fields[at][0], self.text())
        elif how < 0.62:
            fields = fields[:at] + fields[at + 1 :]
        elif how < 0.68 and fields:
            fields.append((fields[at][0], self.text()))
        elif how < 0.72 and fields:
            fields[at] = (fields[at][0], "x" * self.chance.choice((5000, 70_000)))
        elif how < 0.78 and fields:
            fields[at] = (
                fields[at][0],
                self.chance.choice(("%ff", "%C0%AF", "%ED%A0%80", "%00", "%", "%zz", "%F0%9F")),
            )
        elif how < 0.84:
            fields.append(
                (
                    self.chance.choice(
                        (
                            "role",
                            "state",
                            "id",
                            "version",
                            "who",
                            "pin",
                            "catch_up",
                            "confirmed",
                            "",
                            "\0",
                        )
                    ),
                    self.text(),
                )
            )
        elif how < 0.88:
            more["content_type"] = self.chance.choice(TYPES)
        elif how < 0.96:
            name, value = self.chance.choice(HEADERS)
            more["headers"][name] = value
        else:
            fields = [
                (self.chance.choice(self.flood) or "x", self.chance.choice(self.flood))
                for _ in range(self.chance.choice((3, 700)))
            ]
        return fields

    def text(self) -> str:
        if self.chance.random() < 0.7:
            return self.chance.choice(STRANGE)
        signs = [
            chr(
                self.chance.choice(
                    (
                        self.chance.randrange(32, 127),
                        self.chance.randrange(0x2FF),
                        self.chance.randrange(0xE000, 0x10FFFF),
                    )
                )
            )
            for _ in range(12)
        ]
        return "".join(signs[: self.chance.randrange(1, 12)])

    def address(self, address: str) -> str:
        """Now and then with another number, or one that is none."""
        if self.chance.random() < 0.15:
            other = self.chance.choice(
                (
                    "0",
                    "1",
                    "2",
                    "7",
                    "43",
                    "99999",
                    "9" * 18,
                    "9" * 30,
                    "-1",
                    "%D9%A1",
                    "1.0",
                    "%00",
                    "a%2f..%2fb",
                )
            )
            return re.sub(r"\d+", other, address, count=1)
        return address

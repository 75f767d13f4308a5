"""The table of OWASP ASVS 5.0.0, levels 1 and 2, is whole; what it names is there; what the README
says of security is what the program does.

asvs_levels.csv holds the numbers and levels of the standard (github.com/OWASP/ASVS, 5.0.0, May
2025), asvs.csv what we say to each.
"""

from __future__ import annotations

import ast
import csv
import re
from collections import Counter
from functools import cache

import pytest
from support.paths import CHECKOUT

from fitcounter.desk.common import drafts, link_token
from fitcounter.desk.front_desk import photos
from fitcounter.desk.intake import paper_list_csv
from fitcounter.desk.quote import signature
from fitcounter.desk.shop import Store
from fitcounter.desk.staff import first_run as staff_first_run
from fitcounter.desk.staff import passphrase_and_pin, sign_in
from fitcounter.desk.staff import phones as staff_phones
from fitcounter.desk.staff import throttle as staff_throttle
from fitcounter.papers.photo_limits import MOST_PIXELS
from fitcounter.serving import connection, server
from fitcounter.serving.server import THREADS
from fitcounter.store import integrity
from fitcounter.store.pictures import FOLDERS
from fitcounter.web.guards import request_size
from fitcounter.web.responses.security_headers import POLICY

REFERENCE = CHECKOUT / "tests" / "reference"
SECURITY = (CHECKOUT / ".github" / "SECURITY.md").read_text(encoding="utf-8")
SECTION = " ".join(SECURITY.split("\n## Nobody in\n")[1].split("\n## ")[0].split())
LEAST_REASON, LEAST_DEVIATION = 45, 80


def rows() -> list[dict[str, str]]:
    with (REFERENCE / "asvs.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def standard() -> dict[str, str]:
    """Number → level, of every requirement of levels 1 and 2."""
    with (REFERENCE / "asvs_levels.csv").open(encoding="utf-8", newline="") as file:
        return {
            f"{row['section']}.{one.split(':')[0]}": one.split(":")[1]
            for row in csv.DictReader(file)
            for one in row["requirements"].split()
        }


@cache
def names_in(file: str) -> frozenset[str]:
    tree = ast.parse((CHECKOUT / file).read_text(encoding="utf-8"))
    return frozenset(
        node.name
        for node in tree.body
        if isinstance(node, ast.FunctionDef) and node.name.startswith("test_")
    )


def test_every_requirement_stands_in_the_table_once_with_its_level() -> None:
    """70 of level 1 and 183 of level 2, in the order of the standard."""
    assert Counter(standard().values()) == {"1": 70, "2": 183}
    assert [(row["id"], row["level"]) for row in rows()] == list(standard().items())


@pytest.mark.parametrize("row", rows(), ids=[row["id"] for row in rows()])
def test_each_names_a_test_that_is_there_or_says_why(row: dict[str, str]) -> None:
    """No blank: a test of the suite that runs by itself, a reason that says something, or a
    deviation with what stands in for it.
    """
    assert len(row["words"]) >= 4
    assert row["kind"] in ("test", "reason", "deviation")
    if row["kind"] == "test":
        file, _, name = row["what"].partition("::")
        assert file.startswith("tests/"), row
        assert name in names_in(file), row
    else:
        assert len(row["what"]) >= (LEAST_REASON if row["kind"] == "reason" else LEAST_DEVIATION), (
            row
        )
        assert row["what"][0].isupper(), row
        assert row["what"].endswith("."), row
        for file in re.findall(r"tests/[\w/]+\.\w+", row["what"]):
            assert (CHECKOUT / file).is_file(), file


def test_a_test_that_is_left_out_of_the_ordinary_suite_proves_nothing() -> None:
    """None that the table names is marked slow or skipped."""
    for row in rows():
        if row["kind"] == "test":
            file, _, name = row["what"].partition("::")
            node = next(
                one
                for one in ast.parse((CHECKOUT / file).read_text(encoding="utf-8")).body
                if getattr(one, "name", "") == name
            )
            assert isinstance(node, ast.FunctionDef)
            marks = [ast.unparse(one) for one in node.decorator_list]
            assert not any("slow" in mark or "skip" in mark for mark in marks), row


def test_the_readme_counts_them_and_names_what_is_not_met() -> None:
    """The same counts as in the table, and every deviation with its words."""
    counts = Counter(row["kind"] for row in rows())
    said = f"All {len(rows())} requirements"
    assert said in SECTION
    assert (
        f"{counts['test']} by a test, {counts['reason']} by a reason, {counts['deviation']} not met"
        in SECTION
    )
    for row in rows():
        if row["kind"] == "deviation":
            assert (
                f"- **{row['id']}** ({row['words']}). {' '.join(row['what'].split())}" in SECTION
            ), row["id"]
    assert len(re.findall(r"- \*\*\d+\.\d+\.\d+\*\*", SECTION)) == counts["deviation"]


def minutes(span: object) -> int:
    return round(span.total_seconds() / 60)  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    "sentence",
    [
        (
            f"A passphrase has {passphrase_and_pin.LEAST_PASSPHRASE} to"
            f" {passphrase_and_pin.MOST_PASSPHRASE} characters of any kind"
        ),
        f"A PIN has {passphrase_and_pin.PIN_DIGITS} figures and counts on a phone of the shop only",
        f"a code good once, for {minutes(staff_phones.CODE_LIVES)} minutes",
        f"once, within {minutes(staff_first_run.LIVES) // 60} hour",
        (
            f"{staff_throttle.PASSPHRASE.free} wrong tries a person and"
            f" {staff_throttle.ADDRESS.free} an address are free, then waits of 1, 2, 4 … to"
            f" {staff_throttle.PASSPHRASE.most_s} seconds"
        ),
        (
            f"{sign_in.MOST_PIN_FAILURES} wrong PINs in a row strike the phone off;"
            " those of more than a day ago count no more;"
            f" {staff_throttle.LINK.free} wrong links a minute;"
            f" {staff_throttle.LINK_WRITES.free} forms an hour by one link"
        ),
        (
            f"A session ends after {minutes(sign_in.IDLE)} idle minutes and"
            f" {minutes(sign_in.SHIFT) // 60} hours at most"
        ),
        f"asks again after {minutes(sign_in.SAME_HANDS)} minutes",
        (
            f"at most {request_size.MOST_FIELDS} fields and {request_size.FORM_BYTES // 1024}"
            " KB a form"
        ),
        f"{photos.MOST_A_TICKET} photos a ticket",
        (
            f"at most {photos.MOST_BYTES // 1024**2} MB and {MOST_PIXELS // 10**6}"
            " megapixels unpacked"
        ),
        f"text, at most {paper_list_csv.MOST_LINES} lines",
        f"a PNG, at most {signature.MOST_CHARACTERS:,} characters",
        f"answers with {THREADS} threads",
        (
            f"{connection.HANDSHAKE_S} seconds for the handshake, {connection.HEAD_S} for head and"
            f" form, {connection.IDLE_S} idle; {server.OF_ADDRESS} connections an address and"
            f" {server.KEPT_OPEN} in all"
        ),
        f"past {server.BODY_BYTES // 1024**2} MB the program is not even asked",
        f"{passphrase_and_pin.AT_ONCE} at once and {passphrase_and_pin.MOST_WAITING} that wait",
        "Renew within 7 days what is known to be dangerous here, within 30 days other known faults",
    ],
)
def test_the_rules_that_are_written_down_are_those_of_the_program(sentence: str) -> None:
    """Each figure of the README's section is the program's own."""
    assert sentence in SECTION


def test_every_way_in_without_a_session_is_written_down() -> None:
    """Whatever opens to a stranger by the table of who may what is named in the section; nothing
    else does.
    """
    with (REFERENCE / "access.csv").open(encoding="utf-8", newline="") as file:
        open_to_all = {
            row["rule"]
            for row in csv.DictReader(file)
            if "in" in (row["stranger"], row["customer"])
        }
    assert len(open_to_all) > 10
    for rule in open_to_all:
        start = re.match(r"/(?:api/csrf|[^/<]+/?)", rule)
        assert start
        assert f"`{start.group(0)}" in SECTION, rule


@pytest.mark.usefixtures("real_hashes")
def test_every_key_and_algorithm_is_written_down() -> None:
    """Whatever the source takes from hashlib, hmac, ssl or cryptography is named, and the keys with
    their size.
    """
    used = set()
    for path in (CHECKOUT / "fitcounter").rglob("*.py"):
        text = path.read_text(encoding="utf-8")
        used |= set(re.findall(r"\bhashlib\.(\w+)", text)) | set(
            re.findall(r"\bhashes\.(\w+)\(", text)
        )
        used |= set(re.findall(r"ec\.(SECP\w+)", text))
        assert not re.search(r"\b((rsa|dsa)\.|(Fernet|AES|Cipher)\b)", text), path.name
    assert used == {"sha256", "scrypt", "SHA256", "SECP256R1"}
    for words in (
        "`secret_key`",
        "`csrf_key`",
        "256 bits",
        "ECDSA P-256 with SHA-256",
        f"`{passphrase_and_pin.POLICY}`",
        "HMAC-SHA-256",
        "itsdangerous",
    ):
        assert words in SECTION
    assert link_token.TOKEN_BYTES * 8 == 128


def test_every_table_has_its_class_of_data(store: Store) -> None:
    """Each table of the file is named in a class, or falls under the shop's; none is named that is
    not there.
    """
    classes = re.search(r"\*Secret\* \((.*?)\).*?\*Private\* \((.*?)\)", SECTION)
    assert classes
    secret, private = (set(re.findall(r"`(\w+)`", words)) for words in classes.groups())
    tables = set(integrity.tables(store))
    assert secret | private <= tables
    assert not secret & private
    holds = {
        table
        for table in tables
        if {"customer_id", "name", "phone", "note", "words", "said"} & set(columns(store, table))
    }
    assert {"customers", "photos", "consents", "leg_readings", "gap_readings", "drafts"} <= private
    assert holds - secret - private - SHOPS_WORDS == set()
    assert FOLDERS == ("photos", "signatures")
    assert drafts.KEEP_DAYS == 14


# A name or a note that is the shop's own: of a migration, a tree, a photo frame, about the work or
# the money; an erasure keeps an id and a day.
SHOPS_WORDS = {
    "_sqlite_migrations",
    "settings",
    "tickets",
    "audit",
    "tills",
    "items",
    "bookings",
    "payments",
    "trees",
    "erasures",
}


def columns(store: Store, table: str) -> list[str]:
    return [str(row["name"]) for row in store.rows(f'PRAGMA table_info("{table}")')]


def test_every_part_is_pinned_with_its_hash() -> None:
    """Each library that pyproject names stands in the pins, and every pin has an exact version and
    a SHA-256.
    """
    named = re.search(
        r"\ndependencies = \[(.*?)\]",
        (CHECKOUT / "pyproject.toml").read_text(encoding="utf-8"),
        re.DOTALL,
    )
    assert named
    wanted = {re.split(r"[<>=\[]", one)[0] for one in re.findall(r'"([^"]+)"', named.group(1))}
    pins = (CHECKOUT / "fitcounter" / "requirements.txt").read_text(encoding="utf-8")
    blocks = re.split(r"\n(?=[a-z0-9])", re.sub(r"^#.*\n", "", pins))
    held = {re.match(r"[\w.-]+", block).group(0).lower() for block in blocks if block.strip()}
    assert wanted <= held
    for block in blocks:
        assert re.match(r"[\w.-]+==\S+", block), block[:80]
        assert re.search(r"--hash=sha256:[0-9a-f]{64}", block), block[:80]


def test_the_policy_names_no_other_site() -> None:
    """Whatever a page loads is ours, so nothing is told to third parties."""
    assert not re.search(r"https?:|\*", POLICY)

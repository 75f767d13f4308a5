"""What the program never does, read from its source: run text as code, build a command, a query, a
pattern or a page out of what was typed.

The titles name the requirements of OWASP ASVS 5.0; tests/reference/asvs.csv leads here.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache

from support.paths import CHECKOUT

from fitcounter.store import database

NEVER_CALLED = {
    "eval",
    "exec",
    "compile",
    "__import__",
    "os.system",
    "os.popen",
    "os.execv",
    "os.spawnl",
    "render_template_string",
    "env.from_string",
    "hashlib.md5",
    "hashlib.sha1",
    "hashlib.new",
    "ssl._create_unverified_context",
    "tempfile.mktemp",
}
NEVER_IMPORTED = {
    "pickle",
    "marshal",
    "shelve",
    "yaml",
    "dill",
    "xml",
    "lxml",
    "xmlrpc",
    "ldap",
    "ldap3",
    "imaplib",
    "poplib",
    "ftplib",
    "telnetlib",
    "requests",
    "httpx",
    "urllib.request",
    "websockets",
    "graphql",
    "authlib",
    "jwt",
    "memcache",
    "redis",
    "logging.handlers",
}
# The parts that are put into a statement: names of tables and columns out of our own lists, marks,
# and halves of statements.
MARKS = re.compile(r"marks\([a-z_]+\)")  # of any values as many: ?, ?
OWN_NAMES = {
    "name",
    "names",
    "', '.join(names)",
    "', '.join('?' * len(names))",
    "table",
    "columns",
    "condition",
    "pragma",
    "held",
    "items",
    "sets",
    "where",
    "APPLICATION_ID",
    "_TICKETS",
    "', '.join(columns)",
    "_ROWS.get(name, '')",
    "_ROWS.get(table, '')",
    "', '.join(AUDITED)",
    "ids",
    "done",
    "finishing",
    "moments",
    "methods",
    "girth",
    "read",
    "theirs",
    # how a balance follows its lines and payments, and which tickets are asked for
    "event",
    "of",
    "row",
    "key",
    "signed",
    "all_of",
    "only",
    # a table made anew by a migration, put together from its own statement in the file's schema
    "body",
    "check",
    "column",
    "nothing",
    # the table of a queue, the marks of what a plan was reckoned from
    "self.table",
    "settings.STAMP",
    "outcomes.ROUNDS_STAMP",
    # what the rows of a table are ordered by: `integrity.in_order` quotes it
    "order",
    # customers whose name has all the words: the condition of the rarest, one more for each other
    "first",
    "also",
    # the owner's figures: a source out of a list, its parts constants of the module
    "_NAMED[source]",
    "_SECONDS.format(end='t.handed_over_at')",
    "_tax(_taxed('l.billed_at < ?1'))",
    "_tax(_taxed('l.billed_at < ?2'))",
    "_tax(_taxed('l.billed_at IS NOT NULL'))",
}
SQL = re.compile(
    r"^\s*(SELECT|INSERT|UPDATE|DELETE|PRAGMA|REPLACE|ALTER|CREATE|WITH|ATTACH|VACUUM)\b"
)


@cache
def sources() -> dict[str, ast.Module]:
    """File → what it says."""
    return {
        path.relative_to(CHECKOUT).as_posix(): ast.parse(path.read_text(encoding="utf-8"))
        for path in (CHECKOUT / "fitcounter").rglob("*.py")
    }


def calls() -> Iterator[tuple[str, str, ast.Call]]:
    """File, name as written, call."""
    for file, tree in sources().items():
        for node in ast.walk(tree):
            if isinstance(node, ast.Call):
                yield file, ast.unparse(node.func), node


def imported() -> Iterator[tuple[str, str]]:
    for file, tree in sources().items():
        for node in ast.walk(tree):
            if isinstance(node, ast.Import):
                yield from ((file, one.name) for one in node.names)
            elif isinstance(node, ast.ImportFrom) and node.module:
                yield from ((file, f"{node.module}.{one.name}") for one in node.names)
                yield file, node.module


def test_text_is_never_run_as_code_nor_a_page_made_of_it() -> None:
    """No eval, no exec, no template out of a text, no broken hash (1.3.2, 1.3.7, 11.4.1)."""
    assert [(file, name) for file, name, _ in calls() if name in NEVER_CALLED] == []


def test_nothing_is_imported_that_reads_objects_or_xml_or_reaches_out() -> None:
    """No pickle, no XML parser, no directory, cache or web client; Litestream's own socket, the
    owner's mail server and the services of phones that get messages are the three connections
    (1.3.6, 1.5.1, 1.5.2).
    """
    assert [
        (file, name)
        for file, name in imported()
        if name in NEVER_IMPORTED or name.split(".")[0] in NEVER_IMPORTED
    ] == []
    assert {file for file, name in imported() if name.split(".")[0] == "http"} == {
        "fitcounter/desk/messages/push_post.py",
        "fitcounter/serving/off_site_copy_follows_shop.py",
    }
    assert {file for file, name in imported() if name.split(".")[0] == "smtplib"} == {
        "fitcounter/desk/messages/mail_post.py"
    }


def test_a_command_is_a_list_and_no_shell_reads_it() -> None:
    """Every program that is started gets its arguments one by one (1.2.5)."""
    started = [
        (file, node)
        for file, name, node in calls()
        if name.startswith("subprocess.") and name.split(".")[1] in ("run", "Popen", "call")
    ]
    assert len(started) > 4
    for file, node in started:
        assert isinstance(node.args[0], ast.List | ast.Name), (file, ast.unparse(node))
        assert all(word.arg != "shell" for word in node.keywords), (file, ast.unparse(node))
    assert {file for file, _ in started} == {
        "fitcounter/cli/testing.py",
        "fitcounter/first_run/system_packages.py",
        "fitcounter/first_run/terminal_and_set_up_log.py",
        "fitcounter/papers/own_process.py",
        "fitcounter/serving/off_site_process.py",
        "fitcounter/serving/off_site_copy_follows_shop.py",
        "fitcounter/serving/off_site_place.py",
        "fitcounter/serving/systemd_service.py",
        "fitcounter/serving/stand_by_timer.py",
        "fitcounter/store/byte_search.py",
    }


def test_chance_that_must_not_be_guessed_comes_from_the_machine() -> None:
    """`random` is nowhere in the program; tokens are drawn by `secrets` (6.5.3, 7.2.3, 11.5.1)."""
    assert [file for file, name in imported() if name.split(".")[0] == "random"] == []
    drawn = {file for file, name, _ in calls() if name.startswith("secrets.token_")}
    assert {
        "fitcounter/desk/staff/sign_in.py",
        "fitcounter/desk/staff/phones.py",
        "fitcounter/settings.py",
    } <= drawn
    sizes = [
        node.args[0]
        for _, name, node in calls()
        if name in ("secrets.token_urlsafe", "secrets.token_hex", "secrets.token_bytes")
    ]
    assert all(isinstance(size, ast.Constant) for size in sizes)


def test_a_query_is_put_together_from_our_own_names_only() -> None:
    """Whatever stands in an f-string that is SQL is a name of our own lists; what was typed goes in
    as a parameter (1.2.4).
    """
    found = {
        (file, ast.unparse(part.value))
        for file, tree in sources().items()
        for node in ast.walk(tree)
        if isinstance(node, ast.JoinedStr)
        and isinstance(node.values[0], ast.Constant)
        and SQL.match(str(node.values[0].value))
        for part in node.values
        if isinstance(part, ast.FormattedValue)
    }
    assert len(found) > 10
    strange = {one for one in found if one[1] not in OWN_NAMES and not one[1].isupper()}
    assert {one for one in strange if not MARKS.fullmatch(one[1])} == set()
    assert database.marks(("x'; --", 2)) == "?, ?"
    assert {file.split("/")[1] for file, _ in found} == {"store"}


# Words of the catalogue, each escaped where it is joined, and a length of ours.
OF_ESCAPED_WORDS = {
    ("fitcounter/desk/intake/paper_list_words.py", text) for text in ("either", "between", "most")
}


def test_a_pattern_is_never_made_of_what_was_typed() -> None:
    """Each regular expression is a text of our own, or what goes into it is escaped or a constant
    (1.2.9).
    """
    strange = []
    for file, name, node in calls():
        if not re.fullmatch(
            r"re\.(compile|match|search|fullmatch|sub|split|findall|finditer)", name
        ):
            continue
        pattern = node.args[0]
        parts = pattern.values if isinstance(pattern, ast.JoinedStr) else [pattern]
        for part in parts:
            value = part.value if isinstance(part, ast.FormattedValue) else part
            text = ast.unparse(value)
            if not (
                isinstance(value, ast.Constant)
                or text.isupper()
                or text in ("''.join(_DRAWN)", "re.escape(word)")
                or (file, text) in OF_ESCAPED_WORDS
            ):
                strange.append((file, text))
    assert strange == []


def test_markup_is_made_of_constants_figures_and_what_was_escaped() -> None:
    """What is marked as safe is drawn or set by us; templates never say that a text is safe (1.1.2,
    1.2.1).
    """
    made = {file for file, name, _ in calls() if name.endswith("Markup")}
    assert made == {
        "fitcounter/web/forms/fields.py",
        "fitcounter/web/pages/drawings.py",
        "fitcounter/web/pages/filters.py",
        "fitcounter/web/pages/sentences.py",
        "fitcounter/papers/day_strip.py",
        "fitcounter/papers/guide.py",
        "fitcounter/web/shop/guide.py",
        "fitcounter/papers/saved_page.py",
        "fitcounter/papers/html.py",
        "fitcounter/papers/qr_code.py",
        "fitcounter/papers/bench_papers.py",
    }
    said_safe = [
        path.name
        for path in (CHECKOUT / "templates").rglob("*.*")
        if re.search(r"\|\s*safe\b|autoescape\s+false", path.read_text("utf-8"))
    ]
    assert said_safe == []

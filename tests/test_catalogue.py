"""The catalogue of sentences: what is found for it, and what stands outside."""

from __future__ import annotations

from pathlib import Path

import pytest
from support import catalogue


@pytest.mark.parametrize(
    ("template", "texts"),
    [
        ('<p>{{ _("Comes off {day}", day=day) }}</p>', []),
        ("<p>Comes off {{ day }} at noon</p>", ["Comes off", "at noon"]),
        ('<a aria-label="Undo" href="/undo">{{ n }}</a>', ["Undo"]),
        ('<style>b { color: red }</style><script>let a = "word"</script>', []),
        ("{# a remark #}<b>12</b> <i>x</i> {{ a }}/{{ b }}", []),
        ("{% block main_class %} wide{% endblock %}", []),
    ],
)
def test_text_outside_the_catalogue_is_found(template: str, texts: list[str]) -> None:
    assert catalogue.outside(template) == texts


def test_sentences_of_code_and_of_pages_are_found_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Also where a sentence is set in two strings, and not the key of a table."""
    monkeypatch.setattr(catalogue, "CHECKOUT", tmp_path)
    code, page = tmp_path / "a.py", tmp_path / "b.html"
    code.write_text('say("One, " "two")\nwords.say(NAMES["boot"])\nsay_n("a", "b", n)\n')
    page.write_text('{{ _("Three") }}{{ n_("{count} day", "{count} days", n) }}')

    assert [(one.text, one.many) for one in catalogue.sentences([code, page])] == [
        ("One, two", ""),
        ("a", "b"),
        ("Three", ""),
        ("{count} day", "{count} days"),
    ]


def test_every_sentence_names_the_values_it_puts_in() -> None:
    """A bare {} or a number says nothing to whoever translates it."""
    for one in catalogue.sentences(catalogue.code_and_pages()):
        assert "{}" not in one.text + one.many, f"{one.place}:{one.line}"
        assert "{0" not in one.text + one.many, f"{one.place}:{one.line}"


@pytest.mark.parametrize(
    ("code", "texts"),
    [
        ('raise BadInput("Type a name.")', ["Type a name."]),
        ('raise BadInput(f"{name} is no tree.")', [" is no tree."]),
        ('raise BadInput(say("Type a name."))', []),
        ('raise NotFound(message("{name} is no tree.", name=name))', []),
        ('raise ValueError("a moment needs its zone")', []),
        ('flash("Saved. Next: measure.")', ["Saved. Next: measure."]),
        ('print(f"{path}")', []),
    ],
)
def test_a_sentence_of_code_outside_the_catalogue_is_found(code: str, texts: list[str]) -> None:
    assert catalogue.outside_of_module(code) == texts


@pytest.mark.parametrize(
    ("script", "texts"),
    [
        ("said.textContent = 'All sent now';", ["All sent now"]),
        ("said.textContent = `No connection. ${n} waiting`;", ["No connection. ${n} waiting"]),
        ("say(form, `Not saved: ${names}`);", ["Not saved: ${names}"]),
        ("said.textContent = _('All sent now');", []),
        ("const AWAY = _(\n  'No connection here.'\n  + ' Try again.',\n);", []),
        ("// Where there is 'No connection yet', a remark", []),
        ("new Event('input', { bubbles: true })", []),
    ],
)
def test_a_sentence_of_a_script_outside_the_catalogue_is_found(
    script: str, texts: list[str]
) -> None:
    assert catalogue.outside_of_script(script) == texts


def test_sentences_of_scripts_are_found_in_their_pieces(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(catalogue, "CHECKOUT", tmp_path)
    script = tmp_path / "a.js"
    script.write_text("_('One');\nconst two = _(\n  'Two, '\n  + 'three.',\n);\n")

    assert [one.text for one in catalogue.sentences([script])] == ["One", "Two, three."]

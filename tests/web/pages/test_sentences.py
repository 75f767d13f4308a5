"""Sentences on pages, and those that a page brings along for its scripts."""

from __future__ import annotations

import json

from markupsafe import Markup

from fitcounter.desk.common.translation import Speech, speaking
from fitcounter.web.pages import sentences


def test_a_sentence_on_a_page_escapes_what_is_put_in_and_keeps_markup_of_ours() -> None:
    said = sentences.say_on_page(
        '{name} can\'t see {link} & "that".', name="<b>Ann</b>", link=Markup("<a>it</a>")
    )

    assert said == "&lt;b&gt;Ann&lt;/b&gt; can't see <a>it</a> &amp; &#34;that&#34;."


def test_a_page_says_a_number_of_things_in_its_form() -> None:
    def rounds(count: int) -> str:
        return sentences.say_n_on_page("{count} round", "{count} rounds", count)

    assert [rounds(1), rounds(3)] == ["1 round", "3 rounds"]


def test_an_english_page_brings_no_sentences_for_its_scripts() -> None:
    assert sentences.script_words() == ""


def test_a_spanish_page_brings_every_sentence_of_its_scripts() -> None:
    with speaking(Speech("es", "ES")):
        said = json.loads(sentences.script_words())

    assert list(said) == list(sentences.script_sentences())
    assert said["All sent"] == "Todo enviado"
    assert said["{count} waiting on this phone"] == "{count} en espera en este teléfono"

"""The owner's guide: a page a chapter, its pictures, and the PDF."""

from __future__ import annotations

from flask import render_template, url_for
from flask.typing import ResponseReturnValue
from markupsafe import Markup
from werkzeug.wrappers import Response

from fitcounter.desk.documents import guide as documents_guide
from fitcounter.web.auth.sign_in import bp
from fitcounter.web.guards.access import STAFF, allow, the_shop
from fitcounter.web.responses.pdf import printed

CHAPTER_NAMES = ", ".join(f"'{name}'" for name, _ in documents_guide.CHAPTERS)
PICTURE_NAMES = ", ".join(f"'{name}'" for name in documents_guide.PICTURES)
PICTURE = Markup('<img class="shot" width="240" height="520" loading="lazy" src="{}" alt="{}">')


def picture(name: str, words: str) -> Markup:
    """A picture of the guide in a page; words: what it shows, for whoever cannot see it."""
    return PICTURE.format(url_for("owner.guide_picture", name=name), words)


@bp.get("/guide")
@allow(*STAFF)
def guide() -> str:
    """What is in the guide."""
    return render_template("shop/guide.html", chapters=documents_guide.chapters())


@bp.get(f"/guide/<any({CHAPTER_NAMES}):chapter>")
@allow(*STAFF)
def guide_chapter(chapter: str) -> str:
    """One chapter."""
    title, following = documents_guide.chapter(chapter)
    return render_template(
        "shop/guide_chapter.html",
        chapter=chapter,
        title=title,
        following=following,
        picture=picture,
    )


@bp.get(f"/guide/pictures/<any({PICTURE_NAMES}):name>.webp")
@allow(*STAFF)
def guide_picture(name: str) -> Response:
    """A picture of the guide."""
    return Response(documents_guide.picture(name), mimetype="image/webp")


@bp.get("/guide.pdf")
@allow(*STAFF)
def guide_pdf() -> ResponseReturnValue:
    """The whole guide to print."""
    shop = the_shop()
    return printed(lambda _: documents_guide.guide_pdf(shop), "guide")

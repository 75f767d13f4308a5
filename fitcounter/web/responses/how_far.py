"""Long work that somebody waits for at a page.

The request waits a moment for it. What takes longer goes on in a thread of its own, and the browser
is sent to a page that says how far it is and refreshes itself, until it shows what the request
would have shown. It belongs to the session that asked for it and is forgotten a few minutes after
its end. A program (a script's fetch, a feed reader) asks for no page and waits to the end.
"""

from __future__ import annotations

import secrets
import threading
from collections.abc import Callable, Hashable
from concurrent.futures import Future, wait
from contextvars import copy_context
from dataclasses import dataclass, field
from functools import partial
from typing import Any, Generic, NamedTuple, TypeVar

from flask import (
    Blueprint,
    Flask,
    current_app,
    g,
    make_response,
    redirect,
    render_template,
    request,
    url_for,
)
from flask.typing import ResponseReturnValue
from werkzeug.datastructures import MultiDict

from fitcounter.desk.common.translation import say, told
from fitcounter.desk.shop import EachOpens, Store, told_to
from fitcounter.errors import NotFound, Unavailable
from fitcounter.web.guards import access
from fitcounter.web.guards.access import STAFF, allow, store
from fitcounter.web.pages.amounts import number, percent

PATIENCE_S = 1.0
LOOK_AGAIN_S = 2
KEPT_S = 300.0
MOST = 20
MOST_COUNTED = 1000  # rows and bytes are told in percent, sheets and jobs by number
T = TypeVar("T")

bp = Blueprint("how_far", __name__, url_prefix="/how-far")


@dataclass(eq=False)
class _Work(Generic[T]):
    """One piece of work. session_id, allowed: whose it is and who may ask for it. asked: what makes
    it the same work when it is asked for again. path, sent: the form it came with. then: what is
    shown of its end. stands: what is done, how much of it, and how much there is.
    """

    session_id: int
    allowed: tuple[str, ...]
    asked: Hashable
    path: str
    sent: MultiDict[str, str]
    then: Callable[[Callable[[], T]], ResponseReturnValue]
    stands: tuple[str, int, int] = ("", 0, 0)
    shown: tuple[bytes, int, dict[str, str]] | None = None
    end: Future[T] = field(default_factory=Future)

    def run(self, work: Callable[[Store], T], file: EachOpens) -> None:
        """With a connection of its own to the shop's file."""
        try:
            held = file.enter()
            try:
                with told_to(self._follow):
                    self.end.set_result(work(held))
            finally:
                file.leave(held)
        except BaseException as error:  # it is raised where its end is shown
            self.end.set_exception(error)

    def _follow(self, what: str, done: int, of: int) -> None:
        self.stands = (what, done, of)


class _Works:
    """All that is waited for, by a name of chance."""

    def __init__(self) -> None:
        self._guard = threading.Lock()
        self._by_token: dict[str, _Work[Any]] = {}

    def begin(self, new: _Work[T], run: Callable[[_Work[T]], None]) -> tuple[str, _Work[T]]:
        """The work, begun; or the same one where it is under way. Raises Unavailable."""
        with self._guard:
            for token, one in self._by_token.items():
                if not one.end.done() and one.asked == new.asked:
                    return token, one
            if sum(not one.end.done() for one in self._by_token.values()) >= MOST:
                raise Unavailable(say("Others are waiting too. Try again in a minute."))
            token = secrets.token_urlsafe(16)
            self._by_token[token] = new
        threading.Thread(target=run, args=(new,), name="long work", daemon=True).start()
        return token, new

    def get(self, token: str) -> _Work[Any] | None:
        return self._by_token.get(token)

    def forget(self, token: str) -> None:
        with self._guard:
            self._by_token.pop(token, None)

    def forget_later(self, token: str) -> None:
        late = threading.Timer(KEPT_S, self.forget, [token])
        late.daemon = True
        late.start()


def wire(app: Flask) -> None:
    app.extensions["long_work"] = _Works()


def answered(
    work: Callable[[Store], T],
    then: Callable[[Callable[[], T]], ResponseReturnValue],
    patience_s: float | None = None,
) -> ResponseReturnValue:
    """What `then` makes of the work's end, at once or on a page that waits for it.

    work: done with a connection of its own; it asks nothing of the request. then: given what
    returns the work's result, or raises what it raised; called in the request that shows it.
    patience_s: so long the request itself waits, None for as long as for most.
    """
    allowed = getattr(current_app.view_functions[str(request.endpoint)], "allowed", ())
    if "anyone" in allowed or "text/html" not in request.headers.get("Accept", ""):
        return then(partial(work, store()))
    works: _Works = current_app.extensions["long_work"]
    session_id: int = g.signed_in.session_id
    sent_as = request.form.get("submission_id") or secrets.token_hex(16)
    new = _Work(
        session_id,
        allowed,
        (session_id, request.full_path, sent_as if request.method == "POST" else ""),
        request.full_path.rstrip("?"),
        request.form,
        then,
    )
    file, context = current_app.config["SHOP_FILE"], copy_context()
    token, begun = works.begin(new, lambda one: context.run(one.run, work, file))
    wait([begun.end], PATIENCE_S if patience_s is None else patience_s)
    if not begun.end.done():
        begun.end.add_done_callback(lambda _: works.forget_later(token))
        return redirect(url_for("how_far.page", token=token), 303)
    works.forget(token)
    return then(begun.end.result)


@bp.get("/<token>")
@allow(*STAFF)
def page(token: str) -> ResponseReturnValue:
    """How far it is, or what came of it; ?take a file that is ready."""
    works: _Works = current_app.extensions["long_work"]
    work = works.get(token)
    if work is None or work.session_id != g.signed_in.session_id:
        raise NotFound(say("This is not under way any more. If it is not done, begin it again."))
    refused = access.refused(work.allowed)
    if refused is not None:
        return refused
    if not work.end.done():
        return render_template("how_far.html", stands=in_words(*work.stands), again_s=LOOK_AGAIN_S)
    g.sent, g.sent_to = work.sent, work.path
    return _shown(work, url_for(".page", token=token, take=1))


def _shown(work: _Work[Any], address: str) -> ResponseReturnValue:
    """What came of it, the same where it is looked at again; a file by a page that has its
    address.
    """
    if work.shown is None:
        answer = make_response(work.then(work.end.result))
        if answer.headers.get("Content-Disposition", "").startswith("attachment"):
            if "take" in request.args:
                return answer
            return render_template("how_far.html", ready=address)
        work.shown = answer.get_data(), answer.status_code, dict(answer.headers)
    return work.shown


class Progress(NamedTuple):
    """How far a work is, for a page. line: in words, with how much of it is done where that is
    counted.
    """

    line: str
    done: int
    of: int

    @property
    def counted(self) -> bool:
        return self.of > 1


def in_words(what: str, done: int, of: int) -> Progress:
    """What was told (how_far.Told); '' before anything was."""
    said = told(what) if what else say("Just begun")
    if of <= 1:
        return Progress(said, done, of)
    words = (
        percent(done / of)
        if of > MOST_COUNTED
        else say("{some} of {all}", some=number(done), all=number(of))
    )
    return Progress(f"{said}: {words}", done, of)

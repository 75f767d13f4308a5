"""A photo from the customer: kept with the ticket, seen before the shop answers, and nothing of a
stranger's is read.
"""

from __future__ import annotations

from io import BytesIO

import pytest
from PIL import Image
from support.cast import Counter
from support.ticket_rows import Job

from fitcounter.store import photos
from fitcounter.store.database import Store
from fitcounter.web.guards.request_size import FORM_BYTES


@pytest.fixture
def picture() -> bytes:
    """Larger than a form."""
    made = BytesIO()
    Image.effect_noise((400, 300), 90).save(made, "PNG")
    assert len(made.getvalue()) > FORM_BYTES
    return made.getvalue()


def send(customer: Counter, token: str, picture: bytes) -> tuple[int, str]:
    customer.get(f"/c/{token}")
    answer = customer.post(f"/c/{token}/photo", photo=(BytesIO(picture), "x.png"))
    return answer.status_code, answer.text


def test_the_shop_sees_the_photo_before_it_answers(
    stranger: Counter, owner: Counter, store: Store, job: Job, home: str, picture: bytes
) -> None:
    """The field stands on the page while boots are off; whoever answers has the photo before
    them.
    """
    assert "Send the photo" not in stranger.get(f"/c/{home}").text
    stranger.post(f"/c/{home}/not-right", felt="left-numb", said="numb at the calf")
    assert "Send the photo" in stranger.get(f"/c/{home}").text
    assert send(stranger, home, picture)[0] == 303
    assert "The shop has your photo." in stranger.get(f"/c/{home}").text
    (kept,) = photos.of_ticket(store, job.ticket_id)
    assert f"/photos/{kept.id}" in owner.get(f"/tickets/{job.ticket_id}/not-right").text
    assert stranger.get(f"/photos/{kept.id}").status_code in (303, 401), "it opens for staff alone"


@pytest.mark.parametrize("sent", [b"", b"no picture at all"])
def test_what_is_no_picture_is_asked_for_again(
    stranger: Counter, store: Store, job: Job, home: str, sent: bytes
) -> None:
    status, page = send(stranger, home, sent)
    assert status == 422
    assert "photo" in page
    assert photos.of_ticket(store, job.ticket_id) == []


def test_nothing_of_a_photo_by_a_dead_link_is_read(stranger: Counter, picture: bytes) -> None:
    assert send(stranger, "A" * 22, picture)[0] in (404, 413)

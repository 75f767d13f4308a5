"""The owner sees through whom messages go, and changes it."""

from __future__ import annotations

from support.cast import Counter

from fitcounter.desk.messages import push_allowed_services
from fitcounter.store.database import Store


def test_the_services_stand_there_with_their_sources_and_a_list_is_kept(somebody, store: Store):
    owner: Counter = somebody("OW")
    page = owner.get("/shop/push").text
    for host, source in push_allowed_services.KNOWN.items():
        assert host in page
        assert source in page
    assert "keep the page open, or set a kitchen timer" in page
    assert owner.post("/shop/push", hosts="push.example.org").status_code == 303
    assert push_allowed_services.of_shop(store).hosts == ("push.example.org",)


def test_a_name_inside_and_an_address_that_opens_nowhere_are_refused_with_what_was_typed(
    somebody, store: Store
):
    owner: Counter = somebody("OW")
    owner.get("/shop/push")
    for typed, said in (
        ({"hosts": "boots.local"}, "Type names like push.example.org"),
        ({"hosts": "push.example.org", "on": "y"}, "Phones outside the shop cannot open"),
    ):
        answer = owner.post("/shop/push", **typed)
        assert answer.status_code == 422
        assert said in answer.text
        assert typed["hosts"] in answer.text
    assert not push_allowed_services.of_shop(store).on

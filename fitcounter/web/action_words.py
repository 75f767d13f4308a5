"""What each form of the staff does, in words: for a page that sends one on.

Only what stands in WORDS is kept for later. What lets people in (people, phones, sessions,
passphrases), takes everything out or erases somebody is done by hand from its own page.
"""

from __future__ import annotations

from flask import Flask
from werkzeug.exceptions import HTTPException

WORDS = {
    "bench.add_away": "Add days away from the bench",
    "bench.add_slot": "Book trees for boots that are still at home",
    "bench.change_tree": "Change a tree",
    "bench.drop_away": "Remove days away from the bench",
    "bench.drop_slot": "Cancel a booking of trees",
    "bench.give_tags": "Make tags for the trees",
    "bench.hold": "Change how long a pair stays on the tree",
    "bench.measure_tree": "Save a reading of a tree",
    "bench.off": "Take boots off the tree",
    "bench.renew": "Make the bench plan again",
    "bench.strike_reading": "Remove a reading of a tree",
    "bench.tree_state": "Put a tree in repair, back in use, or retire it",
    "bench.tree_tag": "Give a tree a tag",
    "bench.trees": "Add a tree",
    "counter.agree": "Save price and agreement, and send to the bench",
    "counter.already_here": "Add a job that is in the shop already",
    "counter.call": "Save a call or a message",
    "counter.comes_twice": "Save that the rest will be picked up later",
    "counter.decline": "Give the boots back undone",
    "counter.details": "Change a customer's details",
    "counter.follow_up": "Save the answer of a follow-up",
    "counter.her_language": "Change the customer's language",
    "counter.measure": "Save measurements",
    "counter.new_job": "Open a ticket",
    "counter.new_link": "Make a new link for the customer",
    "counter.paper_list": "Show a list of paper jobs",
    "counter.put_paper_in": "Add the jobs of a paper list",
    "counter.take_link_back": "Close the customer's link",
    "counter.write_money": "Save a payment or refund",
    "items.incident": "Save what was told and agreed about damage",
    "items.new_tag": "Give an item a new tag",
    "items.retag_page": "Look at another tag",
    "items.retire_tag": "Retire a tag",
    "items.swap_tags": "Swap two tags",
    "items.take": "Save a bench step",
    "owner.leather": "Change the limits of a leather",
    "owner.shop_choices": "Change the shop's choices",
    "papers.shelf": "Make numbered tags",
    "photos.erase": "Erase a photo",
    "pickup.come_back": "Save a comeback",
    "pickup.same_again": "Open a ticket for the same boots",
    "pickup.ticket": "Hand over",
    "pickup.tried_on": "Save how a boot fits",
    "pickup.tried_on_all": "Save how both boots fit",
}

BY_HAND_ALONE = {
    "owner.add_person": "",
}

FROM_ITS_OWN_PAGE = {
    "owner.confirm_clock": "Say that the machine's clock is right",
    "owner.end_mine": "End a session of yours",
    "owner.end_session": "End somebody's session",
    "owner.erase_customer": "Erase a customer",
    "owner.leave": "Let somebody leave the shop, or come back",
    "owner.me": "Change your passphrase or PIN",
    "owner.new_passphrase": "Change somebody's passphrase",
    "owner.new_phone": "Take in a phone of the shop",
    "owner.new_pin": "Change somebody's PIN",
    "owner.person": "Change who somebody is in the shop",
    "owner.retire_phone": "Retire a phone of the shop",
    "owner.staff": "Add somebody to the shop's people",
    "owner.take_everything": "Take out everything the shop holds",
    "photos.of_item": "Add photos",
    "photos.of_new_job": "Add photos",
    "photos.of_ticket": "Add photos",
}


def action_words(app: Flask, path: str) -> str:
    """What a form sent to this path does, such as "Save a bench step: take off"; '' for one that no
    page of the staff sends.
    """
    try:
        endpoint, values = app.url_map.bind("localhost").match(path.partition("?")[0], "POST")
    except HTTPException:
        return ""
    words = WORDS.get(str(endpoint)) or FROM_ITS_OWN_PAGE.get(str(endpoint), "")
    step = str(values.get("step", "")).replace("-", " ")
    return f"{words}: {step}" if words and step else words

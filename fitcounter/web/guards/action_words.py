"""What each form of the staff does, in words: for a page that sends one on.

Only what stands in WORDS is kept for later. What lets people in (people, phones, sessions,
passphrases), takes everything out or erases somebody is done by hand from its own page.
"""

from __future__ import annotations

from flask import Flask
from werkzeug.exceptions import HTTPException

from fitcounter.desk.common.translation import marked, say

WORDS = {
    "bench.add_away": marked("Add days away from the bench"),
    "bench.add_slot": marked("Book trees for boots that are still at home"),
    "bench.change_tree": marked("Change a tree"),
    "bench.drop_away": marked("Remove days away from the bench"),
    "bench.drop_slot": marked("Cancel a booking of trees"),
    "bench.give_tags": marked("Make tags for the trees"),
    "bench.hold": marked("Change how long a pair stays on the tree"),
    "bench.measure_tree": marked("Save a reading of a tree"),
    "bench.off": marked("Take boots off the tree"),
    "bench.renew": marked("Renew the bench plan"),
    "bench.strike_reading": marked("Remove a reading of a tree"),
    "bench.tree_state": marked("Put a tree in repair, back in use, or retire it"),
    "bench.tree_tag": marked("Give a tree a tag"),
    "bench.trees": marked("Add a tree"),
    "counter.agree": marked("Save price and agreement, and send to the bench"),
    "counter.keep_days": marked("Keep trees for a job that was asked about"),
    "counter.add_work": marked("Add work on items that are here"),
    "counter.already_here": marked("Add a job that is in the shop already"),
    "counter.cancel": marked("Cancel a job"),
    "counter.change_price": marked("Change the price"),
    "counter.call": marked("Save a call or a message"),
    "counter.comes_twice": marked("Save that the rest will be picked up later"),
    "counter.decline": marked("Give the boots back undone"),
    "counter.choose_instead": marked("Choose what is done in place of stretching"),
    "counter.details": marked("Change a customer’s details"),
    "counter.drop_work": marked("Take work off a ticket"),
    "counter.follow_up": marked("Save what the customer said at a follow-up"),
    "counter.her_language": marked("Change the customer’s language"),
    "counter.mail_wish": marked("Stop a customer’s e-mails, or send them again"),
    "counter.measure": marked("Save measurements"),
    "counter.merge": marked("Make two entries of a customer one"),
    "counter.new_job": marked("Open a ticket"),
    "counter.new_link": marked("Make a new link for the customer"),
    "counter.not_right_answer": marked("Answer what does not feel right"),
    "counter.paper_list": marked("Show a list of paper jobs"),
    "counter.put_paper_in": marked("Add the jobs of a paper list"),
    "counter.take_link_back": marked("Close the customer’s link"),
    "counter.undo_cancel": marked("Undo a cancellation"),
    "counter.undo_merge": marked("Make two customers of one again"),
    "counter.write_money": marked("Save a payment or refund"),
    "items.incident": marked("Save what was said and agreed about damage"),
    "items.new_tag": marked("Give an item a new tag"),
    "items.retag_page": marked("Check another tag"),
    "items.retire_tag": marked("Retire a tag"),
    "items.swap_tags": marked("Swap two tags"),
    "items.take": marked("Save a bench step"),
    "items.work_line": marked("Save work on an item"),
    "owner.close_holidays": marked("Close the shop on public holidays"),
    "owner.leather": marked("Change the limits of a leather"),
    "owner.price_entry": marked("Change the price list"),
    "owner.shop_choices": marked("Change the settings"),
    "owner.till": marked("Close the till"),
    "papers.shelf": marked("Make numbered tags"),
    "photos.erase": marked("Erase a photo"),
    "pickup.come_back": marked("Save a comeback"),
    "pickup.same_again": marked("Open a ticket for the same boots"),
    "pickup.ticket": marked("Hand over"),
    "pickup.tried_on": marked("Save how a boot fits"),
    "pickup.tried_on_all": marked("Save how both boots fit"),
}

BY_HAND_ALONE = {
    "owner.add_person": "",
}

FROM_ITS_OWN_PAGE = {
    "owner.confirm_clock": marked("Say that this computer’s clock is right"),
    "owner.end_mine": marked("Sign out one of your devices"),
    "owner.end_session": marked("Sign out somebody’s device"),
    "owner.erase_customer": marked("Erase a customer"),
    "owner.give_up_off_site": marked("Give up the off-site copy"),
    "owner.leave": marked("Remove somebody from the shop, or let them sign in again"),
    "owner.mail": marked("Change the mail account"),
    "owner.mail_test": marked("Send a test e-mail"),
    "owner.me": marked("Change your passphrase or PIN"),
    "owner.my_language": marked("Change the language of your pages"),
    "owner.new_passphrase": marked("Change somebody’s passphrase"),
    "owner.new_phone": marked("Add a shop phone"),
    "owner.new_pin": marked("Change somebody’s PIN"),
    "owner.person": marked("Change somebody’s name, initials or role"),
    "owner.ask_push": marked("Get messages on this phone"),
    "owner.end_push": marked("Get no more messages on phones"),
    "owner.push": marked("Change which messages go to phones"),
    "owner.retire_phone": marked("Remove a shop phone"),
    "owner.set_up_off_site": marked("Change where the off-site copy goes"),
    "owner.staff": marked("Add a person to the shop"),
    "owner.take_everything": marked("Download the whole shop"),
    "photos.of_item": marked("Add photos"),
    "photos.of_new_job": marked("Add photos"),
    "photos.of_ticket": marked("Add photos"),
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
    if not words:
        return ""
    return say("{action}: {step}", action=say(words), step=step) if step else say(words)

"""Every module with views, and the blueprints they belong to."""

from __future__ import annotations

from fitcounter.web import app_shell, held_forms, how_far, photos
from fitcounter.web.auth import first_run as auth_first_run
from fitcounter.web.auth import me as auth_me
from fitcounter.web.auth import push as auth_push
from fitcounter.web.auth import sign_in as auth_sign_in
from fitcounter.web.bench import board as bench_board
from fitcounter.web.bench import plan as bench_plan
from fitcounter.web.bench import trees as bench_trees
from fitcounter.web.counter import agree as counter_agree
from fitcounter.web.counter import cancel as counter_cancel
from fitcounter.web.counter import customer_details as counter_customer_details
from fitcounter.web.counter import customer_link as counter_customer_link
from fitcounter.web.counter import customer_merge as counter_customer_merge
from fitcounter.web.counter import in_progress as counter_in_progress
from fitcounter.web.counter import measure as counter_measure
from fitcounter.web.counter import new_job as counter_new_job
from fitcounter.web.counter import not_right as counter_not_right
from fitcounter.web.counter import paper_import as counter_paper_import
from fitcounter.web.counter import price as counter_price
from fitcounter.web.counter import promise as counter_promise
from fitcounter.web.counter import ticket as counter_ticket
from fitcounter.web.counter import today as counter_today
from fitcounter.web.counter import verdict as counter_verdict
from fitcounter.web.counter import work as counter_work
from fitcounter.web.customer import agreed as customer_agreed
from fitcounter.web.customer import by_code as customer_by_code
from fitcounter.web.customer import feed as customer_feed
from fitcounter.web.customer import mail_stop as customer_mail_stop
from fitcounter.web.customer import page as customer_page
from fitcounter.web.customer import photo as customer_photo
from fitcounter.web.customer import push as customer_push
from fitcounter.web.customer import sharing as customer_sharing
from fitcounter.web.customer import shell as customer_shell
from fitcounter.web.customer import wearing as customer_wearing
from fitcounter.web.documents import bench as documents_bench
from fitcounter.web.documents import shop as documents_shop
from fitcounter.web.documents import ticket as documents_ticket
from fitcounter.web.items import incidents as items_incidents
from fitcounter.web.items import item as items_item
from fitcounter.web.items import retag as items_retag
from fitcounter.web.items import work as items_work
from fitcounter.web.pickup import comeback as pickup_comeback
from fitcounter.web.pickup import pickup as pickup_pickup
from fitcounter.web.shop import book as shop_book
from fitcounter.web.shop import choices as shop_choices
from fitcounter.web.shop import closings as shop_closings
from fitcounter.web.shop import customers as shop_customers
from fitcounter.web.shop import figures as shop_figures
from fitcounter.web.shop import guide as shop_guide
from fitcounter.web.shop import income as shop_income
from fitcounter.web.shop import leather_limits as shop_leather_limits
from fitcounter.web.shop import mail as shop_mail
from fitcounter.web.shop import off_site as shop_off_site
from fitcounter.web.shop import people as shop_people
from fitcounter.web.shop import phones as shop_phones
from fitcounter.web.shop import price_list as shop_price_list
from fitcounter.web.shop import push as shop_push
from fitcounter.web.shop import till as shop_till

VIEWS = (
    app_shell,
    auth_first_run,
    auth_me,
    auth_push,
    auth_sign_in,
    bench_board,
    bench_plan,
    bench_trees,
    counter_agree,
    counter_cancel,
    counter_customer_details,
    counter_customer_link,
    counter_customer_merge,
    counter_in_progress,
    counter_measure,
    counter_new_job,
    counter_not_right,
    counter_paper_import,
    counter_price,
    counter_promise,
    counter_ticket,
    counter_today,
    counter_verdict,
    counter_work,
    customer_agreed,
    customer_by_code,
    customer_feed,
    customer_mail_stop,
    customer_page,
    customer_photo,
    customer_push,
    customer_sharing,
    customer_shell,
    customer_wearing,
    documents_bench,
    documents_shop,
    documents_ticket,
    held_forms,
    how_far,
    items_incidents,
    items_item,
    items_retag,
    items_work,
    photos,
    pickup_comeback,
    pickup_pickup,
    shop_book,
    shop_choices,
    shop_customers,
    shop_figures,
    shop_guide,
    shop_income,
    shop_closings,
    shop_leather_limits,
    shop_mail,
    shop_off_site,
    shop_people,
    shop_phones,
    shop_price_list,
    shop_push,
    shop_till,
)
BLUEPRINTS = (
    *dict.fromkeys(module.bp for module in VIEWS),
    customer_sharing.look_bp,
)

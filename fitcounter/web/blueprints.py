"""Every module with views, and the blueprints they belong to."""

from __future__ import annotations

from fitcounter.web.auth import first_run as auth_first_run
from fitcounter.web.auth import me as auth_me
from fitcounter.web.auth import push as auth_push
from fitcounter.web.auth import sign_in as auth_sign_in
from fitcounter.web.bench import board as bench_board
from fitcounter.web.bench import plan as bench_plan
from fitcounter.web.bench import trees as bench_trees
from fitcounter.web.book import estimate_and_result as book_estimate_and_result
from fitcounter.web.book import income_by_day as book_income_by_day
from fitcounter.web.book import month_figures as book_month_figures
from fitcounter.web.counter import agree as counter_agree
from fitcounter.web.counter import calls as counter_calls
from fitcounter.web.counter import can_it_be_done, half_done_paper_job
from fitcounter.web.counter import can_promise as counter_can_promise
from fitcounter.web.counter import cancel as counter_cancel
from fitcounter.web.counter import customer_details as counter_customer_details
from fitcounter.web.counter import customer_link as counter_customer_link
from fitcounter.web.counter import customer_merge as counter_customer_merge
from fitcounter.web.counter import measure as counter_measure
from fitcounter.web.counter import more_work as counter_more_work
from fitcounter.web.counter import new_job as counter_new_job
from fitcounter.web.counter import not_right as counter_not_right
from fitcounter.web.counter import paper_list as counter_paper_list
from fitcounter.web.counter import price_change as counter_price_change
from fitcounter.web.counter import ticket as counter_ticket
from fitcounter.web.counter import today as counter_today
from fitcounter.web.customer import agreed as customer_agreed
from fitcounter.web.customer import by_code as customer_by_code
from fitcounter.web.customer import calendar_feed
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
from fitcounter.web.forms import signed_out_forms as forms_signed_out_forms
from fitcounter.web.items import incidents as items_incidents
from fitcounter.web.items import item as items_item
from fitcounter.web.items import other_work as items_other_work
from fitcounter.web.items import photos as items_photos
from fitcounter.web.items import tag_replaced_or_swapped as items_tag_replaced
from fitcounter.web.offline import app_shell as offline_app_shell
from fitcounter.web.pickup import comeback as pickup_comeback
from fitcounter.web.pickup import pickup as pickup_pickup
from fitcounter.web.responses import how_far
from fitcounter.web.shop import closings as shop_closings
from fitcounter.web.shop import customers as shop_customers
from fitcounter.web.shop import guide as shop_guide
from fitcounter.web.shop import handbook as shop_handbook
from fitcounter.web.shop import health as shop_health
from fitcounter.web.shop import leather_limits as shop_leather_limits
from fitcounter.web.shop import mail as shop_mail
from fitcounter.web.shop import off_site as shop_off_site
from fitcounter.web.shop import people as shop_people
from fitcounter.web.shop import phones as shop_phones
from fitcounter.web.shop import price_list as shop_price_list
from fitcounter.web.shop import push as shop_push
from fitcounter.web.shop import settings as shop_settings
from fitcounter.web.shop import till as shop_till
from fitcounter.web.shop import whole_shop as shop_whole_shop

VIEWS = (
    auth_first_run,
    auth_me,
    auth_push,
    auth_sign_in,
    bench_board,
    bench_plan,
    bench_trees,
    book_estimate_and_result,
    book_income_by_day,
    book_month_figures,
    counter_agree,
    half_done_paper_job,
    counter_calls,
    counter_can_promise,
    counter_cancel,
    counter_customer_details,
    counter_customer_link,
    counter_customer_merge,
    counter_measure,
    counter_more_work,
    counter_new_job,
    counter_not_right,
    counter_paper_list,
    counter_price_change,
    counter_ticket,
    counter_today,
    can_it_be_done,
    customer_agreed,
    customer_by_code,
    calendar_feed,
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
    how_far,
    items_incidents,
    items_item,
    items_other_work,
    items_photos,
    items_tag_replaced,
    offline_app_shell,
    pickup_comeback,
    pickup_pickup,
    shop_closings,
    shop_customers,
    shop_guide,
    shop_handbook,
    shop_health,
    shop_leather_limits,
    shop_mail,
    shop_off_site,
    shop_people,
    shop_phones,
    shop_price_list,
    shop_push,
    shop_settings,
    shop_till,
    shop_whole_shop,
    forms_signed_out_forms,
)
BLUEPRINTS = (
    *dict.fromkeys(module.bp for module in VIEWS),
    customer_sharing.look_bp,
)

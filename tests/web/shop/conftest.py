"""A phone of the shop, and a PIN for everybody."""

from __future__ import annotations

import pytest
from flask import Flask
from support.cast import Counter
from support.shop_phone import give_pins, opened, taken_in

from fitcounter.desk.shop import Store


@pytest.fixture
def pins(store: Store) -> None:
    give_pins(store)


@pytest.fixture
def phone(app: Flask, owner: Counter, pins: None) -> Counter:
    return opened(taken_in(app, owner))

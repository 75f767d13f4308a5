"""What a device calls itself, in a few words for the list of sessions: never more than browser and
system.
"""

from __future__ import annotations

# First match wins: many browsers also name the ones they descend from.
_BROWSERS = (
    ("Edg", "Edge"),
    ("OPR/", "Opera"),
    ("SamsungBrowser", "Samsung Internet"),
    ("Firefox", "Firefox"),
    ("FxiOS", "Firefox"),
    ("CriOS", "Chrome"),
    ("Chrom", "Chrome"),
    ("Safari", "Safari"),
)
_SYSTEMS = (
    ("iPhone", "iPhone"),
    ("iPad", "iPad"),
    ("Android", "Android"),
    ("Windows", "Windows"),
    ("Mac OS", "a Mac"),
    ("Linux", "Linux"),
)


def device_words(user_agent: str) -> str:
    """Such as "Chrome on Android"; "some device" where it does not say."""
    browser = next((words for mark, words in _BROWSERS if mark in user_agent), "")
    system = next((words for mark, words in _SYSTEMS if mark in user_agent), "")
    return " on ".join(one for one in (browser, system) if one) or "some device"

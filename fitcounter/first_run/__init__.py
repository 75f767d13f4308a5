"""The set-up on a machine that has only Python 3 and the checkout: standard library alone, nothing
else of ours.

It makes a virtual environment with the pinned packages, fetches by apt-get what Python packages
cannot bring (PEP 668 keeps pip away from the system's own Python), leaves a stamp, and starts the
command again inside. Later starts only read the stamp. A program that pip installed into an
environment runs in that one, and nothing is set up for it.
"""

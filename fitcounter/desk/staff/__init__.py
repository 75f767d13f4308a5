"""The shop's people, phones, secrets and sign-in."""

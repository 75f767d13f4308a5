"""Can it be done, at what price, by when: the answer, the offer, and the agreement."""

"""The shop's trees: what they measure, which one serves a boot, what is booked on them."""

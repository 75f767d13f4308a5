"""Who may open what, whose hands hold the phone, and how often and how much may be sent."""

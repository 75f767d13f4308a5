"""The counter's pages: Today, New job, Measure, Can it be done?, Agree, the ticket."""

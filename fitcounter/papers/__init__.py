"""The only room that knows QR codes, PDF and iCalendar: a record in, bytes out."""

"""When: days, hours, spans of time and what comes again, in the forms in which volunteers write them."""

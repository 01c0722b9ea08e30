"""Says in words what was found out: of taped sheets and of printers; for the commands and the page alike."""

"""Documents as read in; Processes or faults out. Structure first, then meaning, then the set."""

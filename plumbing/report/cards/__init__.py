"""Cards for the bench and the flight line: what to do, what to expect, room for what was found."""

"""The steady state between the rolls: spans, contacts, what is held, and the roots that find it."""

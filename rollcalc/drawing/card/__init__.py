"""The setup card: a plan on one page, to take to the machine."""

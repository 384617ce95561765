"""Pictures of the machine and of stock in it."""

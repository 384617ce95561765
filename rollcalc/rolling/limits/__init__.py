"""What may be rolled: each check, how far the rolls reach, and the verdict."""

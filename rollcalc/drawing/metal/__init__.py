"""Pictures of what the metal does."""

"""Pictures of passes, of a ring's ends and of rolls that are not parallel."""

"""The problems of the lessons, one module for each lesson: `PROBLEMS` holds them in order."""

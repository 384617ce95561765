"""Patterns at true size: pictures of them, and files to print and to cut by."""

"""The documentation, and what makes the generated part of it."""

"""Winters, heat and frost."""

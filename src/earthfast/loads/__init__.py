"""Loads that stand or roll on the paving."""

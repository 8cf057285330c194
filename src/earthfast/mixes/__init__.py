"""Binder, water, strength and age of treated soil."""

"""Earthfast: what goes between paving and the natural ground, decided, built and checked."""

__version__ = "0.1.0"

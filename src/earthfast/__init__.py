"""Earthfast: what goes between paving and the natural ground, decided, built and checked."""

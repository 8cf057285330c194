"""Layered elasticity, slabs on ground."""

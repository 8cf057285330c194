"""Soil groups, strength, stiffness and moisture of the natural ground."""

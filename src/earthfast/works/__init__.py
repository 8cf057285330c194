"""Quantities, price, carbon, levels, bays, programme, acceptance."""

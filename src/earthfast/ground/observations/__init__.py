"""The kinds of observation; importing this package registers them all."""

from earthfast.ground.observations import density, feel, laboratory, look_and_smell, place, strength, water

__all__ = ["density", "feel", "laboratory", "look_and_smell", "place", "strength", "water"]

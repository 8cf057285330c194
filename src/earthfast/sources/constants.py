"""Physical constants that several floors use."""

WATER_DENSITY = 1000.0  # kg/m³, to 0.1 % from 0 to 15 °C

"""Ways of building, generated, checked and ranked."""

"""Speed, each measured against a plain reference or a stated budget; off by default."""

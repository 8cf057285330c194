"""Printed sheets, drawings and charts."""

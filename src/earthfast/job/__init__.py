"""The job document: fields, units, loading with located errors."""

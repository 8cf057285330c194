"""The day and the year, in seconds: every index here is a sum over daily means."""

DAY = 86400.0  # s
DAYS_OF_YEAR = 365  # the sheets' year has no leap day
YEAR = DAYS_OF_YEAR * DAY  # s

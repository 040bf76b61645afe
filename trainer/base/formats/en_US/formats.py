"""Dates with the month in words, so that no day is taken for a month; 3.5 and 1,000."""

DATE_FORMAT = "F j, Y"
SHORT_DATE_FORMAT = "M j, Y"
DATETIME_FORMAT = "F j, Y, g:i a"
SHORT_DATETIME_FORMAT = "M j, Y, g:i a"
YEAR_MONTH_FORMAT = "F Y"
MONTH_DAY_FORMAT = "F j"
TIME_FORMAT = "g:i a"
DECIMAL_SEPARATOR = "."
THOUSAND_SEPARATOR = ","
NUMBER_GROUPING = 3
FIRST_DAY_OF_WEEK = 0

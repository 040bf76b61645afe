"""Spanish of the United States: month in words after the day; 3.5 and 1,000."""

DATE_FORMAT = r"j \d\e F \d\e Y"
SHORT_DATE_FORMAT = "j M Y"
DATETIME_FORMAT = r"j \d\e F \d\e Y, g:i a"
SHORT_DATETIME_FORMAT = "j M Y, g:i a"
YEAR_MONTH_FORMAT = r"F \d\e Y"
MONTH_DAY_FORMAT = r"j \d\e F"
TIME_FORMAT = "g:i a"
DECIMAL_SEPARATOR = "."
THOUSAND_SEPARATOR = ","
NUMBER_GROUPING = 3
FIRST_DAY_OF_WEEK = 0

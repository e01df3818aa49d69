"""What is measured, not asserted: each module is a command that prints a table."""

import assistant  # noqa: F401 -- its one-thread setting must come before numpy

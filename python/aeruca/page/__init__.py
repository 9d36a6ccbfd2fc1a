"""`aeruca page`: fill in, assess and save a case in the browser, on one's own machine alone."""

"""A case in a workbook (.xlsx): read as the case file of the same, or written to fill in."""

"""From a file to a Schedule: any spreadsheet or text with a hole table, every row accounted for."""

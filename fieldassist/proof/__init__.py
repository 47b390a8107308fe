"""What an inspector runs, who trusts nobody: the record, the pages, the keys."""

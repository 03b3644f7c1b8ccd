"""The report of a check as a page: every shape of it but the plain text, which is `layout`."""

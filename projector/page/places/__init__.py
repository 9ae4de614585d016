"""The places of the page: what each shows, as values for its template."""

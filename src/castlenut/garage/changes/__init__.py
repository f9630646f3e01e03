"""Changes of the record, a module a group: each is first a draft, then saved."""

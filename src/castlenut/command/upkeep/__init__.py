"""The commands of upkeep: correcting and looking over the record, rules and settings."""

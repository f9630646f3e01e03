"""Rules as values, read from TOML, put in force and matched to components."""

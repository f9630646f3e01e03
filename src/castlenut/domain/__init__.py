"""The pure center: distance, rules, windows and what is due, with the working of each."""

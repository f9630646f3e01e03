"""Paper for the owner and the bench: due sheet, handover book, job card."""

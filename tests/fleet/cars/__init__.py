"""One car of the sample fleet a module, all of it invented."""

"""The feeds as they leave the program: into files, to published targets, over the network."""

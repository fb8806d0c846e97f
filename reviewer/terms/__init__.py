"""The shared words of the project, as frozen data. Nothing here reads a file, a clock or a float."""

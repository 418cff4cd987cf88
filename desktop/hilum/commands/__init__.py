"""The command-line face: parse, call a bench, print, exit code."""

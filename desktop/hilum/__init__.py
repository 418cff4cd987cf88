"""Hilum: a catalogue and label bench for the keeper of a community seed library."""

__version__ = "0.1.0"

"""The fixtures of the window serve here too: one real catalogue, one morning, someone who answers."""

from tests.window.conftest import answers, clock, empty_day

__all__ = ["answers", "clock", "empty_day"]

"""What the tests of the desk build on."""

from __future__ import annotations

from after_the_cut import after

__all__ = ["after"]

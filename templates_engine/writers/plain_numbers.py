"""Turns numbers into text as files hold them: no exponent, no trailing zeros, no minus zero."""

from __future__ import annotations

from functools import lru_cache


@lru_cache(maxsize=20_000)  # of a face's coordinates nine in ten have come before
def number(value: float, decimals: int = 6) -> str:
    """The number to so many decimals; raises ValueError for one that is not finite, which nothing shows."""
    text = f"{value:.{decimals}f}".rstrip("0").rstrip(".")
    if text[-1] in "nf":  # nan, inf: a sheet would silently lose the shape
        raise ValueError(f"a measure or a coordinate is {text}, which no file can hold")
    return "0" if text == "-0" else text

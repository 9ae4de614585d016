"""Light as numbers: linear shares of full light, and the values a screen shows for them (sRGB, IEC 61966-2-1)."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

Linear = NDArray[np.float32]
Bytes = NDArray[np.uint8]

_STEPS = 8192


@lru_cache(maxsize=1)
def _to_linear() -> Linear:
    value = np.arange(256) / 255.0
    return np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4).astype(np.float32)


@lru_cache(maxsize=1)
def _to_screen() -> Bytes:
    light = np.arange(_STEPS) / (_STEPS - 1)
    value = np.where(light <= 0.0031308, 12.92 * light, 1.055 * light ** (1 / 2.4) - 0.055)
    return np.rint(255 * value).astype(np.uint8)


def linear_of(values: Bytes) -> Linear:
    """Linear light of sRGB values 0..255, any shape."""
    return _to_linear()[values]


def screen_of(light: Linear) -> Bytes:
    """sRGB values 0..255 of linear light, any shape; above 1 it is full."""
    steps = np.minimum(light * np.float32(_STEPS - 1), np.float32(_STEPS - 1)).astype(np.int32)
    return _to_screen()[steps]


def linear_of_hex(colour: str) -> Linear:
    """Linear light (3,) of a colour such as ``#5a6672``."""
    return linear_of(np.frombuffer(bytes.fromhex(colour.removeprefix("#")), np.uint8))

"""Short names for windows that a file, a journal and a person can all use, whatever the order of the windows."""

from __future__ import annotations

import unicodedata
from collections import Counter
from collections.abc import Iterable

NAMELESS = "window"


def slug(name: str) -> str:
    """The name in small letters with one hyphen between words; letters and digits of every script are kept."""
    plain = unicodedata.normalize("NFKC", name).casefold()
    kept = (letter if unicodedata.category(letter)[0] in "LMN" else " " for letter in plain)
    return "-".join("".join(kept).split()) or NAMELESS


def window_slugs(names: Iterable[str]) -> dict[str, str]:
    """A slug for every name, all different; names whose slugs are equal get a few figures drawn from the exact name.

    The answer does not depend on the order of the names. A name given twice counts once.
    """
    distinct = sorted(set(names))
    shared = Counter(slug(name) for name in distinct)
    for figures in range(4, 65):
        slugs = {name: slug(name) if shared[slug(name)] == 1 else _marked(name, figures) for name in distinct}
        if len(set(slugs.values())) == len(distinct):
            return slugs
    raise ValueError("two names give the same digest")


def _marked(name: str, figures: int) -> str:
    import hashlib  # of few jobs are two windows named almost alike

    return f"{slug(name)}-{hashlib.sha256(name.encode('utf-8', 'surrogatepass')).hexdigest()[:figures]}"

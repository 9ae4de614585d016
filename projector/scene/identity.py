"""Values known by being that one, so that what is made of them can be kept."""

from __future__ import annotations

from typing import Generic, TypeVar

from jobs.model.records import dataclass

T = TypeVar("T")


@dataclass(frozen=True, eq=False)
class ByIdentity(Generic[T]):
    """A frozen value told from others by identity: comparing a whole plan or scene takes longer than it would save."""

    value: T

    def __eq__(self, other: object) -> bool:
        return isinstance(other, ByIdentity) and other.value is self.value

    def __hash__(self) -> int:
        return id(self.value)

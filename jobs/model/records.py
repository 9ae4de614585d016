"""Data classes whose methods are compiled when they are first asked for.

The standard library compiles six methods for each data class while its module is imported, most of them for classes
that a command never makes. Here the standard library declares the fields, so that ``fields``, ``replace`` and matching
work as ever; ``__init__``, ``__hash__`` and comparisons are compiled at their first use, and from then on cost what
they always did. For a type checker it is the standard library's own ``dataclass``.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from dataclasses import MISSING, Field, FrozenInstanceError, fields
from reprlib import recursive_repr
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from dataclasses import dataclass
else:

    def dataclass(
        cls: type | None = None, /, *, frozen: bool = False, eq: bool = True, order: bool = False
    ) -> Callable[[type], type] | type:
        """As ``dataclasses.dataclass`` with these options; there are no others, and no field may be an ``InitVar``."""

        def declared(cls: type) -> type:
            return _declared(cls, frozen, eq, order)

        return declared if cls is None else declared(cls)


__all__ = ["dataclass"]

COMPARISONS = {"__eq__": "==", "__lt__": "<", "__le__": "<=", "__gt__": ">", "__ge__": ">="}


def _declared(cls: type, frozen: bool, eq: bool, order: bool) -> type:
    """The class with its fields known, and its methods still to be compiled."""
    if order and not eq:
        raise ValueError("eq must be true if order is true")
    # Without a docstring the standard library would read the signature for one, and that would compile ``__init__``.
    cls.__doc__ = cls.__doc__ or cls.__name__
    own = {name for name, value in cls.__dict__.items() if (name, value) != ("__hash__", None)}
    dataclasses.dataclass(init=False, repr=False, eq=False)(cls)
    methods: dict[str, Any] = {"__init__": _Later(cls, "__init__", _init), "__repr__": _repr}
    if eq:
        methods["__hash__"] = _Later(cls, "__hash__", _hash) if frozen else None
        for name in COMPARISONS if order else ["__eq__"]:
            methods[name] = _Later(cls, name, _comparison)
    if frozen:
        methods["__setattr__"], methods["__delattr__"] = _frozen(cls)
    for name, method in methods.items():
        if name not in own:
            setattr(cls, name, method)
    return cls


class _Later:
    """A method that is not compiled yet: compiled, and put in its own place, when it is first looked up.

    Two threads may both come here; then it is compiled twice, and either is right.
    """

    __slots__ = ("cls", "compiled", "name")

    def __init__(self, cls: type, name: str, compiled: Callable[[type, str], Any]) -> None:
        self.cls = cls
        self.name = name
        self.compiled = compiled

    def __get__(self, one: object, owner: type) -> Any:
        method = self.compiled(self.cls, self.name)
        method.__qualname__ = f"{self.cls.__qualname__}.{self.name}"
        method.__module__ = self.cls.__module__
        setattr(self.cls, self.name, method)
        return method.__get__(one, owner)


def _init(cls: Any, name: str) -> Any:
    """``__init__``: each field set, in the order in which they are declared, then ``__post_init__`` called."""
    known: dict[str, Any] = {"_set": object.__setattr__, "_left_out": MISSING}
    values = [(field, *_value_of(field, known)) for field in fields(cls)]
    given = [(field.kw_only, f"{field.name}{default}") for field, _, default in values if field.init]
    by_place, by_name = ([one for kw_only, one in given if kw_only is only] for only in (False, True))
    body = [f"_set(self, {field.name!r}, {value})" for field, value, _ in values if value]
    if hasattr(cls, "__post_init__"):
        body.append("self.__post_init__()")
    method = _function(name, ["self", *by_place, *(["*", *by_name] if by_name else [])], body, known)
    method.__annotations__ = {field.name: field.type for field in fields(cls) if field.init} | {"return": None}
    return method


def _value_of(field: Field[Any], known: dict[str, Any]) -> tuple[str, str]:
    """What a field is set to, and its default among the arguments; what both need is added to ``known``."""
    own = f"_of_{field.name}"
    if field.default_factory is not MISSING:
        known[own] = field.default_factory
        made = f"{own}()"
        return (f"{made} if {field.name} is _left_out else {field.name}", "=_left_out") if field.init else (made, "")
    known[own] = field.default
    value = field.name if field.init else ""  # one that is not given stays what it is in the class
    return value, "" if field.default is MISSING else f"={own}"


def _comparison(cls: Any, name: str) -> Any:
    """A comparison of two of the very same class, field by field."""
    names = [field.name for field in fields(cls) if field.compare]
    same = f" return {_tuple('self', names)} {COMPARISONS[name]} {_tuple('other', names)}"
    body = ["if other.__class__ is self.__class__:", same, "return NotImplemented"]
    return _function(name, ["self", "other"], body, {})


def _hash(cls: Any, name: str) -> Any:
    names = [field.name for field in fields(cls) if (field.compare if field.hash is None else field.hash)]
    return _function(name, ["self"], [f"return hash({_tuple('self', names)})"], {})


def _tuple(of: str, names: list[str]) -> str:
    return f"({''.join(f'{of}.{name},' for name in names)})"


def _function(name: str, arguments: list[str], body: list[str], known: dict[str, Any]) -> Any:
    lines = "".join(f"\n {line}" for line in body or ["pass"])
    made: dict[str, Any] = {}
    exec(f"def {name}({', '.join(arguments)}):{lines}", known, made)
    return made[name]


@recursive_repr()
def _repr(self: Any) -> str:
    shown = ", ".join(f"{field.name}={getattr(self, field.name)!r}" for field in fields(self) if field.repr)
    return f"{self.__class__.__qualname__}({shown})"


def _frozen(cls: Any) -> tuple[Any, Any]:
    """What refuses to set and to take away a field; a class made of this one may have attributes of its own."""

    def set_attribute(self: Any, name: str, value: object) -> None:
        if type(self) is cls or name in cls.__dataclass_fields__:
            raise FrozenInstanceError(f"cannot assign to field {name!r}")
        super(cls, self).__setattr__(name, value)

    def delete_attribute(self: Any, name: str) -> None:
        if type(self) is cls or name in cls.__dataclass_fields__:
            raise FrozenInstanceError(f"cannot delete field {name!r}")
        super(cls, self).__delattr__(name)

    return set_attribute, delete_attribute

"""Data classes compiled at their first use behave as those of the standard library."""

from __future__ import annotations

import copy
import dataclasses
import inspect
import pickle
import subprocess
import sys
from collections.abc import Callable
from dataclasses import FrozenInstanceError, field, fields, is_dataclass, replace
from typing import Any, ClassVar

import pytest

from jobs.model import records
from jobs.model.records import _Later, dataclass

Make = Callable[..., Any]
MAKERS: list[Make] = [dataclasses.dataclass, dataclass]
both = pytest.mark.parametrize("make", MAKERS, ids=["standard", "later"])


def piece(make: Make) -> Any:
    """A class with a field of every kind that the program uses, made by either decorator."""

    class Piece:
        """A piece."""

        shop: ClassVar[str] = "ours"
        name: str
        length: int
        width: int = 54
        marks: list[int] = field(default_factory=list)
        note: str = field(default="none", compare=False, repr=False)
        area: int = field(init=False, default=0)
        tried: dict[str, int] = field(init=False, default_factory=dict, hash=False)
        weight: int = field(kw_only=True, default=7, metadata={"unit": "ounce"})

        def __post_init__(self) -> None:
            object.__setattr__(self, "area", self.length * self.width)

        @property
        def twice(self) -> int:
            return 2 * self.length

    return make(Piece)


def frozen(make: Make) -> Any:
    return piece(make(frozen=True))


def point(make: Make, **options: bool) -> Any:
    class Point:
        x: int
        y: tuple[int, ...] = ()

    return make(frozen=True, **options)(Point)


@dataclass(frozen=True)
class Kept:
    """Stands in the module, as what is pickled must."""

    x: int
    y: str = "b"


@dataclass(frozen=True)
class Seen:
    x: int
    y: str = "b"


@dataclass(frozen=True)
class Base:
    x: int


@dataclass(frozen=True)
class Above(Base):
    y: int = 2

    def __post_init__(self) -> None:
        if self.y < 0:
            raise ValueError("below nothing")


@both
def test_fields_are_set_by_place_by_name_and_from_their_defaults(make: Make) -> None:
    made = frozen(make)("blue", 3, marks=[1], weight=5)
    assert (made.name, made.length, made.width, made.marks, made.note) == ("blue", 3, 54, [1], "none")
    assert (made.area, made.tried, made.weight, made.shop, made.twice) == (162, {}, 5, "ours", 6)


@both
def test_what_a_default_factory_makes_is_made_for_each(make: Make) -> None:
    cls = frozen(make)
    assert cls("a", 1).marks is not cls("a", 1).marks
    assert cls("a", 1).tried is not cls("a", 1).tried


@both
@pytest.mark.parametrize(
    ("given", "named", "said"),
    [
        (("a",), {}, "missing 1 required positional argument: 'length'"),
        (("a", 1, 2, [], "", 6), {}, "takes from 3 to 6 positional arguments but 7 were given"),
        (("a", 1), {"depth": 2}, "unexpected keyword argument 'depth'"),
        (("a", 1), {"area": 2}, "unexpected keyword argument 'area'"),
        (("a", 1), {"name": "b"}, "multiple values for argument 'name'"),
    ],
)
def test_wrong_arguments_are_refused_in_the_same_words(
    make: Make, given: tuple[Any, ...], named: dict[str, Any], said: str
) -> None:
    cls = frozen(make)
    with pytest.raises(TypeError) as refused:
        cls(*given, **named)
    assert said in str(refused.value)
    assert str(refused.value).startswith(f"{cls.__qualname__}.__init__()")


def test_signature_and_fields_are_those_of_the_standard_library() -> None:
    standard, later = map(frozen, MAKERS)
    assert [(one.name, one.kind, one.annotation) for one in inspect.signature(later).parameters.values()] == [
        (one.name, one.kind, one.annotation) for one in inspect.signature(standard).parameters.values()
    ]
    assert later.__init__.__annotations__ == standard.__init__.__annotations__
    assert [(one.name, one.type, one.default, one.init) for one in fields(later)] == [
        (one.name, one.type, one.default, one.init) for one in fields(standard)
    ]
    assert fields(later)[-1].metadata == {"unit": "ounce"}
    assert later.__match_args__ == standard.__match_args__
    assert later.__doc__ == standard.__doc__ == "A piece."
    assert is_dataclass(later)
    assert later.width == standard.width == 54


@both
def test_repr_names_the_class_and_its_fields(make: Make) -> None:
    shown = repr(frozen(make)("a", 1))
    assert shown == ("piece.<locals>.Piece(name='a', length=1, width=54, marks=[], area=54, tried={}, weight=7)")


@both
def test_repr_of_what_holds_itself_ends(make: Make) -> None:
    made = frozen(make)("a", 1)
    made.marks.append(made)
    assert "marks=[...]" in repr(made)


@both
def test_equal_is_what_is_of_one_class_and_has_equal_fields(make: Make) -> None:
    cls = point(make)
    other = point(make)
    assert cls(1, (2,)) == cls(1, (2,))
    assert cls(1) != cls(2)
    assert cls(1) != other(1)
    assert cls(1).__eq__(1) is NotImplemented
    assert frozen(make)("a", 1).__eq__(3) is NotImplemented
    first = frozen(make)
    assert first("a", 1, note="x") == first("a", 1, note="y")


@both
def test_equal_values_have_one_hash(make: Make) -> None:
    cls = point(make)
    assert hash(cls(1, (2,))) == hash(cls(1, (2,))) == hash((1, (2,)))
    assert len({cls(1), cls(1), cls(2)}) == 2
    with pytest.raises(TypeError, match="unhashable type: 'list'"):
        hash(frozen(make)("a", 1))


@both
def test_what_can_be_changed_has_no_hash(make: Make) -> None:
    made = piece(make)("a", 1)
    made.length = 5
    assert (made.length, made.twice) == (5, 10)
    with pytest.raises(TypeError, match="unhashable type"):
        hash(made)


@both
def test_what_is_compared_by_identity_keeps_its_hash(make: Make) -> None:
    cls = point(make, eq=False)
    one = cls(1)
    assert one != cls(1)
    assert {one: 1}[one] == 1


@both
def test_what_has_an_order_is_sorted_field_by_field(make: Make) -> None:
    cls = point(make, order=True)
    assert sorted([cls(2), cls(1, (3,)), cls(1)]) == [cls(1), cls(1, (3,)), cls(2)]
    assert cls(1) < cls(2) <= cls(2)
    assert cls(2) > cls(1) >= cls(1)
    with pytest.raises(TypeError, match="not supported between"):
        assert cls(1) < 2
    with pytest.raises(TypeError, match="not supported between"):
        assert point(make)(1) < point(make)(2)
    with pytest.raises(ValueError, match="eq must be true if order is true"):
        point(make, order=True, eq=False)


@both
def test_nothing_frozen_is_changed(make: Make) -> None:
    made = frozen(make)("a", 1)
    with pytest.raises(FrozenInstanceError, match=r"^cannot assign to field 'name'$"):
        made.name = "b"
    with pytest.raises(FrozenInstanceError, match=r"^cannot assign to field 'other'$"):
        made.other = "b"
    with pytest.raises(FrozenInstanceError, match=r"^cannot delete field 'name'$"):
        del made.name
    assert made.name == "a"


@both
def test_a_plain_class_made_of_a_frozen_one_has_attributes_of_its_own(make: Make) -> None:
    class Wider(frozen(make)):  # type: ignore[misc]
        pass

    made = Wider("a", 1)
    made.other = 2
    assert made.other == 2
    del made.other
    assert not hasattr(made, "other")
    with pytest.raises(FrozenInstanceError, match="cannot assign to field 'name'"):
        made.name = "b"
    with pytest.raises(FrozenInstanceError, match="cannot delete field 'name'"):
        del made.name


@both
def test_replace_changes_a_copy(make: Make) -> None:
    made = frozen(make)("a", 1)
    changed = replace(made, length=2)
    assert (made.length, changed.length, changed.name, changed.area) == (1, 2, "a", 108)
    with pytest.raises(ValueError, match="area"):
        replace(made, area=2)
    with pytest.raises(TypeError, match="depth"):
        replace(made, depth=2)


@both
def test_a_class_made_of_another_has_the_fields_of_both(make: Make) -> None:
    class First:
        x: int
        y: int = 2

    class Second(make(frozen=True)(First)):  # type: ignore[misc]
        z: int = 3
        y: int = 5

    cls = make(frozen=True)(Second)
    made = cls(1)
    assert (made.x, made.y, made.z) == (1, 5, 3)
    assert repr(made).endswith("Second(x=1, y=5, z=3)")
    assert made == cls(1, 5, 3)
    assert made != Second.__mro__[1](1, 5)


@both
def test_methods_of_its_own_are_kept(make: Make) -> None:
    class Loose:
        x: str

        def __eq__(self, other: object) -> bool:
            return isinstance(other, Loose) and self.x.lower() == other.x.lower()

        def __hash__(self) -> int:
            return hash(self.x.lower())

        def __repr__(self) -> str:
            return f"about {self.x}"

    cls = make(frozen=True)(Loose)
    assert cls("A") == cls("a")
    assert len({cls("A"), cls("a")}) == 1
    assert repr(cls("A")) == "about A"


@both
def test_what_has_an_equality_and_no_hash_of_its_own_is_given_one_when_frozen(make: Make) -> None:
    class Loose:
        x: int

        def __eq__(self, other: object) -> bool:
            return isinstance(other, Loose) and self.x % 10 == other.x % 10

        __hash__: Any = None

    del Loose.__annotations__["__hash__"]
    assert hash(make(frozen=True)(Loose)(3)) == hash((3,))


@both
def test_a_default_that_can_be_changed_is_refused(make: Make) -> None:
    class Shared:
        marks: list[int] = []  # noqa: RUF012

    with pytest.raises(ValueError, match="use default_factory"):
        make(frozen=True)(Shared)


@both
def test_matching_takes_fields_by_place_and_by_name(make: Make) -> None:
    cls = point(make)
    match cls(1, (2,)):
        case cls(1, y=found):
            assert found == (2,)
        case other:
            pytest.fail(f"{other} did not match")


@both
def test_an_empty_class_has_one_value(make: Make) -> None:
    class Nothing:
        pass

    cls = make(frozen=True)(Nothing)
    assert cls() == cls()
    assert hash(cls()) == hash(())
    assert repr(cls()).endswith("Nothing()")


def test_copies_and_pickles_are_equal() -> None:
    one = Above(1, 3)
    assert pickle.loads(pickle.dumps(one)) == copy.deepcopy(one) == copy.copy(one) == one


def test_the_base_class_is_called_by_what_is_made_of_it() -> None:
    class Loud(Base):
        def __init__(self, x: int) -> None:
            super().__init__(2 * x)

    assert Loud(3).x == 6
    with pytest.raises(ValueError, match="below nothing"):
        Above(1, -1)


def test_what_comes_from_another_process_is_whole_before_any_was_made_here() -> None:
    """Of what is unpickled ``__init__`` was never called: equality, hash, matching and freezing must be there too."""
    text = pickle.dumps(Kept(1, "c"))
    program = (
        "import pickle, sys\n"
        f"one = pickle.loads({text!r})\n"
        "from tests.jobs.model.test_records import Kept\n"
        "match one:\n"
        "    case Kept(x, 'c'): print(x, hash(one) == hash((1, 'c')), one == Kept(1, 'c'), one)\n"
        "try:\n"
        "    one.x = 2\n"
        "except AttributeError as refused: print(refused)\n"
    )
    told = subprocess.run([sys.executable, "-c", program], check=True, capture_output=True, text=True).stdout
    assert told == "1 True True Kept(x=1, y='c')\ncannot assign to field 'x'\n"


def test_a_method_is_compiled_once_when_it_is_first_used() -> None:
    assert isinstance(Seen.__dict__["__init__"], _Later)
    assert isinstance(Seen.__dict__["__hash__"], _Later)
    one = Seen(1)
    assert inspect.isfunction(Seen.__dict__["__init__"])
    assert isinstance(Seen.__dict__["__hash__"], _Later)
    first = Seen.__dict__["__init__"]
    assert hash(one) == hash(Seen(1))
    assert Seen.__dict__["__init__"] is first
    assert inspect.isfunction(Seen.__dict__["__hash__"])


def test_two_threads_that_both_find_it_not_compiled_both_go_on() -> None:
    """The second has looked it up before the first put the compiled one in its place."""
    cls = point(dataclass)
    late = cls.__dict__["__init__"]
    made = cls(1)
    late.__get__(made, cls)(2)
    assert (made.x, cls(3).x) == (2, 3)


def test_there_are_no_options_beside_those_told() -> None:
    with pytest.raises(TypeError, match="slots"):
        records.dataclass(slots=True)(Base)

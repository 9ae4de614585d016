"""Templates filled in; every value is escaped except what this program drew itself."""

from __future__ import annotations

from functools import cache
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined, select_autoescape

from jobs.model.numbers import counted


@cache
def _environment() -> Environment:
    environment = Environment(
        loader=PackageLoader("projector.page"),
        autoescape=select_autoescape(default=True),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
    environment.filters["counted"] = counted
    return environment


def rendered(template: str, **values: Any) -> str:
    """The template with these values, as HTML."""
    return _environment().get_template(template).render(values)

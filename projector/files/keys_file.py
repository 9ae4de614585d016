"""A keys file: other keys for what can be asked at the table, checked so that a session can still be run."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import astuple
from pathlib import Path as FilePath

from jobs.io import values
from jobs.io.fields import Fields
from jobs.io.log import Log
from jobs.io.nodes import Node
from jobs.model.problems import Path
from jobs.model.records import dataclass
from projector.files import readers
from projector.files.codes import FileCode

KeyOf = Callable[[str], str | None]
"""The proper name of a key as somebody wrote it; None where there is no such key."""

MOST_KEYS = 20


@dataclass(frozen=True)
class Usual:
    """What a keys file starts from: the action of each key, every action there is, and those that must keep a key."""

    keys: Mapping[str, str]
    actions: Collection[str]
    needed: Collection[str]
    key_of: KeyOf


def read_keys(path: FilePath, usual: Usual) -> dict[str, str]:
    """The action of each key: as usual, but where the file names an action it has the keys of the file and no other.

    Raises FileRefused for an action or key that is not known, a key given to two actions, an action left without a key
    that the file does not itself put out of use, and a needed one put out of use.
    """
    return readers.read_file(path, lambda fields, log: _read(fields, usual))


def _read(fields: Fields, usual: Usual) -> dict[str, str]:
    def read(node: Node, path: Path, log: Log) -> dict[str, str]:
        return _remapped(Fields(node, path, log), usual)

    keys = fields.need("keys", read, dict(usual.keys))
    fields.close()
    return keys


def _remapped(fields: Fields, usual: Usual) -> dict[str, str]:
    given: dict[str, tuple[str, ...]] = {}
    listed = values.list_of(_key(usual.key_of), thing="key")
    for action in usual.actions:
        keys: tuple[str, ...] = fields.take(action, listed, ())
        if fields.has(action):
            given[action] = keys
    fields.close()
    owner = _owners(fields, given)
    kept = {key: action for key, action in usual.keys.items() if action not in given and key not in owner}
    _check_left(fields, usual, given, {**kept, **owner})
    # Keys of the file come first: they are the ones the person is told of.
    return {**owner, **kept}


def _owners(fields: Fields, given: Mapping[str, tuple[str, ...]]) -> dict[str, str]:
    owner: dict[str, str] = {}
    for action in sorted(given, key=lambda action: astuple(fields.place_of(action))):
        keys = given[action]
        if len(keys) > MOST_KEYS:
            fields.refuse(action, FileCode.TOO_MANY_KEYS, count=len(keys), most=MOST_KEYS)
        for key in keys:
            if key in owner:
                twice = owner[key] == action
                code = FileCode.KEY_GIVEN_TWICE if twice else FileCode.KEY_GIVEN_TO_OTHER
                fields.refuse(action, code, key_name=key, other=owner[key])
            owner[key] = action
    return owner


def _check_left(fields: Fields, usual: Usual, given: Mapping[str, tuple[str, ...]], keys: Mapping[str, str]) -> None:
    """Note the actions that no key would ask for any more."""
    for action in usual.actions:
        if action in keys.values() or not fields.sound(action):
            continue
        if action in given and action in usual.needed:
            fields.refuse(action, FileCode.ACTION_NEEDS_KEY)
        elif action not in given and action in usual.keys.values():
            lost = tuple(key for key, asked in usual.keys.items() if asked == action)
            needed = int(action in usual.needed)
            fields.refuse(keys.get(lost[0], ""), FileCode.ONLY_KEY_TAKEN, lost=lost, action=action, needed=needed)


def _key(key_of: KeyOf) -> values.Reader[str]:
    def read(node: Node, path: Path, log: Log) -> str:
        text = values.written(node, path, log, "key")
        name = key_of(text)
        if name is None:
            raise log.refuse(node.place, path, FileCode.NO_SUCH_KEY, text=text)
        return name

    return read

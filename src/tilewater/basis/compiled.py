# SPDX-License-Identifier: Apache-2.0
"""Compiled twins of plain functions: one source, read by people and by the compiler.

A kernel is a module whose name begins with an underscore and whose functions take and return plain
numbers, named tuples of them and arrays. `compiled` rebinds the functions that a kernel calls and
compiles the whole with numba; where numba is missing the plain function answers, slower. A door
may name a folder for what is compiled; inside it stands one folder for each state of the kernel
sources, so that an edited helper can never leave a stale result behind.
"""

import hashlib
import importlib.util
import sys
import types
from collections.abc import Callable, Iterator
from functools import cache
from importlib.metadata import version
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import Any, TypeVar, cast

F = TypeVar("F", bound=Callable[..., Any])

FLOORS = ("basis", "hydraulics", "hydrology", "nitrate", "practices")
"""Packages that a compiled kernel may come from."""

HOW = {"nogil": True, "fastmath": False, "error_model": "python", "_nrt": False}
"""How kernels are compiled; without `_nrt` nobody counts who holds an array."""

_folder: list[str] = []
_tell: list[Callable[[str], None]] = []
_in_line: set[Callable[..., Any]] = set()


def keep_compiled_in(folder: str, tell: Callable[[str], None] | None = None) -> None:
    """Name the folder that keeps what is compiled from one run to the next.

    Parameters
    ----------
    folder : str
        Any folder that may be written. [-]
    tell : callable or None
        Called once, with the folder of these sources, before anything is compiled or taken from
        there. [-]
    """
    _folder[:] = [folder]
    _tell[:] = [] if tell is None else [tell]


def kept_in() -> str:
    """Folder of what these kernels are compiled to; "" where none was named."""
    return f"{_folder[0]}/{kernel_key()}" if _folder else ""


def has_compiler() -> bool:
    """Whether kernels can be compiled here."""
    return importlib.util.find_spec("numba") is not None


def in_line(function: F) -> F:
    """Kernel function that is compiled into each of its callers, as if it were written there.

    For what runs every day and takes arrays or many numbers, where the call would cost more than
    the arithmetic. Everything that is called often from many places is better left out.

    Parameters
    ----------
    function : callable
        A function of a kernel module. [-]

    Returns
    -------
    callable
        The same function. [-]
    """
    _in_line.add(function)
    return function


def compiled(function: F) -> F:
    """Compiled twin of a kernel function; the function itself where nothing can compile.

    Whole numbers must be handed in as floats where the plain function takes floats.

    Parameters
    ----------
    function : callable
        A function of a kernel module. [-]

    Returns
    -------
    callable
        Takes the same arguments and gives the same numbers. It does not hold the interpreter's
        lock, so several may run in threads. [-]
    """
    if not has_compiler():
        return function
    return cast(F, _compiled(function))


@cache
def _compiled(function: Callable[..., Any]) -> Callable[..., Any]:
    import numba

    names = dict(function.__globals__)
    for name, value in function.__globals__.items():
        if name in function.__code__.co_names and _is_kernel_function(value):
            names[name] = _compiled(value)
    twin = types.FunctionType(
        function.__code__, names, function.__name__, function.__defaults__, function.__closure__
    )
    twin.__module__ = function.__module__
    twin.__qualname__ = function.__qualname__
    if _tell:
        _tell.pop()(kept_in())
    if _folder:
        numba.config.CACHE_DIR = kept_in()  # type: ignore[attr-defined]
    how: dict[str, Any] = {**HOW, "cache": bool(_folder), "forceinline": function in _in_line}
    made: Callable[..., Any] = numba.njit(**how)(twin)
    return made


def _is_kernel_function(value: Any) -> bool:
    return isinstance(value, types.FunctionType) and value.__module__.startswith("tilewater.")


@cache
def kernel_key() -> str:
    """Key of all kernel sources, of the compiler and of the interpreter."""
    digest = hashlib.sha256(f"{version('numba')} {sys.version}".encode())
    for source in kernel_sources():
        digest.update(source.read_bytes())
    return digest.hexdigest()[:16]


def kernel_sources() -> Iterator[Traversable]:
    """Sources of all modules that a kernel may come from, in a fixed order."""
    for floor in FLOORS:
        yield from _sources_in(files(f"tilewater.{floor}"))


def _sources_in(folder: Traversable) -> Iterator[Traversable]:
    for each in sorted(folder.iterdir(), key=lambda entry: entry.name):
        if each.is_dir():
            yield from _sources_in(each)
        elif each.name.endswith(".py"):
            yield each

# SPDX-License-Identifier: Apache-2.0
"""Compiled twins of plain functions: one source, read by people and by the compiler.

A kernel is a module whose name begins with an underscore and whose functions take and return plain
numbers, named tuples of them and arrays. `compiled` rebinds the functions that a kernel calls and
compiles the whole with numba; where numba is missing the plain function answers, slower. What was
compiled is kept in a folder named after all kernel sources, so that an edited helper can never
leave a stale result behind.
"""

import hashlib
import importlib.util
import os
import sys
import types
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any, TypeVar, cast

F = TypeVar("F", bound=Callable[..., Any])

CACHE_VARIABLE = "NUMBA_CACHE_DIR"
"""Environment variable that the doors set to keep compiled kernels between runs."""


def has_compiler() -> bool:
    """Whether kernels can be compiled here."""
    return importlib.util.find_spec("numba") is not None


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
    _place_cache()
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
    compile_it = numba.njit(cache=True, nogil=True, fastmath=False, error_model="python")
    return compile_it(twin)


def _is_kernel_function(value: Any) -> bool:
    return isinstance(value, types.FunctionType) and value.__module__.startswith("tilewater.")


def kernel_sources() -> tuple[Path, ...]:
    """Files that a compiled kernel may come from: all modules of the floors below the chain."""
    here = Path(__file__).resolve().parents[1]
    floors = ("basis", "hydraulics", "hydrology", "nitrate", "practices")
    return tuple(sorted(file for floor in floors for file in (here / floor).rglob("*.py")))


@cache
def kernel_key() -> str:
    """Key of all kernel sources, of the compiler and of the interpreter."""
    import numba

    digest = hashlib.sha256(f"{numba.__version__} {sys.version}".encode())
    for file in kernel_sources():
        digest.update(file.read_bytes())
    return digest.hexdigest()[:16]


def _place_cache() -> None:
    """Keep what is compiled in a folder of its own for these sources."""
    import numba

    folder = Path(os.environ.get(CACHE_VARIABLE) or Path(__file__).parent / "__pycache__")
    if folder.name != kernel_key():
        numba.config.CACHE_DIR = str(  # type: ignore[attr-defined]
            folder / kernel_key()
        )

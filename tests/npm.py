"""Tools from npm that only tests need, installed with the Node of the environment."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

TOOLS = Path(sys.executable).parent
ENVIRONMENT = {**os.environ, "PATH": f"{TOOLS}{os.pathsep}{os.environ['PATH']}"}
INSTALL = ["npm", "ci", "--ignore-scripts", "--no-audit", "--no-fund"]


def installed(source, folder):
    """Copy what lies in ``source``, with its lock file, into ``folder`` and install it there; the folder."""
    shutil.copytree(source, folder, dirs_exist_ok=True, ignore=shutil.ignore_patterns("node_modules"))
    subprocess.run(INSTALL, cwd=folder, env=ENVIRONMENT, check=True, capture_output=True, timeout=240)
    return folder

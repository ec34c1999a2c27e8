"""Countersunk: one parametric model of a kitchen, shown in 3D, checked, cut, counted and priced.

The parts of the house lie beside this folder in a checkout (`model`, `takeoff`, `viewer`, `shared`) and below it in
an installed package. Their names begin with ``countersunk`` in both: ``countersunk.model.kitchen``.
"""

from pathlib import Path

if not (Path(__file__).parent / "model").is_dir():  # a checkout: its packages lie one folder up
    __path__.append(str(Path(__file__).parents[1]))

"""Geometry: frames, plane shapes, parts and their solids.

frames      every change of frame                   profile      plane shapes with real noses and radii
part        one thing that is cut, bought, fitted   solids       the seam to the geometry kernel
volume      what is drawn of a place in the room     identity     by what values a part is known
meshes      solids for other programs
"""

"""Volumes by OpenCASCADE through build123d, a kernel of quite another kind. Importing it takes seconds."""

from build123d import Face, Plane, Polyline, Vector, Wire, extrude


def volume(p):
    """A part's volume (mm³), by faces and booleans."""
    plan = face_of(p.outline, Plane.XY)
    prism = extrude(plan, p.thickness, dir=(0, 0, 1))
    if p.section is not None:
        x0, _, x1, _ = p.outline.bounds
        across = Plane(origin=(x0, 0, 0), x_dir=(0, 1, 0), z_dir=(1, 0, 0))
        prism = extrude(face_of(p.section, across), x1 - x0, dir=(1, 0, 0)) & prism
    for pocket in p.pockets:
        at = Plane(origin=(0, 0, pocket.low))
        prism = prism - extrude(face_of(pocket.outline, at), pocket.high - pocket.low, dir=(0, 0, 1))
    return prism.volume


def face_of(polygon, plane):
    wires = [
        Wire([*Polyline(*[plane.from_local_coords(Vector(x, y)) for x, y in ring.coords]).edges()])
        for ring in (polygon.exterior, *polygon.interiors)
    ]
    return Face(wires[0], wires[1:])

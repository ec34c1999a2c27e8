"""Planning: from a surveyed room to runs that fit it.

fitting     widths and fillers that fill a length        stretches   the free lengths of a wall
run         a run of a kitchen file, fitted
"""

"""Stills: pictures without a screen.

stills      every picture of a kitchen              cameras      where a picture is taken from
raster      a scene drawn off screen                shadows      shade from everywhere
"""

"""Adjustment: points from more readings than are needed, by least squares, and which readings to doubt.

observations   distances, angles, offsets, widths and rises     least_squares  a network, and its adjustment
limits         what chance alone leaves: chi-square, normal, τ  snooping       the reading that most likely is wrong
linked         groups of what is linked

A *network* has points with coordinates in any one unit, and observations of them, each with its standard deviation
σ (angles in degrees). A *residual* v is what was adjusted less what was read. The *redundancy number* r of an
observation, 0 to 1, is the share of an error in it that shows in its own residual: at 0 nothing checks it. The
*standardised residual* w = v / (σ √r) is normal with deviation 1 while no reading is a blunder. The *least
detectable* error of an observation is found four times in five (Baarda; Ghilani, Adjustment Computations, 5th ed.,
chapter 21).
"""

"""Fitted: from what was measured on the units once they stood to the runs and walls that tops are cut to.

Where the units stand decides, and not where they were planned: their fronts are straight lines, so a wall is taken
to run parallel to the fronts before it, as far from them as planned, and its true face as it was read from there.
What was not measured is as planned. Units keep the sizes in which they were made.

named       the units that readings name                weighed     readings adjusted, or refused
along       lengths along fitted runs                   corners     angles between fitted runs
behind      the wall's true face, from the units        beside      from the ends of runs to walls and corners
room        the walls as fitted                         standing    runs and their parts where they were fitted
places      what lies along walls and runs          survey      all of it, and what became of each reading
"""

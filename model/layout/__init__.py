"""Layout: the runs and islands of a document in their places, unit by unit.

placing     runs put in their places                placed       a unit and a run in their places
sizes       width and wing of a unit                corners      where runs with a corner unit begin
fronts      in which decor everything that is faced is
seen        which sides of carcasses show
"""

"""Unit definitions: the measures of boards, fronts, hardware and units, as in `takeoff.measuring.definitions`."""

from __future__ import annotations

from countersunk.takeoff.measuring import fittings, measures, unit_measures
from countersunk.takeoff.measuring.definitions import Measure

OF_UNITS = (
    Measure(
        "board-mass", "mass", "board",
        "Mass of the boards of units, fronts, plinths and panels, from their density.",
        "Not hardware, packing or offcuts.",
        unit_measures.board_mass,
    ),
    Measure(
        "board-outlines", "length", "board",
        "Outline of every board of units, fronts, fillers and panels.",
        "Not the length sawn: two boards that lie side by side on a sheet share a cut.",
        unit_measures.board_outlines,
        of_boards=True,
    ),
    Measure(
        "board-area", "area", "board",
        "Net area of the boards of units, fronts, fillers and panels.",
        "Not worktops, not plinths, no waste; not how the boards lie on a sheet.",
        unit_measures.board_area,
        of_boards=True,
    ),
    Measure(
        "banded-edges", "length", "banded edge",
        "Length of the edges of boards that get edge band.",
        "Not the strip for worktops, and no overhang for trimming.",
        unit_measures.banded_edges,
        of_boards=True,
    ),
    Measure(
        "plinths", "length", "plinth",
        "Length of the plinths before the units, with the returns that runs ask for.",
        "Not scribes at a wall.",
        unit_measures.plinths,
    ),
    Measure(
        "flat-rails", "length", "flat rail",
        "Length of the rails that lie flat under a worktop that is screwed down.",
        "Not rails under a solid top or on edge, and not panels, fillers or appliances, which carry no screw.",
        unit_measures.flat_rails,
    ),
    Measure(
        "edge-rails", "length", "rail on edge",
        "Length of the rails that stand on edge under a worktop that is screwed down.",
        "Not rails under a solid top, and not flat rails; a screw from below cannot pass through these.",
        unit_measures.edge_rails,
    ),
    Measure(
        "bedded-rails", "length", "rail",
        "Length of the rails, flat or on edge, under a solid top, which lies on them in dabs of silicone.",
        "Not panels, fillers or appliances.",
        unit_measures.bedded_rails,
    ),
    Measure(
        "carcass-joints", "length", "board between sides",
        "Depth of every board that is screwed in a carcass at both ends, racks among them.",
        "Not backs, loose shelves or drawers.",
        unit_measures.carcass_joints,
        of_boards=True,
    ),
    Measure(
        "drawer-joints", "length", "board between sides of a drawer",
        "Height of every front and back of a drawer's box.",
        "Not the drawer's face; see drawers.",
        unit_measures.drawer_joints,
        of_boards=True,
    ),
    Measure(
        "back-panels", "length", "back",
        "Outline of every back of a carcass.",
        "Not the back of an island, which hides the units from outside; see island-backs.",
        unit_measures.back_panels,
        of_boards=True,
    ),
    Measure(
        "unit-joints", "length", "unit joint",
        "Height of every pair of neighbours of which at least one is a carcass, a corner unit's wing among them.",
        "Not appliances, which stand free between units.",
        unit_measures.unit_joints,
    ),
    Measure(
        "over-steam", "length", "dishwasher",
        "Width of every dishwasher under a worktop of particleboard.",
        "Not tops of compact, solid or wood, which have no raw chips to swell.",
        unit_measures.over_steam,
    ),
    Measure(
        "doors", "length", "door",
        "Height of every door that hangs on hinges of a carcass.",
        "Not the front of an integrated appliance, which hangs on the appliance.",
        unit_measures.doors,
    ),
    Measure(
        "drawers", "count", "drawer",
        "Drawers.",
        "Not the fixed fronts under an oven.",
        unit_measures.drawers,
    ),
    Measure(
        "leaves", "length", "folding leaf",
        "Height of every leaf that hangs on another door.",
        "Not the door that it hangs on; see doors.",
        fittings.leaves,
    ),
    Measure(
        "frame-rails", "count", "rail of a frame",
        "Rails of the frames of glazed doors.",
        "Not the stiles that they end on, and not rails of carcasses.",
        fittings.frame_rails,
        of_boards=True,
    ),
    Measure(
        "fixed-faces", "count", "fixed face",
        "Fronts that nothing opens and the faces of pull-outs.",
        "Not fronts that an appliance carries, and not those of drawers; see drawers.",
        fittings.fixed_faces,
    ),
    Measure(
        "island-backs", "length", "back of an island",
        "Length of the panels that close islands behind their units.",
        "Not the backs of their carcasses; see back-panels.",
        fittings.island_backs,
    ),
    Measure(
        "panes", "area", "pane",
        "Area of the panes in glazed doors, as they show.",
        "Not what a groove or bead hides of them.",
        fittings.panes,
    ),
    Measure(
        "pull-outs", "count", "pull-out", "Frames of pull-outs.", "Not their baskets.", fittings.pull_outs
    ),
    Measure("baskets", "count", "basket", "Baskets and bins of pull-outs.", "Not drawers.", fittings.baskets),
    Measure(
        "tambours", "area", "roller shutter",
        "Area of the roller shutters, as they show.",
        "Not what is rolled up behind their head.",
        fittings.tambours,
    ),
    Measure(
        "plate-racks", "count", "frame of dowels", "Frames of racks for plates.", "Not racks of boards.",
        fittings.plate_racks,
    ),
    Measure(
        "floating-shelves", "area", "floating shelf",
        "Area of the floating shelves.",
        "Not shelves in units.",
        fittings.floating_shelves,
    ),
    Measure(
        "shelf-brackets", "count", "bracket",
        "Brackets hidden in floating shelves.",
        "Not brackets that hold units to a wall or tops to their units.",
        fittings.shelf_brackets,
    ),
    Measure(
        "top-arms", "count", "arm",
        "Arms of steel under the backs of the tops of islands and peninsulas.",
        "Not brackets that hold tops to their units.",
        fittings.top_arms,
    ),
    Measure(
        "reveal-edges", "length", "piece in a reveal",
        "Sides and backs of the pieces of worktop in reveals.",
        "Not their fronts, which lie against the top.",
        fittings.reveal_edges,
    ),
    Measure(
        "light-profiles", "length", "profile",
        "Length of the profiles of lights under wall units.",
        "Not cables.",
        fittings.light_profiles,
    ),
    Measure(
        "light-strips", "length", "strip",
        "Length of the strips of lights in their profiles.",
        "Not cables between them.",
        fittings.light_strips,
    ),
    Measure(
        "light-drivers", "count", "driver", "Drivers of lights.", "Not switches.", fittings.light_drivers
    ),
    Measure(
        "posts", "count", "post", "Posts that carry a worktop.", "Not the legs of units.", fittings.posts
    ),
    Measure("lifts", "count", "frame", "Frames that move a top up and down.", "Not posts.", fittings.lifts),
    Measure(
        "wall-trims", "length", "trim",
        "Length of the cornices and light pelmets along their longer edge, returns included.",
        "Not plinths; see plinths.",
        fittings.wall_trims,
    ),
    Measure("handles", "count", "handle", "Handles.", "Not the grips of appliances.", unit_measures.handles),
    Measure("legs", "count", "leg", "Legs of floor units.", "Not the feet of appliances.", unit_measures.legs),
    Measure(
        "loose-shelves", "count", "loose shelf",
        "Shelves that lie on pins.",
        "Not the fixed shelf that carries an oven.",
        unit_measures.loose_shelves,
    ),
    Measure(
        "appliances", "count", "appliance",
        "Appliances in or between units, and hoods.",
        "Not hobs, which are cut-outs.",
        fittings.appliances,
    ),
    Measure(
        "ready-units", "count", "bought unit",
        "Units whose carcass is bought as one article.",
        "Not units made of boards, and not appliances, fillers or panels.",
        unit_measures.ready_units,
    ),
    Measure(
        "assembly", "count", "flat pack",
        "Bought carcasses that come in a flat pack, each with the minutes that it takes to put together.",
        "Not carcasses that come rigid, and not their fronts.",
        unit_measures.assembly,
    ),
    Measure(
        "units-placed", "count", "floor unit",
        "Units, fillers and panels that stand on the floor.",
        "Not appliances.",
        unit_measures.units_placed,
    ),
    Measure(
        "units-at-wall", "count", "unit at a wall",
        "Carcasses that stand on the floor before a wall.",
        "Not islands, fillers, panels or appliances.",
        unit_measures.units_at_wall,
    ),
    Measure(
        "hung-widths", "length", "wall unit",
        "Width of every unit that hangs on a wall.",
        "Not hoods.",
        unit_measures.hung_widths,
    ),
    Measure(
        "units-hung", "count", "wall unit",
        "Units that hang on a wall.",
        "Not hoods, and not fillers or panels between wall units; see units-from-ceiling for what hangs there.",
        unit_measures.units_hung,
    ),
    Measure(
        "units-from-ceiling", "count", "unit that hangs from the ceiling",
        "Units that hang from the ceiling, away from the walls.",
        "Not hoods, and not what hangs on a wall; see units-hung.",
        unit_measures.units_from_ceiling,
    ),
    Measure(
        "ceiling-rods", "count", "rod to the ceiling",
        "The rods that units hang by from the ceiling, four a unit.",
        "Not what a hood hangs by, which comes with it.",
        unit_measures.ceiling_rods,
    ),
    Measure(
        "lengths-laid", "count", "length of worktop",
        "Lengths of worktop.",
        "Not their extent; see worktop-lengths.",
        unit_measures.lengths_laid,
    ),
    Measure("walls", "count", "wall", "Walls surveyed.", "Not partitions of an island.", unit_measures.walls),
    Measure(
        "runs", "count", "run",
        "Runs of units on floor or wall, and islands.",
        "Not lengths of worktop.",
        unit_measures.runs,
    ),
    Measure(
        "face-frame-rails", "count", "rail",
        "Rails of face frames, each joined to two stiles.",
        "Not the rails of doors.",
        fittings.face_frame_rails,
    ),
    Measure(
        "face-frames", "length", "stile",
        "Length of the stiles of face frames, fixed to the edges of carcasses.",
        "Not their rails.",
        fittings.face_frames,
    ),
    Measure(
        "bought-fronts", "area", "front",
        "Net area of the fronts that are bought to measure.",
        "Not fronts of front board, panels or fillers.",
        fittings.bought_fronts,
    ),
    Measure(
        "front-grooves", "length", "front",
        "Length of the grooves that are routed into fronts of front board.",
        "Not those of fronts that are bought.",
        fittings.front_grooves,
    ),
    Measure(
        "profiles", "length", "grip profile",
        "Length of the grip profiles behind the upper edges of fronts.",
        "Not their end caps.",
        fittings.profiles,
    ),
    Measure(
        "profile-notches", "count", "notch",
        "Notches in the sides of carcasses for grip profiles.",
        "Not those in end panels, which the profiles end against.",
        fittings.profile_notches,
    ),
    Measure(
        "push-catches", "count", "front",
        "Fronts that open by a push.",
        "Not appliances, which have catches of their own.",
        fittings.push_catches,
    ),
    Measure(
        "handle-screws", "count", "screw",
        "Screws that handles and catches take besides those in their own packs.",
        "Not the screws that come along.",
        fittings.handle_screws,
    ),
    Measure(
        "painted-walls", "area", "wall",
        "Area of the walls that the job paints, doors and windows taken off.",
        "Not reveals, ceilings or what units and splashbacks hide, which is painted too.",
        measures.painted_walls,
    ),
    Measure(
        "covered-floor", "area", "floor",
        "Area of the floor that the job covers, under units too, columns and chimney breasts taken off.",
        "Not thresholds or skirting.",
        measures.covered_floor,
    ),
)  # fmt: skip

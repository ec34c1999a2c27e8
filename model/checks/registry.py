"""Registry: every measure by the name that rules call it, with the unit that it measures in.

A measure is a function from a kitchen to the places that it looked at; its docstring is its definition.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from countersunk.model.checks import (
    access,
    beneath,
    boiler,
    centres,
    covers,
    cutout,
    ducts,
    fixing,
    hob,
    hung,
    landing,
    lift,
    lifting,
    nearby,
    pipes,
    roof,
    routes,
    scribing,
    seats,
    services,
    surfaces,
    survey,
    swings,
    units,
    walkways,
    worktop,
)
from countersunk.model.checks.finding import Place, Unit
from countersunk.model.kitchen import Kitchen


@dataclass(frozen=True)
class CheckMeasure:
    """A measure as rules name it."""

    name: str
    unit: Unit
    take: Callable[[Kitchen], Iterator[Place]]

    @property
    def definition(self) -> str:
        """What the number is, and what it is not."""
        return inspect.getdoc(self.take) or ""


def _measures(unit: Unit, *functions: Callable[[Kitchen], Iterator[Place]]) -> dict[str, CheckMeasure]:
    """Each by its module and its own name: ``hob.to_hood``."""
    names = [f"{f.__module__.rsplit('.', 1)[-1]}.{f.__name__}" for f in functions]
    return {name: CheckMeasure(name, unit, f) for name, f in zip(names, functions, strict=True)}


MEASURES: dict[str, CheckMeasure] = {
    **_measures(
        "mm",
        hob.to_tall_unit,
        hob.to_side_wall,
        hob.to_side,
        hob.to_farther_side,
        hob.burner_to_side,
        hob.line_to_wall_behind,
        hob.burner_to_cover,
        hob.behind_on_island,
        hob.beside_window,
        hob.beside_door,
        hob.to_hood,
        hob.to_microwave,
        hob.beyond_hood,
        hob.to_unit_above,
        hob.to_anything_above,
        hob.worktop_to_unit_beside,
        ducts.equivalent_length,
        ducts.diameter,
        ducts.fan_below_ceiling,
        nearby.stove_to_anything,
        nearby.before_meter,
        nearby.before_electricity_meter,
        nearby.gas_meter_to_electricity,
        boiler.beside,
        boiler.before,
        boiler.above,
        boiler.below,
        cutout.to_cutout,
        cutout.to_join,
        cutout.to_front_edge,
        cutout.to_back_edge,
        cutout.to_end,
        cutout.corner_radius,
        cutout.typed_corner_radius,
        cutout.to_unit_sides,
        cutout.tap_below,
        landing.beside_hob_longer,
        landing.beside_hob_shorter,
        landing.beside_sink_longer,
        landing.beside_sink_shorter,
        landing.preparation,
        landing.sink_to_hob,
        landing.beside_fridge,
        surfaces.beside_oven,
        surfaces.sink_to_fridge,
        surfaces.hob_to_fridge,
        surfaces.sink_to_oven,
        surfaces.hob_to_oven,
        surfaces.fridge_to_oven,
        surfaces.beside_microwave,
        surfaces.frontage,
        beneath.hob_to_drawer,
        beneath.hob_to_boards,
        beneath.hob_to_oven,
        beneath.hob_to_appliance,
        beneath.sink_to_anything,
        beneath.sink_over_appliance,
        beneath.bowl_to_sides,
        centres.dishwasher_to_sink,
        centres.triangle_leg,
        centres.triangle_sum,
        centres.triangle_through_island,
        routes.to_work_centre,
        routes.turning_circle,
        walkways.aisle,
        walkways.between_arms,
        walkways.around_island,
        walkways.doorway,
        walkways.left_of_doorway,
        walkways.beside_dishwasher,
        swings.appliance_door,
        swings.door_or_drawer,
        swings.before_open_appliance,
        swings.room_door,
        swings.sash,
        swings.machine_door,
        roof.sash,
        swings.beyond_square,
        pipes.waste_run,
        pipes.waste_fall,
        pipes.hose,
        pipes.to_connection,
        services.to_hob,
        services.to_sink,
        services.low_to_sink,
        services.along_counter,
        services.height,
        seats.width_each,
        seats.knee_depth,
        seats.behind,
        worktop.height,
        worktop.lowest,
        worktop.depth,
        worktop.to_wall_unit,
        worktop.up_to_wall_unit,
        worktop.end_overhang,
        worktop.front_overhang,
        worktop.over_shallow_unit,
        worktop.over_low_unit,
        worktop.end_cover,
        worktop.back_overhang,
        worktop.past_third,
        worktop.unsupported_gap,
        worktop.room_to_move,
        worktop.spare_of_stock,
        worktop.join_to_appliance,
        survey.left_of_run,
        survey.left_if_wrong,
        survey.past_survey,
        scribing.gap_behind,
        access.carry_in,
        units.off_coordinating_height,
        units.plinth_height,
        fixing.longest_screw,
        fixing.rim_cover,
        units.wall_unit_depth,
        units.white_side,
        units.wall_unit_base,
        units.storage_frontage,
        units.knee_space,
        units.beside_wing,
        units.in_bend,
        units.under_sill,
        units.under_ceiling,
        units.ceiling_falls,
        units.under_sash,
        lift.clear_above,
        covers.hole_spare,
    ),
    **_measures(
        "kg", worktop.weight, hung.arm_spare, hung.bracket_spare, hung.wall_spare, lift.spare, hung.from_ceiling
    ),
    **_measures("deg", worktop.join_off_square),
    **_measures("%", worktop.silica_of_engineered),
    **_measures("m3/h", ducts.airflow, ducts.rated_airflow, ducts.fan_airflow),
    **_measures(
        "count",
        centres.tall_between,
        lifting.people,
        fixing.join_bolts,
        fixing.join_biscuits,
        fixing.bolts_under_units,
        survey.contradicted,
        survey.doubted,
        covers.slivers,
    ),
}

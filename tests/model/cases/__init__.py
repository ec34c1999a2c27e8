"""Cases: every measure worked by hand, four times each, as one table.

A pass, a fail, a value exactly at the limit, and a kitchen where the naive measure (box to box, centre to centre,
from the wrong edge) would come to the other verdict. Each module lists those of one part of the house; a comment
beside each says how the value comes about.
"""

from tests.model.cases import appliances, floors, hobs, hung, insides, landings, pipes, tops
from tests.model.cases.table import Case, Kind

CASES: list[Case] = [
    case for part in (appliances, pipes, hobs, tops, landings, floors, insides, hung) for case in part.CASES
]

NONE_LESS = "nothing is less than none: the exact limit is the pass"

WITHOUT: dict[tuple[str, Kind], str] = {
    ("centres.tall_between", Kind.PASS): NONE_LESS,
    ("covers.slivers", Kind.PASS): NONE_LESS,
    ("fixing.bolts_under_units", Kind.PASS): NONE_LESS,
    ("hung.from_ceiling", Kind.PASS): NONE_LESS,
    ("survey.contradicted", Kind.PASS): NONE_LESS,
    ("survey.doubted", Kind.PASS): NONE_LESS,
    ("survey.past_survey", Kind.PASS): NONE_LESS,
    ("units.off_coordinating_height", Kind.PASS): NONE_LESS,
}
"""The kinds that a measure cannot have, and why."""

__all__ = ["CASES", "WITHOUT", "Case", "Kind"]

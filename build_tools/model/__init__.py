"""The guide as typed, frozen records: what an author may write in trees/, key by key.

Plain data comes in (mappings of text, numbers and tuples, from `compose`), checked records come out. A
record holds no place in a file: `parse` keeps the places beside it. The JSON Schema that editors use is
made from these classes, so each key explains itself in its description here and nowhere else.
"""

from build_tools.model.base import (
    ANSWERS,
    HASH_PATTERN,
    ID_PATTERN,
    TARGET_PATTERN,
    UP,
    VERSION_PATTERN,
    Act,
    Effort,
    Id,
    Record,
    Signal,
    Where,
    every_value,
    key_of,
)
from build_tools.model.data import DATA_TABLES, DataRow
from build_tools.model.remedies import Action, Material, Remedy, TakeOff, WorkGate
from build_tools.model.tables import Caution, Gate, Hazard, Settings, Source, Term, Versions, Vocabulary
from build_tools.model.trees import (
    STEP_KINDS,
    AnyOrder,
    AskFirst,
    GateStep,
    GoTo,
    Looked,
    Measure,
    Question,
    RemedyStep,
    StepBase,
    Tree,
    step_kind,
)

__all__ = [
    "ANSWERS",
    "DATA_TABLES",
    "HASH_PATTERN",
    "ID_PATTERN",
    "STEP_KINDS",
    "TARGET_PATTERN",
    "UP",
    "VERSION_PATTERN",
    "Act",
    "Action",
    "AnyOrder",
    "AskFirst",
    "Caution",
    "DataRow",
    "Effort",
    "Gate",
    "GateStep",
    "GoTo",
    "Hazard",
    "Id",
    "Looked",
    "Material",
    "Measure",
    "Question",
    "Record",
    "Remedy",
    "RemedyStep",
    "Settings",
    "Signal",
    "Source",
    "StepBase",
    "TakeOff",
    "Term",
    "Tree",
    "Versions",
    "Vocabulary",
    "Where",
    "WorkGate",
    "every_value",
    "key_of",
    "step_kind",
]

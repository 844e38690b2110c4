"""Every kind of event, declared once. JSON Schema and the phone's types are generated from here."""

from slabtide.log.kinds.after import AFTER_KINDS
from slabtide.log.kinds.checklist import CHECKLIST_KINDS
from slabtide.log.kinds.coatings import COATING_KINDS
from slabtide.log.kinds.covers import COVER_KINDS
from slabtide.log.kinds.declare import ROLES, AddTo, Kind, Retract, Role, Rule, SetKey
from slabtide.log.kinds.handing_over import HANDING_OVER_KINDS
from slabtide.log.kinds.job import JOB_KINDS
from slabtide.log.kinds.learning import LEARNING_KINDS
from slabtide.log.kinds.merges import MERGE_KINDS
from slabtide.log.kinds.pins import PIN_KINDS
from slabtide.log.kinds.pour import POUR_KINDS
from slabtide.log.kinds.sawing import SAWING_KINDS
from slabtide.log.kinds.slab import SLAB_KINDS
from slabtide.log.kinds.undo import UNDO_KINDS, may_retract

KINDS: dict[str, Kind] = {
    kind.name: kind
    for kind in (
        *JOB_KINDS,
        *SLAB_KINDS,
        *POUR_KINDS,
        *MERGE_KINDS,
        *COVER_KINDS,
        *CHECKLIST_KINDS,
        *PIN_KINDS,
        *SAWING_KINDS,
        *AFTER_KINDS,
        *COATING_KINDS,
        *HANDING_OVER_KINDS,
        *LEARNING_KINDS,
        *UNDO_KINDS,
    )
}

__all__ = ["KINDS", "ROLES", "AddTo", "Kind", "Retract", "Role", "Rule", "SetKey", "may_retract"]

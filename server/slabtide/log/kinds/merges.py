"""One truck written down twice, by two phones: the double goes into the load that is kept."""

from typing import Any

from marshmallow import ValidationError, validates_schema

from slabtide.log.kinds.declare import CREW, FOREMAN, Kind, SetKey
from slabtide.log.kinds.fields import Body, ident


class LoadMerged(Body):
    load = ident("LoadId")  # type: ignore[assignment]  # a field, not the method
    into = ident("LoadId")

    @validates_schema(skip_on_field_errors=True)
    def into_another(self, data: dict[str, Any], **kwargs: Any) -> None:
        if data["load"] == data["into"]:
            raise ValidationError("A load can't be merged into itself. Pick the load that is kept.", "into")


MERGE_KINDS = (Kind("load.merged", LoadMerged, (CREW, FOREMAN), SetKey("merges/{load}")),)

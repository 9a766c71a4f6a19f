"""What the fields and things a refusal speaks of are called."""

from collections.abc import Mapping

from app.wording.languages import msg

FIELDS: Mapping[str, str] = {
    "name": msg("name"),
}

SUBJECTS: Mapping[str, str] = {
    "machine": msg("machine"),
}

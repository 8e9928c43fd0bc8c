"""The defaults that a brief leaves to bossage, gathered with their reasons."""

from __future__ import annotations

from dataclasses import dataclass, field

from bossage.brief.site import DefaultUsed
from bossage.brief.tables import Table, kind_of, reason_of
from bossage.units import format_length


@dataclass(slots=True)
class Notes:
    """Defaults used, in the order in which they were taken. `unit` is what they are printed in."""

    unit: str
    used: list[DefaultUsed] = field(default_factory=list)

    def table(self, path: str, table: Table, *, leave: tuple[str, ...] = ()) -> None:
        """Every field of a table that was left out and whose default has a reason, but for those in `leave`."""
        for name, info in type(table).model_fields.items():
            reason, kind = reason_of(info), kind_of(info)
            if reason and kind is not None and name not in table.model_fields_set and name not in leave:
                self.add(f"{path}.{name}", kind.show(getattr(table, name), self.unit), reason)

    def add(self, field: str, value: str, reason: str) -> None:
        """One default."""
        self.used.append(DefaultUsed(field=field, value=value, reason=reason))

    def length(self, field: str, nm: int, reason: str) -> int:
        """One default that is a length; returns it."""
        self.add(field, format_length(nm, self.unit), reason)
        return nm

"""What `press` says of a leaf's rest under the clamps."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Pack:
    """One length of packing under a row, from the left edge of the backer as seen from the front."""

    height_nm: int
    from_left_nm: int
    length_nm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class RestRows:
    """Rows one after another that lie alike: on which parts by themselves, on which packing beside."""

    first: int
    last: int
    on: tuple[str, ...]  # names of parts
    packs: tuple[Pack, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rest:
    """A leaf with its back on the bench: `deep_nm` is how far its highest parts stand out behind the backer."""

    leaf: str
    deep_nm: int
    highest: tuple[str, ...]
    rows: tuple[RestRows, ...]

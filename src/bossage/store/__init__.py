"""Pieces and their history, in one SQLite file on the maker's own disk."""

from __future__ import annotations

from bossage.store.carry import export_piece, import_piece
from bossage.store.database import open_database
from bossage.store.faults import NoSuchPiece, NoSuchRevision, NotTheHead, NotYet, StoreFault
from bossage.store.photos import Photo, Photos
from bossage.store.pieces import Facts, Pieces
from bossage.store.place import default_store
from bossage.store.records import PieceRow, Revision, RevisionRow, Version

__all__ = [
    "Facts",
    "NoSuchPiece",
    "NoSuchRevision",
    "NotTheHead",
    "NotYet",
    "Photo",
    "Photos",
    "PieceRow",
    "Pieces",
    "Revision",
    "RevisionRow",
    "StoreFault",
    "Version",
    "default_store",
    "export_piece",
    "import_piece",
    "open_database",
]

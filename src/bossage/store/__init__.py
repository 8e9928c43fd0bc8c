"""Pieces and their history, in one SQLite file on the maker's own disk."""

from __future__ import annotations

from bossage.store.carry import export_piece, import_piece
from bossage.store.copies import NotCopied, Restored, copies_folder, copy_store, kept_copies, restore
from bossage.store.database import look_through, open_database
from bossage.store.faults import DamagedStore, NoSuchPiece, NoSuchRevision, NotTheHead, NotYet, StoreFault
from bossage.store.photos import Photo, Photos
from bossage.store.pieces import Facts, Pieces
from bossage.store.place import default_store
from bossage.store.records import PieceRow, Revision, RevisionRow, Version
from bossage.store.rescue import NothingToRescue, Rescued, rescue

__all__ = [
    "DamagedStore",
    "Facts",
    "NoSuchPiece",
    "NoSuchRevision",
    "NotCopied",
    "NotTheHead",
    "NotYet",
    "NothingToRescue",
    "Photo",
    "Photos",
    "PieceRow",
    "Pieces",
    "Rescued",
    "Restored",
    "Revision",
    "RevisionRow",
    "StoreFault",
    "Version",
    "copies_folder",
    "copy_store",
    "default_store",
    "export_piece",
    "import_piece",
    "kept_copies",
    "look_through",
    "open_database",
    "rescue",
    "restore",
]

"""What the web application does, before any of it is HTTP: reads, plans, saves, and remembers plans for a while."""

from __future__ import annotations

import json
import threading
from collections import OrderedDict
from collections.abc import Iterable
from contextvars import ContextVar
from dataclasses import dataclass, replace
from hashlib import sha256
from typing import Any

from bossage.brief import Brief, BriefFaults, read_brief
from bossage.brief.amend import Document
from bossage.brief.terms import LengthUnit
from bossage.checks import Advice, Edit, worst
from bossage.errors import BossageError
from bossage.plan import Memory, NoPlan, Plan, make_plan, stamp_of
from bossage.remedies import advised
from bossage.serial import to_json
from bossage.store import Facts, Pieces, Revision, import_piece
from bossage.web.about import about_checks
from bossage.web.bands import bands_of
from bossage.web.behind import zones_view
from bossage.web.said import sayable, short, whole
from bossage.web.sizes import edits_json
from bossage.web.view import plan_view, title_block

Json = dict[str, Any]
#: The unit that this request wants to be answered in; the piece's own if None. Only words change, never the brief.
SAID_IN: ContextVar[str | None] = ContextVar("SAID_IN", default=None)
PLANS_KEPT = 24
PLANS_BLOCKS_N = 100_000  # in all of them together
DOCUMENTS_KEPT = 8


class NoSuchFix(BossageError):
    """A remedy that this revision does not have."""


class NothingToDraw(BossageError):
    """There is no plan of this revision, so there is nothing to show or to print."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Planned:
    """A brief with what came of it, and which stages were worked out anew."""

    brief: Brief
    outcome: Plan | NoPlan
    changed: tuple[str, ...]

    @property
    def blocks_n(self) -> int:
        """How many blocks it has."""
        return self.outcome.layout.blocks.count if isinstance(self.outcome, Plan) else 0

    @property
    def facts(self) -> Facts:
        """What the store keeps of it."""
        return Facts(
            name=self.brief.piece.name,
            seed=self.brief.piece.seed,
            stamp=stamp_of(self.brief),
            verdict="no plan" if isinstance(self.outcome, NoPlan) else worst(self.outcome.checks).value,
        )


class Desk:
    """The pieces of one store, being worked on."""

    def __init__(self, pieces: Pieces) -> None:
        """Work on these pieces."""
        self.pieces = pieces
        self._lock = threading.RLock()
        self._plans: OrderedDict[str, Planned] = OrderedDict()
        self._memory = Memory()
        self._other_memory = Memory()
        self._fixing = threading.RLock()
        self._fix_memory = Memory()
        self._said: OrderedDict[tuple[str, str], Planned] = OrderedDict()
        self._advised: OrderedDict[str, Plan | NoPlan] = OrderedDict()
        self._documents: OrderedDict[str, Document] = OrderedDict()
        self._amended: OrderedDict[tuple[str, str], str] = OrderedDict()

    def planned(self, toml: str) -> Planned:
        """The plan of a brief, out of memory if it was made a short while ago.

        Raises:
            BriefFaults: The brief is faulty.
        """
        with self._lock:
            known = self._plans.get(toml)
            if known is not None:
                self._plans.move_to_end(toml)
                return Planned(brief=known.brief, outcome=known.outcome, changed=())
            brief = read_brief(toml)
            changed: list[str] = []
            outcome = make_plan(brief, memory=self._memory, tell=changed.append)
            made = Planned(brief=brief, outcome=outcome, changed=tuple(dict.fromkeys(changed)))
            self._plans[toml] = made
            while len(self._plans) > PLANS_KEPT or (
                len(self._plans) > 1 and sum(plan.blocks_n for plan in self._plans.values()) > PLANS_BLOCKS_N
            ):
                self._plans.popitem(last=False)
            return made

    def said(self, toml: str) -> Planned:
        """The same plan, said in the unit that the request asks for (`SAID_IN`); numbers and stamp stay.

        Raises:
            BriefFaults: The brief is faulty.
        """
        own = self.planned(toml)
        unit = SAID_IN.get()
        if unit is None or unit == own.brief.piece.unit.value:
            return own
        with self._lock:
            known = self._said.get((unit, toml))
            if known is None:
                brief = replace(own.brief, piece=replace(own.brief.piece, unit=LengthUnit(unit)))
                outcome = make_plan(brief, memory=self._other_memory)
                if isinstance(outcome, Plan):
                    outcome = replace(outcome, stamp=stamp_of(own.brief))
                known = self._said[unit, toml] = Planned(brief=brief, outcome=outcome, changed=own.changed)
                while len(self._said) > DOCUMENTS_KEPT:
                    self._said.popitem(last=False)
            return known

    def amended(self, toml: str, edits: Iterable[Edit]) -> str:
        """A brief's text after some changes.

        Raises:
            BriefFaults: A change leads nowhere.
        """
        edits = tuple(edits)
        key = (toml, json.dumps([(edit.op, edit.path, edit.value) for edit in edits]))
        with self._lock:
            # what was tried a moment ago is mostly what is done next
            known = self._amended.get(key)
            if known is not None:
                return known
            # tomlkit takes 30 ms to read a brief, so a text just written stays open for the next change
            document = self._documents.pop(toml, None) or Document(toml)
            text = document.amend(edits)
            self._documents[text] = document
            self._amended[key] = text
            for memory in (self._documents, self._amended):
                while len(memory) > DOCUMENTS_KEPT:
                    memory.popitem(last=False)
            return text

    def make(self, toml: str, words: str) -> Json:
        """A new piece from a brief, with the brief (`PieceOut`).

        Raises:
            BriefFaults: The brief is faulty.
        """
        made: list[Json] = []
        self.pieces.make(
            toml, self.planned(toml).facts, words, look=lambda revision: made.append(sayable(whole(revision)))
        )
        return made[0]

    def take_in(self, data: bytes) -> Json:
        """A new piece from a file that a workbench exported (`PieceOut`).

        Raises:
            NotAPiece: The file holds none.
            NotAPhoto: A photo in it is none, or too large.
        """
        made: list[Json] = []
        import_piece(self.pieces, data, look=lambda revision: made.append(sayable(whole(revision))))
        return made[0]

    def piece(self, piece_id: str, revision_n: int | None = None) -> Json:
        """A piece with its brief (`PieceOut`).

        Raises:
            NoSuchPiece, NoSuchRevision: There is none.
        """
        return whole(self.pieces.revision(piece_id, revision_n))

    def answer(self, piece_id: str, revision_n: int | None = None) -> Json:
        """A revision with its plan (`Answer`); the head if no number is given.

        Raises:
            NoSuchPiece, NoSuchRevision: There is none.
            BriefFaults: The brief cannot be read by this version.
        """
        return self._answer_of(self.pieces.revision(piece_id, revision_n))

    def _answer_of(self, revision: Revision, changed: tuple[str, ...] | None = None) -> Json:
        planned = self.said(revision.toml)
        outcome = planned.outcome
        return {
            "revision_n": revision.row.revision_n,
            "piece": short(revision),
            "changed": list(planned.changed if changed is None else changed),
            "plan": None if isinstance(outcome, NoPlan) else plan_view(outcome),
            "no_plan": _no_plan(outcome) if isinstance(outcome, NoPlan) else None,
        }

    def change(self, piece_id: str, base_n: int, edits: Iterable[Edit], words: str) -> Json:
        """Change a revision, save what comes of it and plan it (`Answer`).

        Raises:
            NoSuchPiece, NoSuchRevision, NotTheHead, NotYet: As the store says.
            BriefFaults: The brief would be faulty; nothing is saved.
        """
        edits = tuple(edits)
        base = self.pieces.revision(piece_id, base_n)
        return self.rewrite(piece_id, base_n, self.amended(base.toml, edits), words or words_of(edits))

    def attempt(self, piece_id: str, base_n: int, edits: Iterable[Edit]) -> Json:
        """What changes would do, with nothing saved (`Tried`).

        Raises:
            NoSuchPiece, NoSuchRevision: There is none.
            BriefFaults: The brief that is to be changed cannot be read by this version.
        """
        base = self.pieces.revision(piece_id, base_n).toml
        before = self.said(base).outcome
        told = set() if isinstance(before, NoPlan) else _told(about_checks(before))
        nothing: Json = {"faults": [], "no_plan": None, "title_block": None, "bands": [], "zones": []}
        nothing |= {"checks": [], "appeared": [], "gone": []}
        try:
            after = self.said(self.amended(base, edits)).outcome
        except BriefFaults as faults:
            return {**nothing, "faults": to_json(faults.faults)}
        if isinstance(after, NoPlan):
            return {**nothing, "no_plan": _no_plan(after)}
        checks = about_checks(after)
        tells = _told(checks)
        return {
            **nothing,
            "title_block": title_block(after),
            "bands": bands_of(after, checks),
            "zones": zones_view(after),
            "checks": checks,
            "appeared": sorted(key for key, _ in tells - told),
            "gone": sorted(key for key, _ in told - tells),
        }

    def fixes(self, piece_id: str, revision_n: int | None) -> list[Json]:
        """What is advised for a revision's checks, remedies tried before (`FixOut`).

        Raises:
            NoSuchPiece, NoSuchRevision: There is none.
            BriefFaults: The brief cannot be read by this version.
        """
        plan = self.advised(self.pieces.revision(piece_id, revision_n).toml)
        if isinstance(plan, NoPlan):
            return []
        out = []
        for check, about in zip(plan.checks, about_checks(plan), strict=True):
            fix_id, edits, check_id = None, edits_json(check.edits), about["check_id"]
            deed, _, price = check.remedy.partition(". ")
            if check.advice is Advice.REMEDY:
                fix_id = sha256(json.dumps([check_id, edits], sort_keys=True).encode()).hexdigest()[:16]
            if check.advice is not Advice.NONE:
                out.append(
                    {
                        "check_id": check_id,
                        "advice": check.advice.value,
                        "remedy": check.remedy,
                        "fix_id": fix_id,
                        "words": deed if fix_id else "",
                        "price": price if fix_id else "",
                        "edits": edits if fix_id else [],
                    }
                )
        return out

    def advised(self, toml: str) -> Plan | NoPlan:
        """The plan of a brief, with advice that was tried.

        Raises:
            BriefFaults: The brief is faulty.
        """
        # Trying remedies takes seconds, so it has a lock and a memory of its own: edits do not wait for it.
        with self._fixing:
            if toml not in self._advised:
                plan = self.planned(toml).outcome
                if isinstance(plan, Plan):
                    plan = advised(toml, plan, memory=self._fix_memory)
                self._advised[toml] = plan
                while len(self._advised) > DOCUMENTS_KEPT:
                    self._advised.popitem(last=False)
            return self._advised[toml]

    def fix(self, piece_id: str, base_n: int, fix_id: str) -> Json:
        """Apply a remedy (`Answer`).

        Raises:
            NoSuchFix: No remedy of that revision goes by that mark.
            NoSuchPiece, NoSuchRevision, NotTheHead, NotYet: As the store says.
            BriefFaults: The brief cannot be read by this version.
        """
        found = next((fix for fix in self.fixes(piece_id, base_n) if fix["fix_id"] == fix_id), None)
        if found is None:
            raise NoSuchFix("There is no such remedy for this revision. Look at its checks again.")
        edits = (Edit(op=e["op"], path=tuple(e["path"]), value=e["value"]) for e in found["edits"])
        return self.change(piece_id, base_n, edits, found["words"])

    def outcome(self, piece_id: str, revision_n: int | None, *, said: bool = False) -> Planned:
        """The plan of a revision; the head if no number is given. `said`: in the unit that the request asks for.

        Raises:
            NoSuchPiece, NoSuchRevision: There is none.
            BriefFaults: The brief cannot be read by this version.
        """
        toml = self.pieces.revision(piece_id, revision_n).toml
        return self.said(toml) if said else self.planned(toml)

    def plan(self, piece_id: str, revision_n: int | None, *, said: bool = False) -> Plan:
        """The same with advice that was tried, where nothing else will do than a plan.

        In another unit than its own, a plan has the questions of its stages: what was tried is said in its own unit.

        Raises:
            NothingToDraw: There is no plan.
            NoSuchPiece, NoSuchRevision, BriefFaults: As above.
        """
        toml = self.pieces.revision(piece_id, revision_n).toml
        own = self.planned(toml)
        shown = self.said(toml) if said else own
        outcome = self.advised(toml) if shown.brief.piece.unit is own.brief.piece.unit else shown.outcome
        if isinstance(outcome, NoPlan):
            raise NothingToDraw(f"There is nothing to draw. {outcome.reason} {outcome.remedy}")
        return outcome

    def rewrite(self, piece_id: str, base_n: int, toml: str, words: str) -> Json:
        """Put a whole brief in place of a revision's (`Answer`).

        Raises:
            NoSuchPiece, NoSuchRevision, NotTheHead, NotYet: As the store says.
            BriefFaults: The brief is faulty; nothing is saved.
        """
        planned, answers = self.planned(toml), list[Json]()
        self.said(toml)  # worked out before the store is locked
        self.pieces.save(
            piece_id,
            base_n,
            toml,
            planned.facts,
            words,
            look=lambda revision: answers.append(sayable(self._answer_of(revision, planned.changed))),
        )
        return answers[0]

    def save(self, piece_id: str, base_n: int, toml: str, words: str) -> int:
        """Append a brief as the next revision; its number.

        Raises:
            NoSuchPiece, NoSuchRevision, NotTheHead, NotYet: As the store says.
            BriefFaults: The brief is faulty; nothing is saved.
        """
        return self.pieces.save(piece_id, base_n, toml, self.planned(toml).facts, words)

    def restore(self, piece_id: str, base_n: int, revision_n: int) -> Json:
        """Make an earlier, or a refused, revision the newest again (`Answer`).

        Raises:
            NoSuchPiece, NoSuchRevision, NotTheHead, NotYet: As the store says.
            BriefFaults: The brief cannot be read by this version.
        """
        old = self.pieces.revision(piece_id, revision_n)
        return self.rewrite(piece_id, base_n, old.toml, f"Back to revision {revision_n}: {old.row.words}"[:200])


def words_of(edits: tuple[Edit, ...]) -> str:
    """What a change is called in the history if its maker gave it no words: the keys that it touches."""
    keys = dict.fromkeys(".".join(str(step) for step in edit.path if isinstance(step, str)) for edit in edits)
    return ("Change " + ", ".join(keys))[:200]


def _told(checks: list[Json]) -> set[tuple[str, str]]:
    """What is not fine: each check with its verdict."""
    return {(check["check_id"], check["verdict"]) for check in checks if check["verdict"] != "fine"}


def _no_plan(outcome: NoPlan) -> Json:
    return {"stage": outcome.stage, "reason": outcome.reason, "remedy": outcome.remedy}

// What lies on the board: one piece, its plan, and what the maker is doing with it. All thinking is the server's.
import { untrack } from "svelte"
import { answerIn, ask, nothing, Refused, tell, type Refusal } from "../api/client"
import type {
  Answer,
  Edit,
  Fix,
  NoPlan,
  Piece,
  PieceRow,
  PieceWhole,
  PlanView,
  Session,
  Tried,
  Unit,
} from "../api/types"
import { words } from "../words"
import { recall, keep } from "./keep"

export interface Conflict {
  theirs_n: number
  mine_n: number | null
}

/** Remedies are asked for when a maker pauses. */
const PAUSE_MS = 600

class Board {
  #whole: PieceWhole | null = null
  session = $state.raw<Session | null>(null)
  pieces = $state.raw<PieceRow[]>([])
  piece = $state.raw<Piece | null>(null)
  plan = $state.raw<PlanView | null>(null)
  noPlan = $state.raw<NoPlan | null>(null)
  refusal = $state.raw<Refusal | null>(null)
  conflict = $state.raw<Conflict | null>(null)
  /** what a screen reader is told; changes are spoken */
  said = $state("")
  /** calls on their way that change the piece */
  busy = $state(0)
  /** a number of the check to be shown, and how often that was asked */
  shown = $state.raw<{ check_id: string; times: number } | null>(null)
  unit = $state<Unit | null>(null)
  picked = $state<number | null>(null)
  /** remedies that the server has tried, by the check that they heal */
  fixes = $state.raw<ReadonlyMap<string, Fix>>(new Map())
  #asking: AbortController | null = null
  #last: Promise<unknown> = Promise.resolve()

  get base(): string {
    return `/api/pieces/${this.piece?.piece_id ?? ""}`
  }

  async begin(): Promise<void> {
    const unit = recall("unit")
    if (unit === "mm" || unit === "in") this.setUnit(unit)
    await this.guard(async () => {
      this.session = await ask<Session>("/api/session")
      this.pieces = await ask<PieceRow[]>("/api/pieces")
      const last = recall("piece")
      const here = this.pieces.filter((row) => !row.discarded)
      const chosen =
        here.find((row) => row.piece_id === last)?.piece_id ?? this.session.example_open ?? here[0]?.piece_id
      if (chosen) await this.open(chosen)
    })
  }

  async open(piece_id: string): Promise<void> {
    await this.guard(async () => {
      const answer = await ask<Answer>(`/api/pieces/${piece_id}/plan`)
      this.picked = null
      this.take(answer)
      keep("piece", piece_id)
    })
  }

  async list(): Promise<void> {
    await this.guard(async () => {
      this.pieces = await ask<PieceRow[]>("/api/pieces")
    })
  }

  /** Save a change. True when it was accepted. */
  change(edits: Edit[], said: string): Promise<boolean> {
    return this.post("changes", { edits, words: said }, said)
  }

  fix(fix_id: string, said: string): Promise<boolean> {
    return this.post("fixes", { fix_id }, said)
  }

  undo(): Promise<boolean> {
    const said = words.changes.tookBack(this.piece?.undo_words ?? "")
    return this.post("undo", {}, said)
  }

  redo(): Promise<boolean> {
    const said = words.changes.didAgain(this.piece?.redo_words ?? "")
    return this.post("redo", {}, said)
  }

  restore(revision_n: number, said: string): Promise<boolean> {
    return this.post("restore", { revision_n }, said)
  }

  /** After a conflict: go on with what somebody else saved. */
  async takeTheirs(): Promise<void> {
    this.conflict = null
    if (this.piece) await this.open(this.piece.piece_id)
  }

  /** After a conflict: put the refused change, which was kept, on top of theirs. */
  async putMineOnTop(): Promise<void> {
    const { conflict, piece } = this
    this.conflict = null
    if (!conflict || conflict.mine_n === null || !piece) return
    await this.open(piece.piece_id)
    await this.restore(conflict.mine_n, words.conflict.mineWords)
  }

  show(check_id: string): void {
    this.shown = { check_id, times: (this.shown?.times ?? 0) + 1 }
  }

  say(text: string): void {
    // The same words twice would not be spoken twice.
    this.said = text === this.said ? `${text}\u200b` : text
  }

  async switchUnit(unit: Unit): Promise<void> {
    this.setUnit(unit)
    keep("unit", unit)
    const id = this.piece?.piece_id
    if (id) await this.guard(async () => this.take(await ask<Answer>(`/api/pieces/${id}/plan`)))
  }

  /** The piece with its brief, as it stands now. */
  async whole(): Promise<PieceWhole> {
    const kept = this.#whole
    if (kept && kept.piece_id === this.piece?.piece_id && kept.revision_n === this.piece.revision_n)
      return kept
    this.#whole = await ask<PieceWhole>(this.base)
    return this.#whole
  }

  /** What would break if these edits were made; nothing is saved. Null when the edits are refused outright. */
  async attempt(edits: Edit[], signal?: AbortSignal): Promise<Tried | null> {
    try {
      const tried = await tell<Tried>(
        `${this.base}/try`,
        { base_revision_n: this.piece?.revision_n, edits },
        signal,
      )
      if (tried.faults.length === 0) return tried
      this.refusal = { ...nothing, status: 422, faults: tried.faults }
      return null
    } catch (error) {
      if (error instanceof DOMException && error.name === "AbortError") return null
      this.refused(error)
      return null
    }
  }

  take(answer: Answer): void {
    const samePiece = answer.piece.piece_id === this.piece?.piece_id
    const count = answer.plan?.blocks.x_mm.length ?? 0
    if (!samePiece || (this.picked !== null && this.picked >= count)) this.picked = null
    this.piece = answer.piece
    this.plan = answer.plan
    this.noPlan = answer.no_plan
    this.refusal = null
    this.askFixes()
  }

  // Trying remedies takes the server a moment, so they follow the plan instead of holding it up.
  private askFixes(): void {
    this.#asking?.abort()
    this.fixes = new Map()
    const { piece, plan } = this
    if (!piece || !plan?.checks.some((check) => check.verdict !== "fine")) return
    const asking = (this.#asking = new AbortController())
    const { signal } = asking
    const path = `${this.base}/fixes?revision_n=${piece.revision_n}`
    setTimeout(() => {
      if (signal.aborted) return
      ask<Fix[]>(path, signal).then(
        (found) => {
          if (!signal.aborted) this.fixes = new Map(found.map((fix) => [fix.check_id, fix]))
        },
        () => {
          // A note without a remedy in one press still says in words what to do.
        },
      )
    }, PAUSE_MS)
  }

  private setUnit(unit: Unit): void {
    this.unit = unit
    answerIn(unit)
  }

  /** Busy until this is done, all of it: what is asked first and what is saved then. */
  async during<T>(work: () => Promise<T>): Promise<T> {
    untrack(() => this.busy++)
    try {
      return await work()
    } finally {
      this.busy--
    }
  }

  // One after the other: what is typed while a call is on its way stands on that call's answer.
  private post(verb: string, body: object, said: string): Promise<boolean> {
    const mine = this.#last.then(() => this.#post(verb, body, said))
    this.#last = mine
    return this.during(() => mine)
  }

  async #post(verb: string, body: object, said: string): Promise<boolean> {
    try {
      const answer = await tell<Answer>(`${this.base}/${verb}`, {
        base_revision_n: this.piece?.revision_n,
        ...body,
      })
      this.take(answer)
      this.say(said)
      return true
    } catch (error) {
      this.refused(error)
      return false
    }
  }

  /** Run a call and keep its refusal where the page shows it. */
  async guard(work: () => Promise<void>): Promise<void> {
    // Sheets call this in effects, which must not run again because a call began.
    try {
      await this.during(() => untrack(work))
    } catch (error) {
      this.refused(error)
    }
  }

  private refused(error: unknown): void {
    if (!(error instanceof Refused)) throw error
    const { refusal } = error
    if (refusal.status === 409 && refusal.theirs_revision_n !== null) {
      this.conflict = { theirs_n: refusal.theirs_revision_n, mine_n: refusal.mine_revision_n }
      return
    }
    this.refusal = refusal
  }
}

export const board = new Board()
